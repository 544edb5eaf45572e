"""What the student did since the last lesson, beside what was planned."""

from collections.abc import Sequence

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
    return Practised(planned_days=planned_days, planned_swings=planned_swings, days=days, swings=swings)
