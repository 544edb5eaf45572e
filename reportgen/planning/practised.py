"""What the student did since the last lesson, beside what was planned."""

from collections.abc import Sequence

from reportgen.languages.speaking import say, say_count
from reportgen.records.lesson import Lesson
from reportgen.records.report import LessonReport, Practised


def practised(before: Sequence[LessonReport], lesson: Lesson) -> Practised | None:
    """The log since the last lesson against that lesson's plan; None where neither says anything."""
    last = before[-1] if before else None
    plan = last.practice if last else None
    log = [entry for entry in lesson.practice_log if last is None or entry.date >= last.date]
    if plan is None and not log:
        return None
    planned_days, planned_swings = (len(plan.days), sum(day.swings for day in plan.days)) if plan else (0, 0)
    days, swings = len({entry.date for entry in log}), sum(entry.swings or 0 for entry in log)
    return Practised(
        planned_days=planned_days,
        planned_swings=planned_swings,
        days=days,
        swings=swings,
        says=_says(planned_days, planned_swings, days, swings),
    )


def _says(planned_days: int, planned_swings: int, days: int, swings: int) -> str:
    did = _days(days, swings)
    if not planned_days:
        return say("You practised on {did} since the last lesson.", did=did)
    plan = _days(planned_days, planned_swings)
    if not days:
        return say("Planned: {plan}; nothing is in your log.", plan=plan)
    return say("You practised on {did}; planned: {plan}.", did=did, plan=plan)


def _days(days: int, swings: int) -> str:
    said = say_count("{count} day", "{count} days", days)
    if not swings:
        return said
    return say("{days} with {swings}", days=said, swings=say_count("{count} swing", "{count} swings", swings))
