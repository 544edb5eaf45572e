"""Conversion of units: there and back, and never between things of another kind."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.records.units import UNITS, convert, convertible

ALIKE = [pair for pair in product(UNITS, repeat=2) if convertible(*pair)]
UNLIKE = [pair for pair in product(UNITS, repeat=2) if not convertible(*pair)]
values = st.floats(-1e6, 1e6).filter(lambda value: value == 0 or abs(value) > 1e-6)


@given(st.sampled_from(ALIKE), values)
def test_there_and_back_gives_the_value_again(pair, value):
    one, other = pair
    assert convert(convert(value, one, other), other, one) == pytest.approx(value, rel=1e-15)


@given(st.sampled_from(ALIKE), values, values)
def test_conversion_keeps_the_order_of_values(pair, value, other):
    low, high = sorted((value, other))
    assert convert(low, *pair) <= convert(high, *pair)


@given(st.sampled_from(sorted(UNITS)), values)
def test_a_unit_in_itself_is_the_value_itself(unit, value):
    assert convert(value, unit, unit) == value


@pytest.mark.parametrize(("one", "other"), UNLIKE[::7])
def test_units_of_unlike_things_do_not_convert(one, other):
    with pytest.raises(ValueError, match="does not convert"):
        convert(1.0, one, other)


def test_a_foot_is_twelve_inches_and_a_yard_three_feet_to_the_last_digit():
    assert (convert(12, "in", "ft"), convert(3, "ft", "yd"), convert(2.54, "cm", "in")) == (1, 1, 1)
