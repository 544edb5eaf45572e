"""Where a player is by all lessons, and how often a verdict of that is wrong. All seeds are fixed."""

import numpy as np
import pytest

from reportgen.judging.covariance import Taken
from reportgen.judging.level import level
from reportgen.records.findings import BandUsed, Parts, Reading
from tests.bench.measuring import METRICS
from tests.judging.seasons import DAYS, called, found_outside, parts_of, said_outside, season

PELVIS = METRICS["pelvis-open-impact"]
BAND = BandUsed(band="adults", low=35, high=55, basis="common practice")


def stands(values, band=BAND, stands=(), markers=(), dof=None, **parts):
    readings = [
        Reading(metric="x", value=value, u=4, dof=dof, how="still", parts=Parts(**{"visit": 4.0, **parts}),
                stand=stands[k] if stands else None, marked_by=markers[k] if markers else None)
        for k, value in enumerate(values)
    ]  # fmt: skip
    return level([Taken(day, one) for day, one in zip(DAYS, readings, strict=False)], PELVIS, band)


def test_one_lesson_is_its_value():
    found = stands([42])
    assert (found.value, found.u, found.lessons, found.since) == (42, 4, 1, DAYS[0])


def test_one_lesson_says_less_of_the_player_than_of_the_day():
    assert stands([42], player=3.0).u == pytest.approx(5)


def test_the_latest_lessons_count_most():
    falling, rising = stands([50, 48, 46, 44, 42, 40]), stands([40, 42, 44, 46, 48, 50])
    assert falling.value < 45 < rising.value
    assert (falling.value + rising.value) / 2 == pytest.approx(45)


def test_more_lessons_make_surer():
    us = [stands([45] * count).u for count in (1, 2, 4, 8)]
    assert us == sorted(us, reverse=True)


def test_an_odd_lesson_moves_the_level_by_less_than_half():
    assert 45 < stands([45] * 6 + [60]).value < 52.5


def test_a_player_who_scatters_more_than_is_stated_has_a_less_sure_level():
    assert stands([75, 33]).u > 1.5 * stands([55, 53]).u


def test_a_player_who_keeps_moving_is_not_lagged_behind():
    values = list(range(80, 52, -2))
    readings = [Reading(metric="x", value=v, u=2, how="still", parts=Parts(visit=2.0)) for v in values]
    lessons = [Taken(day, one) for day, one in zip(DAYS, readings, strict=True)]
    assert level(lessons, PELVIS, BAND).value > 55.5
    assert level(lessons, PELVIS, BAND, moving=True).value == pytest.approx(54)


def test_a_stand_that_is_kept_does_not_average_out_and_one_put_up_anew_does():
    kept = stands([45] * 6, stands=["hall"] * 6, camera=4.0)
    anew = stands([45] * 6, camera=4.0)
    assert kept.u > anew.u


def test_another_markers_habit_averages_out_too():
    assert stands([45] * 4, markers=[None, "Ada", None, "Ada"], habit=4.0).u < stands([45] * 4, habit=4.0).u


def test_a_mean_of_few_swings_counts_less_than_its_u_says():
    assert stands([45], dof=2.0).u > stands([45]).u


def test_without_a_range_a_level_wanders_as_the_player_scatters():
    assert stands([50, 40], None).value == pytest.approx(stands([50, 40], BAND).value, abs=1)


# how often, over a season


def test_out_of_range_is_seldom_said_falsely():
    """Players whose true values scatter about the middle of their ranges by 0.6 of the half width; one marked swing a
    lesson, the stand put up anew, lessons 8 to 14."""
    pages, of_all = said_outside(150, seed=9)
    assert pages <= 0.12
    assert of_all <= 0.20


def test_what_is_out_by_half_a_half_width_is_found():
    """The same players, of whom only those are drawn who are out by so much; ranges that only stand beside the value
    are left out."""
    assert found_outside(200, seed=13) >= 0.73


def test_a_range_as_narrow_as_the_trades_for_the_trail_hip_is_shown_and_not_judged_from_marks():
    band = BAND.model_copy(update={"low": 1.3, "high": 2.5})
    lessons = season(parts_of(1)["trail-hip-load"], np.full(14, 1.9), np.random.default_rng(1), kept=True)
    assert called(lessons, "trail-hip-load", band) is None
