"""Doses and quantities as a person writes them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from reportgen.records.amounts import Angle, Length, Mass, WrittenDose

DOSE, LENGTH, ANGLE, MASS = (TypeAdapter(kind) for kind in (WrittenDose, Length, Angle, Mass))


@pytest.mark.parametrize(
    ("written", "text", "swings"),
    [
        ("3 x 10", "3 × 10", 30),
        ("3x10", "3 × 10", 30),
        ("2 × 8 slow", "2 × 8 slow", 16),
        ("4 x 6 easy", "4 × 6 easy", 24),
        ("5 min", "5 min", 0),
    ],
)
def test_a_dose_is_sets_of_swings_or_minutes(written, text, swings):
    dose = DOSE.validate_python(written)
    assert (str(dose), dose.swings) == (text, swings)


@given(st.integers(1, 20), st.integers(1, 100), st.sampled_from(["", " slow", " easy", " full"]))
def test_a_dose_reads_back_as_it_is_shown(sets, reps, pace):
    dose = DOSE.validate_python(f"{sets} x {reps}{pace}")
    assert DOSE.validate_python(str(dose)) == dose


@pytest.mark.parametrize("written", ["", "10", "3 x", "three x ten", "3 x 10 wild", "5 minutes", "3 x -4", "0 min"])
def test_anything_else_is_no_dose(written):
    with pytest.raises(ValidationError):
        DOSE.validate_python(written)


@pytest.mark.parametrize("written", ["0 x 10", "21 x 10", "3 x 101", "121 min"])
def test_a_dose_has_limits_that_a_body_can_bear(written):
    with pytest.raises(ValidationError):
        DOSE.validate_python(written)


@pytest.mark.parametrize(
    ("kind", "written", "value", "unit"),
    [
        (LENGTH, "1.00 m", 1.0, "m"),
        (LENGTH, "100cm", 100.0, "cm"),
        (LENGTH, " 3.28 ft ", 3.28, "ft"),
        (ANGLE, "28 deg", 28.0, "deg"),
        (ANGLE, "-3 deg", -3.0, "deg"),
        (MASS, "48 kg", 48.0, "kg"),
    ],
)
def test_a_quantity_is_a_number_with_its_unit(kind, written, value, unit):
    found = kind.validate_python(written)
    assert (found.value, found.unit) == (value, unit)


@pytest.mark.parametrize(
    ("kind", "written"),
    [(LENGTH, "1.00"), (LENGTH, "1,00 m"), (LENGTH, "28 deg"), (ANGLE, "1 m"), (MASS, "48 stone"), (LENGTH, "1e2 m")],
)
def test_a_quantity_of_something_else_is_refused_with_the_units_there_are(kind, written):
    with pytest.raises(ValidationError, match="is not a number and a unit"):
        kind.validate_python(written)
