"""The player's own scatter of swings and days in the place of the usual one. All seeds are fixed."""

from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest

from reportgen.judging.course import course
from reportgen.judging.covariance import POOLED, Taken
from reportgen.judging.scatter import days_seen, own_scatter_of, pooled, swings_seen, with_own_scatter
from reportgen.measuring.player import of_player
from reportgen.measuring.typed import typed_reading
from reportgen.records.content import Scatter
from reportgen.records.findings import Parts, Reading
from reportgen.records.lesson import TypedReading
from tests.bench.measuring import METRICS
from tests.judging.seasons import parts_of, season

PELVIS = METRICS["pelvis-open-impact"]
USUAL = Scatter(swing=3, day=2, source="own")


def typed(*swings, u=0.1):
    """A lesson's reading, exact but for the swings."""
    return typed_reading(
        TypedReading(metric=PELVIS.id, trials=swings, unit="deg", how="sensor", u=u),
        PELVIS.model_copy(update={"scatter": USUAL}),
    )


def by_day(values, u=0.01):
    """Readings of single swings that are alike, so that days alone make them differ."""
    parts = Parts(visit=u, player=2.0)
    return [Reading(metric="x", value=value, u=u, how="sensor", parts=parts) for value in values]


def pairs(readings):
    return list(pairwise(readings))


def test_swings_that_nothing_blurs_are_seen_as_they_are():
    found = swings_seen([typed(40, 42, 44), typed(50, 50, 56)], USUAL)
    assert (found.variance, found.dof, found.lessons) == (pytest.approx((4 + 12) / 2), pytest.approx(4), 2)


def test_what_click_and_still_make_is_no_scatter_of_the_player():
    """A variance of 9 between swings, of which the pictures make all but 4; so it has fewer degrees of freedom."""
    swings = (37.0, 40.0, 43.0)
    parts = Parts(still=(5 / 3) ** 0.5, swing=(4 / 3) ** 0.5)
    found = swings_seen([Reading(metric="x", value=40, u=2, how="still", swings=swings, parts=parts)], USUAL)
    assert found.variance == pytest.approx(4)
    assert found.dof == pytest.approx(2 * (9 / (9 + 5)) ** 2)


def test_single_swings_show_no_scatter():
    assert swings_seen(by_day([40, 50]), USUAL) == (0, 0, 0)


def test_days_that_nothing_blurs_are_seen_as_they_are():
    usual = USUAL.model_copy(update={"day": 2.0})
    readings = by_day([40, 44, 40, 44, 40])
    found = days_seen(pairs(readings), usual)
    assert found.variance == pytest.approx(16 / 2, rel=0.01)
    assert found.dof == pytest.approx(4 * 2 / 3, rel=0.01)


def test_one_wild_lesson_does_not_make_the_days_wild():
    calm, wild = days_seen(pairs(by_day([40, 42, 40])), USUAL), days_seen(pairs(by_day([40, 42, 400])), USUAL)
    assert wild.variance < calm.variance + 2.5**2 * 2**2


def test_where_measuring_drowns_the_player_the_usual_figure_stays():
    blurred = [one.model_copy(update={"parts": Parts(visit=30.0, player=2.0)}) for one in by_day([40, 44, 40, 44, 40])]
    assert own_scatter_of(blurred, USUAL).day == pytest.approx(2, rel=0.01)


def test_the_own_scatter_grows_into_the_place_of_the_usual_one():
    """Swings with a standard deviation of 6 where 3 is usual; ν = 2 a lesson against POOLED."""
    lesson = typed(40, 46, 52)
    for count in (1, 5, 40):
        swing = own_scatter_of([lesson] * count, USUAL).swing
        assert swing**2 == pytest.approx((POOLED * 9 + 2 * count * 36) / (POOLED + 2 * count))


def test_a_steady_player_has_less_scatter_than_usual():
    assert own_scatter_of([typed(40, 41, 42)] * 14, USUAL).swing < 2


def test_pooled_with_nothing_seen_is_the_usual_figure():
    assert pooled(3.0, swings_seen([], USUAL)) == 3


def test_the_player_part_of_every_lesson_is_their_own():
    """Six swings of a day, then one: how far the mean of the day can be from what the player usually does."""
    days = [date(2026, 1, 1) + timedelta(weeks=week) for week in range(15)]
    readings = [typed(*range(40, 46))] * 14 + [typed_reading(
        TypedReading(metric=PELVIS.id, value=42, unit="deg", how="sensor", u=0.1), PELVIS)]  # fmt: skip
    metric = PELVIS.model_copy(update={"scatter": USUAL})
    own = own_scatter_of(readings, USUAL)
    last = with_own_scatter([Taken(*one) for one in zip(days, readings, strict=True)], metric)[-1]
    assert last.reading.parts.player == pytest.approx((own.day**2 + own.swing**2) ** 0.5)
    assert own.swing < 3


def test_without_a_usual_scatter_nothing_is_learnt():
    taken = [Taken(date(2026, 1, day), reading) for day, reading in enumerate(by_day([40, 60]), 1)]
    assert with_own_scatter(taken, METRICS["tempo-ratio"]) == taken


def test_a_first_lesson_has_the_usual_scatter():
    taken = [Taken(date(2026, 1, 1), typed(40, 60))]
    assert with_own_scatter(taken, PELVIS) == taken


# the same bars as in test_course


def three_swings(lessons, metric, random):
    """The lessons with three swings each, which differ as declared."""
    found = []
    for one in lessons:
        parts = one.reading.parts
        blurred = 3 * (parts.still**2 + parts.clock**2)
        swings = random.normal(0, (metric.scatter.swing**2 + blurred) ** 0.5, 3)
        swings += one.reading.value - swings.mean()
        swing = (max(0.0, np.var(swings, ddof=1) - blurred) / 3) ** 0.5
        parts = parts.model_copy(update={"swing": swing, "player": of_player(metric.scatter, 3, swing)})
        reading = one.reading.model_copy(update={"swings": tuple(map(float, swings)), "parts": parts})
        found.append(one._replace(reading=reading))
    return found


def test_with_their_own_scatter_a_page_of_a_player_who_does_not_change_hardly_ever_says_has_moved():
    random, pages, false = np.random.default_rng(3), 0, 0
    for _ in range(30):
        lessons = [
            (METRICS[name], three_swings(season(parts, np.zeros(14), random, kept=False), METRICS[name], random))
            for name, parts in parts_of(3).items()
        ]
        for last in range(3, 15):
            said = [
                course(with_own_scatter(one[:last], metric), None, in_focus=k < 3).rung
                for k, (metric, one) in enumerate(lessons)
            ]
            pages, false = pages + 1, false + ("has moved" in said)
    assert false / pages <= 0.02


def test_with_their_own_scatter_a_pelvis_that_turns_less_by_20_degrees_is_found_by_lesson_12():
    random, parts = np.random.default_rng(5), parts_of(3)["pelvis-open-impact"]
    seasons = [season(parts, np.linspace(0, -20, 14), random, kept=True) for _ in range(300)]
    filled = [three_swings(lessons, PELVIS, random) for lessons in seasons]
    found = [course(with_own_scatter(one[:12], PELVIS), None, in_focus=True).rung == "has moved" for one in filled]
    assert np.mean(found) >= 0.88
