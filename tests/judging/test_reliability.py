"""How repeatable swings are, and what cannot be said of too few of them."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.judging.reliability import (
    bland_altman,
    icc_one_way,
    mean_squares,
    spread,
    standard_error_of_measurement,
)

values = st.integers(-900, 900).map(lambda tenths: tenths / 10)
lessons = st.lists(st.lists(values, min_size=2, max_size=6), min_size=2, max_size=6)


def test_swings_that_differ_only_from_lesson_to_lesson_correlate_fully():
    assert icc_one_way([[50, 50, 50], [60, 60], [70, 70, 70, 70]]) == pytest.approx(1)


def test_lessons_that_differ_by_less_than_chance_correlate_below_zero():
    assert icc_one_way([[40, 60], [60, 40], [50, 50]]) < 0


def test_where_nothing_varies_nothing_correlates():
    assert icc_one_way([[50, 50], [50, 50]]) == 0


@pytest.mark.parametrize("groups", [[], [[50, 51]], [[50], [51], [52]], [[50, 51], []]])
def test_too_few_swings_say_nothing_of_repeatability(groups):
    with pytest.raises(ValueError, match="two groups"):
        mean_squares(groups)


@given(lessons)
def test_the_share_between_lessons_is_at_most_all_of_it(groups):
    assert icc_one_way(groups) <= 1 + 1e-9


@given(lessons, st.floats(-100, 100), st.floats(0.1, 10))
def test_the_error_has_the_unit_of_the_values_and_no_zero_point(groups, shift, scale):
    moved = [[shift + scale * value for value in group] for group in groups]
    assert standard_error_of_measurement(moved) == pytest.approx(
        scale * standard_error_of_measurement(groups), rel=1e-6, abs=1e-6
    )


def test_with_lessons_of_different_size_the_share_between_them_is_still_found():
    """Lessons 4 apart and swings 2 apart, as standard deviations: 16 / (16 + 4) of the variance is between lessons."""
    draw = Random(1)
    groups = []
    for _ in range(800):
        level = draw.gauss(50, 4)
        groups.append([draw.gauss(level, 2) for _ in range(draw.randint(1, 6))])
    assert icc_one_way(groups) == pytest.approx(0.8, abs=0.03)
    assert standard_error_of_measurement(groups) == pytest.approx(2, abs=0.1)


@given(st.lists(st.tuples(values, values), min_size=2, max_size=20))
def test_ways_changed_over_change_the_sign_of_their_difference(pairs):
    there, back = bland_altman(pairs), bland_altman([(second, first) for first, second in pairs])
    assert there.bias == pytest.approx(-back.bias, abs=1e-9)
    assert there.limits == pytest.approx((-back.limits[1], -back.limits[0]), abs=1e-9)


def test_one_pair_says_nothing_of_agreement():
    with pytest.raises(ValueError, match="at least two"):
        bland_altman([(50, 52)])


@pytest.mark.parametrize("swings", [2, 3, 10, 40])
def test_the_spread_has_the_chi_square_interval(swings):
    from scipy.stats import chi2

    draw = Random(swings)
    found = spread([draw.gauss(40, 1) for _ in range(swings)])
    low, high = (found.sd * ((swings - 1) / chi2.ppf(p, swings - 1)) ** 0.5 for p in (0.975, 0.025))
    assert found.interval == pytest.approx((low, high))
    assert found.swings == swings


@pytest.mark.parametrize("swings", [3, 8])
def test_the_interval_of_a_spread_holds_the_true_one_19_times_in_20(swings):
    draw, runs = Random(2), 4000
    found = [spread([draw.gauss(40, 1.5) for _ in range(swings)]).interval for _ in range(runs)]
    assert 0.94 <= sum(low <= 1.5 <= high for low, high in found) / runs <= 0.96


def test_one_swing_has_no_spread():
    with pytest.raises(ValueError, match="at least two"):
        spread([40])
