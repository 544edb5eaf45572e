"""Whether what a sheet names is for lessons of its kind: no range of the full swing belongs to a putt."""

from collections.abc import Iterator, Sequence

from reportgen.records.lesson import Lesson
from reportgen.records.words import LessonKind, fits_kind
from reportgen.sheets.library import Library
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet
from reportgen.sheets.tree import Loc


def kind_problems(sheet: Sheet[Lesson], library: Library) -> Iterator[Problem]:
    """What a sheet names that is for lessons of another kind."""
    lesson = sheet.record
    if lesson.kind == "full-swing" and lesson.club == "putter":
        wrong = "the club is a putter, and the lesson is of the full swing"
        yield sheet.problem(("club",), wrong, "Add kind: putting, or write the club that was swung.")
    if lesson.kind == "short-game" and lesson.tempo is not None:
        mend = "Take tempo: out, or write kind: full-swing."
        yield sheet.problem(("tempo",), "the tempo of short shots is not measured", mend)
    for loc, name in _metrics(lesson):
        if name in library.metrics:
            yield from _unfit(sheet, loc, name, library.metrics[name].kinds)
    for number, choice in enumerate(lesson.drills):
        if choice.drill in library.drills:
            yield from _unfit(sheet, ("drills", number, "drill"), choice.drill, library.drills[choice.drill].kinds)


def _metrics(lesson: Lesson) -> Iterator[tuple[Loc, str]]:
    yield from ((("readings", number, "metric"), reading.metric) for number, reading in enumerate(lesson.readings))
    yield from ((("priorities", number), metric) for number, metric in enumerate(lesson.priorities))
    yield from ((("set_aside", number), metric) for number, metric in enumerate(lesson.set_aside))
    yield from ((("follow", number), metric) for number, metric in enumerate(lesson.follow))


def _unfit(sheet: Sheet[Lesson], loc: Loc, name: str, kinds: Sequence[LessonKind]) -> Iterator[Problem]:
    if not fits_kind(kinds, sheet.record.kind):
        wrong = f"{name} is of {', '.join(kinds)}, and the lesson is of {sheet.record.kind}"
        yield sheet.problem(loc, wrong, f"Take it out, or write kind: {kinds[0]}.")
