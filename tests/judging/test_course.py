"""What became of a metric over the lessons: how often it is said falsely, and how soon truly. All seeds are fixed."""

import pytest

from reportgen.judging.course import course, fitted
from reportgen.judging.covariance import Taken
from reportgen.records.findings import BandUsed, Parts, Reading
from tests.judging.seasons import DAYS, found_moving, said_moved_falsely

BAND = BandUsed(band="adults", low=35, high=55, basis="common practice")


def taken(values, u=4.0, stands=None, marked_by=None):
    stands = stands or [None] * len(values)
    parts = Parts(visit=u)
    return [
        Taken(day, Reading(metric="x", value=value, u=u, how="still", parts=parts, stand=stand, marked_by=marked_by))
        for day, value, stand in zip(DAYS, values, stands, strict=False)
    ]


def test_two_days_are_no_course():
    assert course(taken([60, 20]), BAND, in_focus=True) is None


def test_three_lessons_of_two_days_are_none_either():
    same_day = [*taken([60, 50]), taken([20, 20])[1]]
    assert course(same_day, BAND, in_focus=True) is None


def test_a_straight_line_is_found_as_it_is():
    found = course(taken([80, 75, 70, 65, 60], u=0.5), BAND, in_focus=False)
    assert (found.by, found.lessons, found.since) == (pytest.approx(-20), 5, DAYS[0])
    assert (found.rung, found.movement) == ("has moved", "moved toward the range")


def test_a_line_out_of_the_range_moves_away_from_it():
    found = course(taken([50, 55, 60, 65], u=0.5), BAND, in_focus=False)
    assert found.movement == "moved away from the range"


def test_without_a_range_a_course_is_a_change():
    assert course(taken([50, 55, 60, 65], u=0.5), None, in_focus=False).movement == "changed"


def test_what_may_be_chance_is_said_of_the_metrics_in_focus_alone():
    values = [60, 58, 54, 52, 49]
    assert course(taken(values), BAND, in_focus=True).rung == "seems to be moving"
    assert course(taken(values), BAND, in_focus=False).rung == "no change we can see"


def test_one_wild_lesson_does_not_turn_the_line():
    calm = [60, 58, 56, 54, 52, 50, 48]
    wild = [60, 58, 56, 95, 52, 50, 48]
    assert fitted(taken(wild, u=2)).end == pytest.approx(fitted(taken(calm, u=2)).end, abs=2)


def test_a_step_where_another_stand_begins_is_no_change_of_the_player():
    def stood(stands):
        parts = Parts(camera=5.0, visit=1.0)
        readings = [Reading(metric="x", value=v, u=5.1, how="still", parts=parts, stand=stand)
                    for v, stand in zip([50, 50, 50, 40, 40, 40], stands, strict=True)]  # fmt: skip
        return course([Taken(day, r) for day, r in zip(DAYS, readings, strict=False)], None, in_focus=False)

    assert stood(["hall"] * 3 + ["garden"] * 3).rung == "no change we can see"
    assert stood(["hall"] * 6).rung == "has moved"


def test_another_marker_brings_a_step_too():
    parts = Parts(habit=5.0, visit=1.0)
    readings = [
        Reading(metric="x", value=v, u=5.1, how="still", parts=parts, marked_by=who)
        for v, who in zip([50, 50, 50, 40, 40, 40], [None] * 3 + ["Ada"] * 3, strict=True)
    ]
    lessons = [Taken(day, r) for day, r in zip(DAYS, readings, strict=False)]
    assert course(lessons, None, in_focus=False).rung == "no change we can see"


def test_a_player_who_scatters_more_than_is_stated_has_wider_lines():
    calm, wild = fitted(taken([50, 51, 50, 51, 50, 51])), fitted(taken([40, 60, 40, 60, 40, 60]))
    assert wild.u > 1.3 * calm.u


# how often, over a season


def test_a_page_of_a_player_who_does_not_change_hardly_ever_says_that_something_has_moved():
    assert said_moved_falsely(60, seed=3) <= 0.02


def test_a_pelvis_that_turns_less_by_20_degrees_over_a_season_is_said_to_have_moved_by_lesson_12():
    assert found_moving(300, seed=5) >= 0.88
