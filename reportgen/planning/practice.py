"""The week's practice, line by line."""

from collections.abc import Sequence

from reportgen.records.academy import PracticeTime
from reportgen.records.report import GivenDrill, PracticeItem

_DAYS = {"mon": "Mon", "tue": "Tue", "wed": "Wed", "thu": "Thu", "fri": "Fri", "sat": "Sat", "sun": "Sun"}
_DEFAULT = "Three days"


def practice_week(drills: Sequence[GivenDrill], time: PracticeTime | None) -> tuple[PracticeItem, ...]:
    """A warm-up and each drill with its dose, on the days that the student has; nothing without a drill."""
    if not drills:
        return ()
    days = ", ".join(_DAYS[day] for day in time.days) if time else _DEFAULT
    warm_up = PracticeItem(days=days, what="Warm up for 10 minutes: walk, turn, slow swings without a ball.", swings=0)
    work = [PracticeItem(days=days, what=f"{drill.title}, {drill.dose}.", swings=drill.dose.swings) for drill in drills]
    return (warm_up, *work)
