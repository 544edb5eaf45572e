"""Whether counted shots agree with what can be counted: the kind, its lengths, the drill."""

from collections.abc import Iterator

from reportgen.records.lesson import Lesson
from reportgen.records.shots import SIZES, ShotCount
from reportgen.sheets.library import Library
from reportgen.sheets.problems import Problem, nearest
from reportgen.sheets.reading import Sheet
from reportgen.sheets.tree import Loc


def shot_problems(sheet: Sheet[Lesson], library: Library) -> Iterator[Problem]:
    """What is wrong in the counted shots of a sheet whose record is sound by itself."""
    for number, row in enumerate(sheet.record.shots):
        loc = ("shots", number)
        if row.count is not None and row.count not in library.counts:
            mend = nearest(row.count, library.counts)
            yield sheet.problem((*loc, "count"), f"the count {row.count!r} is not known", mend)
        elif row.drill is not None and row.drill not in library.drills:
            mend = nearest(row.drill, library.drills)
            yield sheet.problem((*loc, "drill"), f"the drill {row.drill!r} is not known", mend)
        else:
            yield from _lengths(sheet, row, loc, library)


def _lengths(sheet: Sheet[Lesson], row: ShotCount, loc: Loc, library: Library) -> Iterator[Problem]:
    """A length that is missing, without which two counts cannot be compared, or one that says nothing here."""
    needs = library.counts[row.count].needs if row.count is not None else ()
    for size in SIZES:
        given = getattr(row, size) is not None
        if size in needs and not given:
            wrong = f"{row.count} is told by a {size}, and there is none"
            yield sheet.problem(loc, wrong, f"Add {size}: and a length, as {size}: 2 m.")
        elif given and size not in needs and row.count is not None:
            yield sheet.problem((*loc, size), f"{row.count} has no {size}", "Take it out, or count something else.")
