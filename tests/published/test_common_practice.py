"""Rules of thumb of the trade, through the whole program with the library that it ships.

The figures are common practice, no source: hips about 45° closed at the top and about 45° open at impact; 75° to 80°
open at impact is a lot; the trail hip settles half an inch to an inch (1.3 to 2.5 cm) toward the ankle.
"""

from datetime import date, timedelta

import pytest

from tests.judging.academies import finding_of, judged, one, reading, sheet

CERTAIN_DEG = 1.0
CERTAIN_CM = 0.1


def finding(root, metric, value, unit="deg", how="sensor", u=None):
    return finding_of(one(root, reading(metric, value, unit, how, u)), metric)


@pytest.mark.parametrize("metric", ["pelvis-closed-top", "pelvis-open-impact"])
def test_hips_at_45_degrees_are_in_range(tmp_path, metric):
    found = finding(tmp_path, metric, 45, u=CERTAIN_DEG)
    assert (found.verdict, found.likelihood) == ("in range", "virtually certain")


@pytest.mark.parametrize("open_by", [75, 77.5, 80])
def test_hips_75_to_80_degrees_open_at_impact_are_above_the_range(tmp_path, open_by):
    found = finding(tmp_path, "pelvis-open-impact", open_by, u=CERTAIN_DEG)
    assert (found.verdict, found.likelihood) == ("above range", "exceptionally unlikely")


def test_45_degrees_by_eye_are_not_judged_and_the_finding_says_why(tmp_path):
    """By eye a turn is known to 12° (standard uncertainty): no value at all can be told to be within 20°."""
    found = finding(tmp_path, "pelvis-open-impact", 45, how="by-eye")
    assert (found.verdict, found.too_coarse) == ("not judged", True)


def test_a_trail_hip_that_settles_as_far_as_the_rule_of_thumb_has_it_is_in_a_range_that_pictures_can_tell(tmp_path):
    """A player's own swings differ by 0.8 cm and the rule of thumb is 1.2 cm wide: the range is wider on both sides."""
    found = finding(tmp_path, "trail-hip-load", 1.9, "cm", how="sensor")
    assert (found.verdict, found.too_coarse) == ("in range", False)
    assert (found.band.low, found.band.high) == (-1, 4)


@pytest.mark.parametrize(
    ("settles", "verdict"),
    [(1.9, "in range"), (-0.9, "too close to call"), (-2.0, "below range"), (5.0, "above range")],
)
def test_a_season_of_lessons_can(tmp_path, settles, verdict):
    days = [date(2026, 1, 8) + timedelta(weeks=week) for week in range(14)]
    lessons = {str(day): sheet(reading("trail-hip-load", settles, "cm", u=CERTAIN_CM)) for day in days}
    assert finding_of(judged(tmp_path, lessons)[-1], "trail-hip-load").verdict == verdict
