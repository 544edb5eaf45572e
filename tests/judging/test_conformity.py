"""Properties of conformity: what must hold for every value, uncertainty and range."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from reportgen.judging.conformity import chances, given_the_range, interval, too_coarse, verdict

values = st.floats(-200, 200)
us = st.floats(0.01, 50)
widths = st.floats(0.1, 100)
few_or_many = st.none() | st.floats(1, 1e6)
certainties = st.floats(0.5, 0.999)
limits = st.tuples(values, widths, st.sampled_from(["both", "low", "high"])).map(
    lambda drawn: (None if drawn[2] == "high" else drawn[0], None if drawn[2] == "low" else drawn[0] + drawn[1])
)
ROUNDING = 1e-12


@given(values, us, limits, few_or_many)
def test_the_chances_add_up_to_one(value, u, band, dof):
    found = chances(value, u, *band, dof)
    assert found.below + found.inside + found.above == pytest.approx(1, abs=ROUNDING)
    assert all(-ROUNDING <= p <= 1 + ROUNDING for p in (found.below, found.inside, found.above))


@given(values, st.floats(0, 50), us, limits, few_or_many)
def test_a_greater_value_is_never_more_likely_below_and_never_less_likely_above(value, more, u, band, dof):
    first, second = chances(value, u, *band, dof), chances(value + more, u, *band, dof)
    assert second.below <= first.below + ROUNDING
    assert second.above >= first.above - ROUNDING


@given(us, values, widths, st.floats(0, 100), st.floats(0, 100), few_or_many)
def test_nearer_the_middle_is_never_less_likely_inside(u, low, width, near, further, dof):
    middle, near, far = low + width / 2, min(near, further), max(near, further)
    assert (
        chances(middle + near, u, low, low + width, dof).inside
        >= chances(middle + far, u, low, low + width, dof).inside - ROUNDING
    )


@given(values, us, values, widths, st.floats(0, 50), st.floats(0, 50), few_or_many)
def test_a_wider_range_never_makes_inside_less_likely(value, u, low, width, down, up, dof):
    narrow = chances(value, u, low, low + width, dof).inside
    assert chances(value, u, low - down, low + width + up, dof).inside >= narrow - ROUNDING
    assert chances(value, u, low - down, None, dof).inside >= narrow - ROUNDING
    assert chances(value, u, None, low + width + up, dof).inside >= narrow - ROUNDING


@given(values, us, limits, few_or_many)
def test_up_and_down_are_treated_alike(value, u, band, dof):
    low, high = band
    found = chances(value, u, low, high, dof)
    turned = chances(-value, u, None if high is None else -high, None if low is None else -low, dof)
    assert (turned.below, turned.inside, turned.above) == pytest.approx(
        (found.above, found.inside, found.below), abs=ROUNDING
    )


@given(values, widths, st.sampled_from([0.0, 1.0]), few_or_many)
def test_the_limit_itself_belongs_half_inside_however_small_the_uncertainty(low, width, end, dof):
    high = low + width
    on_limit = high if end else low
    assert chances(on_limit, 1e-9, low, high, dof).inside == pytest.approx(0.5, abs=1e-6)


@given(values, widths, st.floats(0.001, 0.999))
def test_without_uncertainty_to_speak_of_inside_is_in_range_and_outside_is_not(low, width, part):
    assume(low + width * part not in (low, low + width))
    assert verdict(chances(low + width * part, 1e-9, low, low + width), 0.99) == "in range"
    assert verdict(chances(low - width * part, 1e-9, low, low + width), 0.99) == "below range"
    assert verdict(chances(low + width * (1 + part), 1e-9, low, low + width), 0.99) == "above range"


@given(values, us, limits, few_or_many, certainties)
def test_a_verdict_is_given_exactly_where_one_side_reaches_the_certainty(value, u, band, dof, certainty):
    assume(certainty > 0.5)
    found = chances(value, u, *band, dof)
    sides = {"in range": found.inside, "below range": found.below, "above range": found.above}
    sure = [says for says, p in sides.items() if p >= certainty]
    assert [verdict(found, certainty)] == (sure or ["too close to call"])


@given(values, us, limits, few_or_many, certainties, certainties)
def test_asking_for_more_certainty_never_turns_a_verdict_into_another(value, u, band, dof, one, other):
    found = chances(value, u, *band, dof)
    lax, strict = verdict(found, min(one, other)), verdict(found, max(one, other))
    assert strict in (lax, "too close to call")


@given(values, us, few_or_many)
def test_the_interval_covers_95_percent(value, u, dof):
    low, high = interval(value, u, dof)
    assert low < value < high
    assert chances(value, u, low, high, dof).inside == pytest.approx(0.95, abs=1e-9)


@given(values, us, st.floats(1, 100))
def test_few_swings_never_make_an_interval_narrower(value, u, dof):
    few, many = interval(value, u, dof), interval(value, u, None)
    assert few[0] <= many[0]
    assert few[1] >= many[1]


@given(values, us, values, widths, certainties)
def test_where_the_error_is_called_too_coarse_measuring_alone_finds_no_value_in_range(value, u, low, width, certainty):
    if too_coarse(u, low, low + width, certainty):
        assert verdict(chances(value, u, low, low + width), certainty) != "in range"


@pytest.mark.parametrize(("width", "coarse"), [(2.56, True), (2.57, False)])
def test_with_a_certainty_of_80_percent_a_range_must_be_as_wide_as_2_56_u(width, coarse):
    """2 · 1.28155, the 90 % point of the normal distribution."""
    assert too_coarse(1.0, 0.0, width, 0.8) is coarse


@given(values, us, values, widths)
def test_what_is_known_beforehand_draws_toward_the_middle_of_the_range_and_makes_surer(value, u, low, width):
    middle = low + width / 2
    mean, sd = given_the_range(value, u, low, low + width)
    assert min(value, middle) - 1e-9 <= mean <= max(value, middle) + 1e-9
    assert sd < min(u, width / 2) + 1e-12


@given(values, us, values)
def test_a_range_with_one_limit_has_no_middle_to_be_known(value, u, limit):
    assert given_the_range(value, u, limit, None) == given_the_range(value, u, None, limit) == (value, u)


@given(us, values)
def test_a_range_open_to_one_side_is_never_too_narrow(u, low):
    assert not too_coarse(u, low, None, 0.99)
    assert not too_coarse(u, None, low, 0.99)


@pytest.mark.parametrize("u", [0, -1.0])
def test_a_value_without_uncertainty_is_refused(u):
    with pytest.raises(ValueError, match="'u' must be above 0"):
        chances(10, u, 0, 20)
