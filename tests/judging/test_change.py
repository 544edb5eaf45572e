"""What changed between two lessons: real only beyond what measurement error explains."""

from datetime import date
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.judging.change import change
from reportgen.records.findings import BandUsed, Reading

SINCE = date(2026, 2, 26)
values = st.floats(-180, 180)
us = st.floats(0.1, 20)
few_or_many = st.none() | st.floats(1, 1e6)


def read(value, u=2.0, dof=None):
    return Reading(metric="pelvis-open-impact", value=value, u=u, dof=dof, how="sensor")


def band(low=35.0, high=55.0, context=False):
    return BandUsed(band="adults", low=low, high=high, basis="common practice", context=context)


@given(values, us, values, us)
def test_the_smallest_detectable_change_is_the_minimal_detectable_change_at_95_percent(now, u_now, before, u_before):
    """1.96 √(u₁² + u₂²): Weir 2005, with the normal distribution's 1.96 to its digits."""
    found = change(read(now, u_now), read(before, u_before), SINCE, None)
    assert found.detectable == pytest.approx(1.959963984540054 * hypot(u_now, u_before), rel=1e-12)


def test_for_equal_errors_it_is_that_of_weir():
    """Weir JP. J Strength Cond Res 2005;19:231-240: a standard error of measurement of 7.5569 detects 20.947."""
    assert change(read(0, 7.5569), read(0, 7.5569), SINCE, None).detectable == pytest.approx(20.947, abs=1e-3)


@given(values, us, few_or_many, values, us, few_or_many)
def test_forth_and_back_differ_only_in_sign(one, u_one, dof_one, other, u_other, dof_other):
    first, second = read(one, u_one, dof_one), read(other, u_other, dof_other)
    there, back = change(second, first, SINCE, band()), change(first, second, SINCE, band())
    assert (there.by, there.real) == (-back.by, back.real)
    assert there.detectable == pytest.approx(back.detectable, rel=1e-12)
    opposite = {"moved toward the range": "moved away from the range", "moved away from the range":
                "moved toward the range"}  # fmt: skip
    assert there.movement == opposite.get(back.movement, back.movement)


@given(values, us, few_or_many, values, us, few_or_many)
def test_a_change_is_real_only_beyond_what_can_be_detected(one, u_one, dof_one, other, u_other, dof_other):
    found = change(read(one, u_one, dof_one), read(other, u_other, dof_other), SINCE, band())
    assert found.real == (abs(one - other) > found.detectable)
    assert (found.movement == "no change we can see") == (not found.real)


@given(values, us, values, us, st.floats(1, 60))
def test_few_swings_never_make_a_change_easier_to_detect(one, u_one, other, u_other, dof):
    few = change(read(one, u_one, dof), read(other, u_other), SINCE, None)
    assert few.detectable >= change(read(one, u_one), read(other, u_other), SINCE, None).detectable


@pytest.mark.parametrize(
    ("before", "now", "says"),
    [
        (75, 60, "moved toward the range"),
        (75, 45, "moved toward the range"),
        (10, 25, "moved toward the range"),
        (60, 75, "moved away from the range"),
        (45, 75, "moved away from the range"),
        (25, 10, "moved away from the range"),
        (38, 53, "changed"),
        (60, 61, "no change we can see"),
        (20, 60, "moved toward the range"),
    ],
)
def test_a_real_change_is_told_by_its_distance_from_the_range(before, now, says):
    assert change(read(now), read(before), SINCE, band()).movement == says


@pytest.mark.parametrize("shown", [None, band(context=True)])
def test_without_a_range_to_be_held_against_a_real_change_is_only_a_change(shown):
    assert change(read(75), read(45), SINCE, shown).movement == "changed"
