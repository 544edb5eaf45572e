"""What was observed at setup, beside what it was the last time with the same club. Nothing of it is judged."""

from collections.abc import Mapping, Sequence

from reportgen.records.lesson import Lesson
from reportgen.records.setup import Observation, Observed, SetupFound, SetupKind
from reportgen.records.units import convert


def setup_of(lesson: Lesson, before: Sequence[Lesson], kinds: Mapping[str, SetupKind]) -> tuple[SetupFound, ...]:
    """What was observed in a lesson, in the sheet's order, numbers in the unit of their kind; `before` are the
    student's earlier lessons, oldest first."""
    return tuple(_found(row, lesson, before, kinds[row.what]) for row in lesson.setup)


def _found(row: Observation, lesson: Lesson, before: Sequence[Lesson], kind: SetupKind) -> SetupFound:
    club = row.club or lesson.club
    last = next(
        (
            (one.date, then)
            for one in reversed(before)
            for then in one.setup
            if then.what == row.what and (then.club or one.club) == club
        ),
        None,
    )
    return SetupFound(
        what=row.what,
        club=club,
        note=row.note,
        before_on=last[0] if last else None,
        before=_observed(last[1], kind) if last else None,
        **dict(_observed(row, kind)),
    )


def _observed(row: Observation, kind: SetupKind) -> Observed:
    if row.value is None or row.unit is None or kind.unit is None:
        return Observed(word=row.word)
    return Observed(value=convert(row.value, row.unit, kind.unit))
