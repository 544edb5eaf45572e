"""Whether the measurements of a growing player can be right, before anything is reckoned from them."""

from collections.abc import Iterator
from itertools import pairwise

from reportgen.records.academy import Growth, Student
from reportgen.records.amounts import Quantity
from reportgen.records.units import convert
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet

MEASURED_FROM, MEASURED_UNTIL = 6, 17
"""Completed years: growth is followed in this time of life alone."""

HEIGHT_CM = (80.0, 220.0)
"""Wider than mean ± 5 SD of the WHO 2007 growth reference at these ages: beyond it is a slip of pen or unit."""
MASS_KG = (10.0, 200.0)
SITTING_SHARE = (0.40, 0.65)
"""Sitting height over standing height; about one half in everybody (limits: common practice, no source)."""

_MEASURING_CM = 2.0
_FASTEST_CM_A_YEAR = 25.0
"""What two measurings can differ by, and twice what anybody grows (common practice, no source)."""


def growth_problems(sheet: Sheet[Student]) -> Iterator[Problem]:
    """What is wrong in the list `growth` of a student file whose record is sound by itself."""
    student = sheet.record
    if student.growth and student.sex is None:
        wrong = "sex is missing, and the growth spurt is estimated by it"
        yield sheet.problem(("growth",), wrong, "Add sex: female or male, or take out growth.", key=True)
    for number, measured in enumerate(student.growth):
        yield from _one(sheet, number, measured)
    for number, (earlier, later) in enumerate(pairwise(student.growth), 1):
        if later.date <= earlier.date:
            loc = ("growth", number, "date")
            yield sheet.problem(loc, "the measurements are not in order", "Put the oldest first.")
        elif _sound(earlier) and _sound(later):
            yield from _step(sheet, number, earlier, later)


def _one(sheet: Sheet[Student], number: int, measured: Growth) -> Iterator[Problem]:
    loc = ("growth", number)
    age = sheet.record.age_on(measured.date)
    if not MEASURED_FROM <= age <= MEASURED_UNTIL:
        years = "not born yet" if age < 0 else f"{age} years old"
        wrong = f"the student was {years} on that day, and growth is followed from {MEASURED_FROM} to {MEASURED_UNTIL}"
        yield sheet.problem((*loc, "date"), wrong, "Take the measurement out, or look at its date and at born.")
    height = _in(measured.height, "cm")
    if not HEIGHT_CM[0] <= height <= HEIGHT_CM[1]:
        yield _unlikely(sheet, (*loc, "height"), "height", measured.height, HEIGHT_CM, "cm")
    if measured.mass is not None and not MASS_KG[0] <= _in(measured.mass, "kg") <= MASS_KG[1]:
        yield _unlikely(sheet, (*loc, "mass"), "mass", measured.mass, MASS_KG, "kg")
    if measured.sitting_height is None:
        return
    sitting = _in(measured.sitting_height, "cm")
    if not HEIGHT_CM[0] * SITTING_SHARE[0] <= sitting <= HEIGHT_CM[1]:
        limits = (HEIGHT_CM[0] * SITTING_SHARE[0], HEIGHT_CM[1] * SITTING_SHARE[1])
        yield _unlikely(sheet, (*loc, "sitting_height"), "sitting height", measured.sitting_height, limits, "cm")
    elif _sound(measured):
        share = sitting / height
        if share >= 1:
            wrong = "the sitting height is not below the standing height"
            yield sheet.problem((*loc, "sitting_height"), wrong, "Look whether the two are swapped.")
        elif not SITTING_SHARE[0] <= share <= SITTING_SHARE[1]:
            wrong = f"the sitting height is {share:.0%} of the height, and it is about one half in everybody"
            mend = "Measure from the seat of the stool to the top of the head, without the stool."
            yield sheet.problem((*loc, "sitting_height"), wrong, mend)


def _step(sheet: Sheet[Student], number: int, earlier: Growth, later: Growth) -> Iterator[Problem]:
    """Nobody shrinks, or grows by a hand in a month."""
    grown = _in(later.height, "cm") - _in(earlier.height, "cm")
    years = (later.date - earlier.date).days / 365.25
    if not -_MEASURING_CM <= grown <= _MEASURING_CM + _FASTEST_CM_A_YEAR * years:
        wrong = f"the height changed by {grown:.1f} cm since {earlier.date}"
        yield sheet.problem(("growth", number, "height"), wrong, "Look at both heights and their units.")


def _sound(measured: Growth) -> bool:
    return HEIGHT_CM[0] <= _in(measured.height, "cm") <= HEIGHT_CM[1]


def _unlikely(
    sheet: Sheet[Student],
    loc: tuple[str | int, ...],
    name: str,
    written: Quantity,
    limits: tuple[float, float],
    unit: str,
) -> Problem:
    low, high = limits
    wrong = f"{written.value:g} {written.unit} cannot be the {name} of a growing player"
    return sheet.problem(loc, wrong, f"Look at the number and its unit ({low:.0f} to {high:.0f} {unit}).")


def _in(written: Quantity, unit: str) -> float:
    return convert(written.value, written.unit, unit)
