"""How much a student practises, from the practice logs of the lessons so far.

A week is the seven days that end on a given day, so that the same weekly habit reads the same whichever day the
lesson is on. What was not logged is not known: a week without an entry is left out, never counted as nothing.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from statistics import mean

from reportgen.records.academy import Student
from reportgen.records.body import Load as Load
from reportgen.records.lesson import Lesson, PracticeEntry
from reportgen.records.words import PractisedKind

WEEKS_BACK = 8
"""Logged weeks further back say little about what a body is used to today (common practice, no source)."""

_FULL_SWINGS: frozenset[PractisedKind] = frozenset({"range", "course", "speed-sticks"})


def load_of(lessons_so_far: Sequence[Lesson], student: Student, day: date) -> Load:
    """The load on `day` by the logs of all lessons up to it, that day's own among them."""
    lessons = [lesson for lesson in lessons_so_far if lesson.date <= day]
    log = [entry for lesson in lessons for entry in lesson.practice_log if entry.date <= day and not entry.rested]
    weeks = [[e for e in log if _in_week(e, day - timedelta(weeks=back))] for back in range(WEEKS_BACK)]
    swings = [_full_swings(week) for week in weeks]
    logged = [count for count in swings if count is not None][:4]
    golf = {entry.date for entry in log} | {lesson.date for lesson in lessons}
    hours = sum(entry.minutes or 0 for entry in weeks[0]) / 60
    days = sum(day - timedelta(days=back) in golf for back in range(7))
    return Load(
        weekly_swings=tuple(reversed(logged)),
        mean_of_last_four=mean(logged) if logged else None,
        swings_this_week=swings[0],
        rise=_rise(swings),
        days_this_week=days,
        hours_this_week=hours,
        days_in_a_row=max(_run_up_to(day - timedelta(days=back), golf) for back in range(7)),
        months_in_a_row=_months(day, golf),
        most_swings_a_day=_most(weeks[0], days=1),
        most_swings_in_two_days=_most(weeks[0], days=2),
        kinds=tuple(dict.fromkeys(entry.kind for week in weeks[:4] for entry in week)),
        age=student.age_on(day),
    )


def _in_week(entry: PracticeEntry, last: date) -> bool:
    return last - timedelta(days=7) < entry.date <= last


def _full_swings(week: Sequence[PracticeEntry]) -> int | None:
    """The full swings of a week; None where none was counted."""
    counted = [e.swings for e in week if e.swings is not None and e.kind in _FULL_SWINGS]
    return sum(counted) if counted else None


def _most(week: Sequence[PracticeEntry], days: int) -> int | None:
    """The most full swings of the week on so many days that follow one another; None where none was counted."""
    from_each = ([e for e in week if 0 <= (e.date - first.date).days < days] for first in week)
    return max((count for some in from_each if (count := _full_swings(some)) is not None), default=None)


def _rise(swings: Sequence[int | None]) -> float | None:
    now, *before = swings
    usual = [count for count in before if count is not None][:4]
    if now is None or len(usual) < 2 or not any(usual):
        return None
    return now / mean(usual)


def _run_up_to(day: date, golf: set[date]) -> int:
    run = 0
    while day - timedelta(days=run) in golf:
        run += 1
    return run


def _months(day: date, golf: set[date]) -> int:
    played = {(d.year, d.month) for d in golf}
    run, at = 0, (day.year, day.month)
    while at in played:
        run += 1
        at = (at[0], at[1] - 1) if at[1] > 1 else (at[0] - 1, 12)
    return run
