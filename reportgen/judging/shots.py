"""The counted shots of a lesson, held against the same counts of earlier dates."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from reportgen.judging.counts import Count, course, long_run, two_dates
from reportgen.records.lesson import Lesson
from reportgen.records.shot_findings import CountedBefore, CountFound, StrikeFound
from reportgen.records.shots import FACE, SIZES, FacePlace, ShotCount, Size
from reportgen.records.units import convert


class _Same(NamedTuple):
    """What two counts must have in common to be compared."""

    what: str | None
    drill: str | None
    club: str
    sizes: tuple[tuple[Size, float], ...]


def counts_of(lesson: Lesson, before: Sequence[Lesson]) -> tuple[CountFound, ...]:
    """What was counted in a lesson, in the sheet's order; `before` are the student's earlier lessons, oldest first.

    Dates are held against each other by what a student brings to a lesson: a count after the lesson's work stands
    beside the one before it and beside no other date.
    """
    return tuple(_found(row, lesson, before) for row in lesson.shots if row.strike is None)


def strikes_of(lesson: Lesson, before: Sequence[Lesson]) -> tuple[StrikeFound, ...]:
    """Where the shots of a lesson were struck, in the sheet's order, beside the last date with the same club."""
    found = []
    for row in lesson.shots:
        if row.strike is None:
            continue
        club = row.club or lesson.club
        last = next(((one.date, then) for one in reversed(before) if (then := _struck(one, club, row.when))), None)
        found.append(
            StrikeFound(
                club=club,
                places=_places([row]),
                of=row.strike.of,
                when=row.when,
                before_on=last[0] if last else None,
                before=_places(last[1]) if last else None,
                note=row.note,
            )
        )
    return tuple(found)


def _found(row: ShotCount, lesson: Lesson, before: Sequence[Lesson]) -> CountFound:
    same, now = _same(row, lesson), Count(lesson.date, row.made or 0, row.of or 1)
    at_work = row.when == "after"
    earlier = [] if at_work else [count for one in before if one.date < lesson.date for count in _counts(one, same)]
    today = next(_counts(lesson, same), None) if at_work else None
    return CountFound(
        count=row.count,
        drill=row.drill,
        club=same.club,
        sizes=dict(same.sizes),
        when=row.when,
        run=long_run(now.made, now.of),
        earlier=tuple(CountedBefore(**one._asdict()) for one in earlier),
        against=two_dates(earlier[-1], now) if earlier else None,
        before_work=CountedBefore(**today._asdict()) if today else None,
        of_today=two_dates(today, now) if today else None,
        course=course([*earlier, now]),
        note=row.note,
    )


def _counts(lesson: Lesson, same: _Same) -> Iterator[Count]:
    """The same count in a lesson, as it was before the lesson's work; several rows as one."""
    rows = [r for r in lesson.shots if r.strike is None and r.when != "after" and _same(r, lesson) == same]
    if rows:
        yield Count(lesson.date, sum(row.made or 0 for row in rows), sum(row.of or 0 for row in rows))


def _struck(lesson: Lesson, club: str, when: str | None) -> list[ShotCount]:
    return [r for r in lesson.shots if r.strike is not None and (r.club or lesson.club) == club and r.when == when]


def _places(rows: Sequence[ShotCount]) -> dict[FacePlace, int]:
    return {place: sum(getattr(row.strike, place) for row in rows) for place in FACE}


def _same(row: ShotCount, lesson: Lesson) -> _Same:
    given = ((size, getattr(row, size)) for size in SIZES)
    sizes = tuple((size, round(convert(one.value, one.unit, "m"), 3)) for size, one in given if one is not None)
    return _Same(row.count, row.drill, row.club or lesson.club, sizes)
