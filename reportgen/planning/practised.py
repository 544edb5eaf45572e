"""What the student did since the last lesson of this kind, beside what was planned."""

from collections.abc import Sequence

from reportgen.planning.small_game import SMALL
from reportgen.records.lesson import PracticeEntry
from reportgen.records.practice_week import Practised
from reportgen.records.report import LessonReport
from reportgen.records.words import LessonKind


def practised(last: LessonReport | None, log: Sequence[PracticeEntry], kind: LessonKind) -> Practised | None:
    """The log since the `last` lesson of this kind against that lesson's plan; None where neither says anything. A day
    of rest is not one of practice. Putts and short shots are told of in lessons of them, full swings in all others."""
    plan = last.practice if last else None
    small = kind in SMALL
    since = [entry for entry in log if (last is None or entry.date >= last.date) and not entry.rested]
    done = [entry for entry in since if (entry.kind == "short-game") == small]
    if plan is None and not done:
        return None
    planned = plan.days if plan else ()
    return Practised(
        planned_days=len(planned),
        planned_swings=sum(day.strokes if small else day.swings for day in planned),
        days=len({entry.date for entry in done}),
        swings=sum(entry.swings or 0 for entry in done),
        of="putts and short shots" if small else "swings",
    )
