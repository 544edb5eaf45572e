"""The test of a drill, the counts of it, and what they come to."""

from datetime import date
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from reportgen.records.base import Line, Record, Slug, Text
from reportgen.records.bounds import TRIES

Made = Annotated[int, Field(ge=0, le=TRIES)]
Tries = Annotated[int, Field(ge=1, le=TRIES)]


class DrillTest(Record):
    """How one knows that a drill works: `count` says in one sentence what counts, `of` how many are counted, `passes`
    how many of them pass. `setting` is the club, the gate, the distance, where it hangs on them."""

    count: Line
    of: Annotated[int, Field(ge=5, le=30)]
    passes: Annotated[int, Field(ge=1, le=30)]
    setting: Line | None = None
    source: Text

    @model_validator(mode="after")
    def _can_be_passed(self) -> Self:
        if self.passes > self.of:
            raise ValueError(f"passes with {self.passes} of {self.of}", f"Write passes: {self.of} or less.")
        return self


class TriedDrill(Record):
    """A count of a drill's test as it is written: `made` of so many; without `of` it is of as many as the test."""

    drill: Slug
    made: Made
    of: Tries | None = None

    @model_validator(mode="after")
    def _no_more_made_than_tried(self) -> Self:
        if self.of is not None and self.made > self.of:
            raise ValueError(f"has {self.made} made of {self.of}", "Look at made and of.")
        return self


class DrillCount(Record):
    """One count of a drill's test: `made` of so many tries on a day, and who counted."""

    drill: Slug
    date: date
    made: Made
    of: Tries
    by: Literal["instructor", "student"]


class DayTested(Record):
    """All counts of a drill's test on one day, added up. `passed` is by the test as it is today; `at_home` where the
    student alone counted."""

    date: date
    made: int
    of: int
    passed: bool
    at_home: bool


class DrillTested(Record):
    """What the counts of a drill's test have come to, by the days on which it was counted, oldest first (at least one).

    `kept`: passed on the last two days. `met`: passed on the last day, not on the one before it, or there is none.
    `not this time`: not passed on the last day, and on an earlier one. `not yet`: never passed.
    """

    drill: Slug
    standing: Literal["kept", "met", "not this time", "not yet"]
    days: tuple[DayTested, ...]
