"""What is wrong in a map of what is known of a shot to the columns of a table."""

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from reportgen.records.content import Metric
from reportgen.records.shot_table import ALSO_METRICS, TEXTS, WORDS
from reportgen.records.tables import ColumnOf
from reportgen.records.units import UNITS, convert, convertible
from reportgen.records.words import Plus
from reportgen.sheets.problems import Problem, nearest, nearest_unit, shown
from reportgen.sheets.reading import Sheet
from reportgen.sheets.tree import Loc

LETTERS: Plus = "letters R and L"
SIDES: Mapping[str, tuple[Plus, ...]] = {
    "target": ("right of target", "left of target", "trail side", "lead side", LETTERS),
    "face": ("toward the toe", "toward the heel"),
}
"""What `plus` can say of a quantity with that side."""


OF_A_SHOT = (*WORDS, *TEXTS)
"""Everything that a map can name of a shot."""


def of_shots(columns: Mapping[str, ColumnOf]) -> dict[str, ColumnOf]:
    """The columns of a map that hold what is known of a shot."""
    return {word: column for word, column in columns.items() if word in OF_A_SHOT}


def of_readings(columns: Mapping[str, ColumnOf]) -> dict[str, ColumnOf]:
    """The columns of a map that a table of swings must have: those of shots alone are not asked of it."""
    return {name: column for name, column in columns.items() if name in ALSO_METRICS or name not in OF_A_SHOT}


def may_be_read(columns: Mapping[str, ColumnOf], metrics: Mapping[str, Metric]) -> dict[str, ColumnOf]:
    """The columns of a map of shots that hold metrics, and are read where a table of swings has them. A side that a
    letter tells is read in tables of shots alone."""
    return {
        word: column
        for word, column in columns.items()
        if word in metrics and word in WORDS and word not in ALSO_METRICS
        if column.plus != LETTERS and convertible(column.unit or "1", metrics[word].unit)
    }


def side_problems(sheet: Sheet[Any], at: Loc, columns: Mapping[str, ColumnOf]) -> Iterator[Problem]:
    """What is wrong with the sides of columns of club and ball in the map of a table of swings."""
    for word, column in columns.items():
        if word in WORDS:
            yield from _of_side(sheet, (*at, word), word, column)
            if column.plus == LETTERS:
                wrong = "letters for a side are read in a table of shots alone"
                yield sheet.problem((*at, word, "plus"), wrong, "Name the file under shots_from:, with these columns.")


def shot_column_problems(
    sheet: Sheet[Any], at: Loc, columns: Mapping[str, ColumnOf], elsewhere: Collection[str] = ()
) -> Iterator[Problem]:
    """What is wrong in the map at `at` of a sheet. Units and figures of words that are looked at `elsewhere`, as
    metrics, are not told again."""
    for word, column in columns.items():
        here = (*at, word)
        if word in TEXTS:
            yield from _of_text(sheet, here, word, column)
        elif word not in WORDS:
            yield sheet.problem(here, f"{word!r} is nothing that a shot has", nearest(word, OF_A_SHOT), key=True)
        else:
            yield from _of_side(sheet, here, word, column)
            if word not in elsewhere:
                yield from _of_number(sheet, here, word, column)
        yield from _same_column(sheet, at, word, columns)


def _of_text(sheet: Sheet[Any], at: Loc, word: str, column: ColumnOf) -> Iterator[Problem]:
    for key in ("unit", "plus", "u"):
        if getattr(column, key) is not None:
            yield sheet.problem((*at, key), f"{word} is no number and has no {key}", f"Take {key}: out.", key=True)


def _of_number(sheet: Sheet[Any], at: Loc, word: str, column: ColumnOf) -> Iterator[Problem]:
    unit = WORDS[word].unit
    if column.means:
        wrong = f"{word} is a number, which means itself"
        yield sheet.problem((*at, "means"), wrong, "Take means: out.", key=True)
    if column.unit is None:
        yield sheet.problem(at, f"{word} has no unit", f"Add unit: {_quoted(unit)}.", key=True)
    elif column.unit not in UNITS:
        wrong = f"the unit {shown(column.unit)!r} is not known"
        yield sheet.problem((*at, "unit"), wrong, nearest_unit(column.unit, UNITS))
    elif not convertible(column.unit, unit):
        fitting = [name for name in UNITS if convertible(name, unit)]
        yield sheet.problem(
            (*at, "unit"), f"{word} is not measured in {column.unit}", f"Write one of {', '.join(fitting)}."
        )
    elif column.u is not None and column.u > (most := convert(WORDS[word].high, unit, column.unit)):
        wrong = f"{column.u:g} {column.unit} cannot be the standard uncertainty of {word}"
        yield sheet.problem((*at, "u"), wrong, f"Look at the number and its unit (up to {most:.4g} {column.unit}).")


def _of_side(sheet: Sheet[Any], at: Loc, word: str, column: ColumnOf) -> Iterator[Problem]:
    side = WORDS[word].side
    if side is None:
        if column.plus is not None:
            yield sheet.problem((*at, "plus"), f"{word} has no side", "Take plus: out.", key=True)
        return
    sides = ", ".join(SIDES[side])
    if column.plus is None:
        wrong = f"{word} has a side, and nothing says on which plus numbers are"
        yield sheet.problem(at, wrong, f"Add plus: and one of {sides}.", key=True)
    elif column.plus not in SIDES[side]:
        wrong = f"plus numbers of {word} cannot be {column.plus}"
        yield sheet.problem((*at, "plus"), wrong, f"Write one of {sides}.")


def _same_column(sheet: Sheet[Any], at: Loc, word: str, columns: Mapping[str, ColumnOf]) -> Iterator[Problem]:
    """One column that is said to hold two things, told at the second."""
    first = next(name for name, column in columns.items() if column.column == columns[word].column)
    if first != word:
        wrong = f"the column {shown(columns[word].column)!r} holds {first} already"
        yield sheet.problem((*at, word, "column"), wrong, "Give each its own column.")


def _quoted(unit: str) -> str:
    return f'"{unit}"' if unit == "1" else unit
