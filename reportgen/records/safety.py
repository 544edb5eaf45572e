"""Cautions, as written in content/safety."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from reportgen.records.base import Line, Record, Slug, Text
from reportgen.records.bounds import (
    RULES,
    WORDS,
)
from reportgen.records.conditions import Condition
from reportgen.records.content import Kinds
from reportgen.records.words import (
    LESSON_KINDS,
    Activity,
    Basis,
    Concern,
    Level,
    Site,
)


class SafetyRule(Record):
    """A caution and when it is said.

    Levels: `note` tells; `hold` also keeps drills that load the `holds` sites out of the plan; `stop` gives no plan.
    Whatever the level, nothing that a rule `forbids` is in the plan while it stands. `label` is its heading where it
    stands folded; `concern` says what it is about, and with the level how grave it is.
    Beside a stop a note is only said `with_stop: true`: most others speak of how to practise on. A note can be of some
    `kinds` of lessons alone; whatever keeps somebody from practising holds in all.
    """

    id: Slug
    level: Level
    label: Line | None = None
    concern: Concern = "pain"
    when: Condition
    kinds: Kinds = LESSON_KINDS
    holds: Annotated[tuple[Site, ...], Field(max_length=WORDS)] = ()
    forbids: Annotated[tuple[Activity, ...], Field(max_length=WORDS)] = ()
    with_stop: bool = False
    student: Text
    instructor: Text
    basis: Basis
    source: Text

    @model_validator(mode="after")
    def _a_hold_holds_something(self) -> Self:
        if self.level == "hold" and not self.holds:
            raise ValueError("is a hold and holds nothing", "Add holds: with the places, or write level: note.")
        return self

    @model_validator(mode="after")
    def _nothing_grave_is_of_some_lessons(self) -> Self:
        if self.level != "note" and set(self.kinds) != set(LESSON_KINDS):
            raise ValueError(f"is a {self.level} and of some lessons alone", "Take kinds: out, or write level: note.")
        return self


class SafetyFile(Record):
    """One file of content/safety/."""

    rules: Annotated[tuple[SafetyRule, ...], Field(min_length=1, max_length=RULES)]
