"""Typed readings: units, the error of one value and of a mean of swings, and whose figure of it counts."""

from math import sqrt
from statistics import stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.measuring.typed import mean_and_sd, typed_reading
from reportgen.records.lesson import TypedReading
from tests.judging.academies import library

HIPS = library().metrics["pelvis-open-impact"]
SPEED = library().metrics["clubhead-speed"]
LOAD = library().metrics["trail-hip-load"]
swings = st.lists(st.floats(20, 60).map(lambda v: round(v, 1)), min_size=2, max_size=9)


def read(metric=HIPS, unit="deg", how="sensor", **written):
    return typed_reading(TypedReading(metric=metric.id, unit=unit, how=how, **written), metric)


@pytest.mark.parametrize(("how", "views", "u"), [("by-eye", 1, 12), ("still", 1, 8), ("still", 2, 5), ("sensor", 1, 3)])
def test_one_value_has_the_metrics_error_for_the_way_it_was_taken(how, views, u):
    found = read(value=45, how=how, views=views)
    assert (found.value, found.u, found.dof, found.swings) == (45, u, None, ())


def test_the_devices_own_error_wins():
    assert read(value=45, u=1.5).u == 1.5


def test_the_devices_own_error_is_enough_where_the_metric_has_none():
    assert read(SPEED, "m/s", "by-eye", value=40, u=4).u == 4


def test_without_any_figure_for_the_error_there_is_no_reading():
    with pytest.raises(ValueError, match="clubhead-speed has no uncertainty"):
        read(SPEED, "m/s", "by-eye", value=40)


def test_value_error_and_swings_are_turned_into_the_metrics_unit():
    """1 mile an hour is 0.44704 m/s by definition."""
    one, several = read(SPEED, "mph", value=90, u=1.5), read(SPEED, "mph", trials=(88, 92), u=1.5)
    assert (one.value, one.u) == pytest.approx((40.2336, 0.67056), rel=1e-12)
    assert several.swings == pytest.approx((39.33952, 41.12768), rel=1e-12)
    assert several.value == pytest.approx(one.value, rel=1e-12)


def test_the_metrics_own_error_is_not_converted_with_the_reading():
    assert read(LOAD, "in", value=0.75).u == LOAD.uncertainty.sensor


def test_zero_is_a_value():
    assert read(value=0.0).value == 0


@given(swings, st.floats(0.1, 10))
def test_the_error_of_a_mean_is_what_all_swings_share_and_their_spread_over_root_n(trials, u):
    found = read(trials=tuple(trials), u=u)
    assert found.u == pytest.approx(sqrt(u**2 + stdev(trials) ** 2 / len(trials)), rel=1e-9)
    assert found.u >= u


@given(swings, st.floats(0.1, 10))
def test_degrees_of_freedom_are_those_of_welch_and_satterthwaite_with_a_larger_share_of_the_swings(trials, u):
    """JCGM 100:2008, G.4.1: ν = u⁴ / Σ uᵢ⁴/νᵢ, the device's figure taken as exact."""
    found, free = read(trials=tuple(trials), u=u), len(trials) - 1
    if len(set(trials)) == 1:
        assert found.dof is None
    else:
        large = stdev(trials) ** 2 / len(trials) * (1 + 6 / free)
        assert found.dof == pytest.approx((u**2 + large) ** 2 / (large**2 / free), rel=1e-6)
        assert found.dof >= free


def test_a_steady_error_does_not_average_out():
    assert read(trials=(45.0,) * 50, u=3).u == 3


@given(swings, st.floats(0.5, 5))
def test_the_order_of_the_swings_does_not_matter(trials, u):
    there, back = read(trials=tuple(trials), u=u), read(trials=tuple(trials[::-1]), u=u)
    assert (there.value, there.u) == (back.value, back.u)


@given(swings, st.integers(-(10**9), 10**9))
def test_a_common_offset_moves_the_mean_and_leaves_the_spread(trials, offset):
    mean, sd = mean_and_sd(tuple(trials))
    moved = mean_and_sd(tuple(value + offset for value in trials))
    assert moved == pytest.approx((mean + offset, sd), rel=1e-12, abs=1e-6)


def test_one_value_has_no_standard_deviation():
    with pytest.raises(ValueError, match="at least two"):
        mean_and_sd((45.0,))
