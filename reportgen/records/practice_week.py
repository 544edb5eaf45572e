"""The week of practice after a lesson, and what was made of the last one."""

from datetime import date
from typing import Literal

from reportgen.records.amounts import Dose
from reportgen.records.base import Record, Slug
from reportgen.records.practice import Phase
from reportgen.records.returning import ReturnStepId
from reportgen.records.words import Swing


class PracticeItem(Record):
    """One part of a day's practice; `swings` counts full swings, with or without a ball, `strokes` putts and short
    shots (turns without a club are neither); `dose` is that of a block, `balls` how many of its swings hit a mixed
    one; `counted` is the place in the lesson's counts of what is counted again. In a return after a stop each item
    has its `step`, and all but the warm-up their place among its doses (`part`). `swing` says how far the hands go
    with a club, `driver` whether it can be that one."""

    kind: Literal["warm-up", "slow", "block", "mixed", "speed", "count", "return"]
    drill: Slug | None
    dose: Dose | None = None
    minutes: int
    swings: int
    strokes: int = 0
    balls: int = 0
    counted: int | None = None
    swing: Swing = "none"
    driver: bool = False
    step: ReturnStepId | None = None
    part: int | None = None


class PracticeDay(Record):
    """One day of the week's practice, in its order."""

    day: date
    items: tuple[PracticeItem, ...]

    @property
    def swings(self) -> int:
        """Full swings of the day."""
        return sum(item.swings for item in self.items)

    @property
    def strokes(self) -> int:
        """Putts and short shots of the day."""
        return sum(item.strokes for item in self.items)

    @property
    def minutes(self) -> int:
        """Minutes of the day, as far as they can be told beforehand."""
        return sum(item.minutes for item in self.items)


class Returning(Record):
    """That a week is one of a return after a stop: the step that it begins with, and the day of the clearance."""

    step: ReturnStepId
    cleared_on: date


class PracticeWeek(Record):
    """The days of practice until the next lesson. Without full swings it has no `phase` and no ceiling of them."""

    days: tuple[PracticeDay, ...]
    phase: Phase | None
    swings_a_day_at_most: int
    swings_a_week_at_most: int
    strokes_a_day_at_most: int = 0
    returning: Returning | None = None

    @property
    def has_swings(self) -> bool:
        """Whether any day of it has a full swing."""
        return any(day.swings for day in self.days)


class Practised(Record):
    """What was planned after the last lesson of this kind, and what the student logged since; of `putts and short
    shots` where the lesson is one of them."""

    planned_days: int
    planned_swings: int
    days: int
    swings: int
    of: Literal["swings", "putts and short shots"] = "swings"
