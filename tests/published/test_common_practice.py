"""Rules of thumb of the trade, through the whole program with the library that it ships.

The figures are common practice, no source: hips about 45° closed at the top and about 45° open at impact; 75° to 80°
open at impact is a lot; the trail hip settles half an inch to an inch (1.3 to 2.5 cm) toward the ankle.
"""

import pytest

from tests.judging.academies import finding_of, one, reading

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


def test_a_trail_hip_that_settles_three_quarters_of_an_inch_is_in_range(tmp_path):
    assert finding(tmp_path, "trail-hip-load", 0.75, "in", u=CERTAIN_CM / 2.54).verdict == "in range"


@pytest.mark.parametrize("limit", [1.3, 2.5])
def test_on_the_very_limit_of_the_trail_hip_the_verdict_is_left_open(tmp_path, limit):
    found = finding(tmp_path, "trail-hip-load", limit, "cm", u=CERTAIN_CM)
    assert found.probability == pytest.approx(0.5, abs=1e-9)
    assert (found.verdict, found.likelihood) == ("too close to call", "about as likely as not")


@pytest.mark.parametrize(("load", "verdict"), [(1.0, "below range"), (2.8, "above range")])
def test_a_trail_hip_outside_the_rule_of_thumb_is_told_on_its_side(tmp_path, load, verdict):
    assert finding(tmp_path, "trail-hip-load", load, "cm", u=CERTAIN_CM).verdict == verdict


def test_45_degrees_by_eye_are_too_close_to_call_and_the_finding_says_why(tmp_path):
    """By eye a turn is known to 12° (standard uncertainty): no value at all can be told to be within 20°."""
    found = finding(tmp_path, "pelvis-open-impact", 45, how="by-eye")
    assert (found.verdict, found.likelihood) == ("too close to call", "more likely than not")
    assert found.too_coarse


def test_75_degrees_by_eye_are_still_above_the_range(tmp_path):
    assert finding(tmp_path, "pelvis-open-impact", 75, how="by-eye").verdict == "above range"


@pytest.mark.parametrize("how", ["by-eye", "still"])
def test_a_trail_hip_by_eye_or_from_a_picture_cannot_be_told_to_be_in_range(tmp_path, how):
    found = finding(tmp_path, "trail-hip-load", 1.9, "cm", how=how)
    assert found.verdict == "too close to call"
    assert found.too_coarse
