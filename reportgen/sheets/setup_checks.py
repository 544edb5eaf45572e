"""Whether what was observed at setup agrees with what can be observed: the kind, its words, its unit."""

from collections.abc import Iterator

from reportgen.records.bounds import limits_in
from reportgen.records.lesson import Lesson
from reportgen.records.setup import Observation, SetupKind
from reportgen.records.units import UNITS, convertible
from reportgen.sheets.library import Library
from reportgen.sheets.problems import Problem, nearest, nearest_unit, shown
from reportgen.sheets.reading import Sheet
from reportgen.sheets.tree import Loc


def setup_problems(sheet: Sheet[Lesson], library: Library) -> Iterator[Problem]:
    """What is wrong in the observations of a sheet whose record is sound by itself."""
    seen: dict[tuple[str, str], int] = {}
    for number, row in enumerate(sheet.record.setup):
        loc, kind = ("setup", number), library.setup.get(row.what)
        if kind is None:
            mend = nearest(row.what, library.setup)
            yield sheet.problem((*loc, "what"), f"{row.what!r} is not known at setup", mend)
            continue
        club = row.club or sheet.record.club
        if (row.what, club) in seen:
            line = sheet.tree.place(("setup", seen[row.what, club]))[0]
            wrong = f"{row.what} with the {club} stands here already (line {line})"
            yield sheet.problem((*loc, "what"), wrong, "Keep one, or name another club.")
        seen.setdefault((row.what, club), number)
        yield from (
            _word_problems(sheet, row, loc, kind) if row.value is None else _number_problems(sheet, row, loc, kind)
        )


def _word_problems(sheet: Sheet[Lesson], row: Observation, loc: Loc, kind: SetupKind) -> Iterator[Problem]:
    word = row.word or ""
    if word not in kind.by_word:
        mend = nearest(word, kind.by_word) if kind.words else f"Write a number, as value: 4, unit: {kind.unit}."
        yield sheet.problem((*loc, "word"), f"{kind.id} has no word {word!r}", mend)


def _number_problems(sheet: Sheet[Lesson], row: Observation, loc: Loc, kind: SetupKind) -> Iterator[Problem]:
    value, unit = row.value or 0.0, row.unit or ""
    if kind.unit is None:
        mend = f"Write a word: {', '.join(kind.by_word)}."
        yield sheet.problem((*loc, "value"), f"{kind.id} is told in words", mend)
    elif unit not in UNITS:
        yield sheet.problem((*loc, "unit"), f"the unit {shown(unit)!r} is not known", nearest_unit(unit, UNITS))
    elif not convertible(unit, kind.unit):
        fitting = [name for name in UNITS if convertible(name, kind.unit)]
        wrong = f"{kind.id} is not measured in {unit}"
        yield sheet.problem((*loc, "unit"), wrong, f"Write one of {', '.join(fitting)}.")
    else:
        span = limits_in(kind.unit, kind.unit)
        low, high = span.within(unit)
        if not low <= value <= high:
            wrong = f"{value:g} {unit} cannot be right for {kind.id}"
            mend = f"Look at the number and its unit ({span.low:g} to {span.high:g} {span.unit})."
            yield sheet.problem((*loc, "value"), wrong, mend)
