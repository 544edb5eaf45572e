"""How sure the difference of two lessons is: what they share cancels, what each has alone adds up."""

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.judging.difference import RESIDUE, distance, u_of_difference
from reportgen.records.findings import Parts, Reading

us = st.floats(0.1, 20)


def read(stand=None, marked_by=None, **parts):
    return Reading(metric="x", value=50, u=1, how="still", parts=Parts(**parts), stand=stand, marked_by=marked_by)


@given(us, us)
def test_what_is_of_one_lesson_alone_adds_up(one, other):
    assert u_of_difference(read(visit=one), read(still=other)) == pytest.approx(hypot(one, other))


@given(us, us)
def test_a_reading_without_parts_is_of_its_lesson_alone(one, other):
    """1.96 √(u₁² + u₂²) is the minimal detectable change of Weir JP. J Strength Cond Res 2005;19:231-240."""
    typed = (Reading(metric="x", value=50, u=u, how="sensor") for u in (one, other))
    assert u_of_difference(*typed) == pytest.approx(hypot(one, other))


def test_the_habit_of_one_marker_cancels_and_that_of_two_does_not():
    assert u_of_difference(read(habit=4), read(habit=4)) == 0
    assert u_of_difference(read(habit=4), read(habit=4, marked_by="Ada")) == pytest.approx(hypot(4, 4))


def test_a_stand_that_is_kept_leaves_its_residue_alone():
    assert u_of_difference(read("hall", camera=3), read("hall", camera=3)) == pytest.approx(3 * RESIDUE * 2**0.5)
    assert u_of_difference(read("hall", camera=3), read("court", camera=3)) == pytest.approx(hypot(3, 3))
    assert u_of_difference(read(camera=3), read(camera=3)) == pytest.approx(hypot(3, 3))


@pytest.mark.parametrize(
    ("value", "low", "high", "far"),
    [(30, 35, 55, 5), (35, 35, 55, 0), (60, 35, 55, 5), (9, None, 8, 1), (9, 8, None, 0)],
)
def test_how_far_a_value_lies_outside_a_range(value, low, high, far):
    assert distance(value, low, high) == far
