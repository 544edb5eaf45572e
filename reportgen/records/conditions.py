"""When a safety rule is said: a small, closed grammar of conditions. A condition is data; it is never run as code."""

from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from reportgen.records.base import Record, Slug
from reportgen.records.bounds import PARTS_OF_CONDITION, PRACTISED, WORDS, Figure
from reportgen.records.words import (
    ClubFamily,
    FeltWhen,
    GrowthStage,
    Hips,
    PractisedKind,
    Site,
    Stage,
    Verdict,
)

Sites = Annotated[tuple[Site, ...], Field(min_length=1, max_length=WORDS)]
Score = Annotated[int, Field(ge=0, le=10)]
HipSites = Annotated[tuple[Literal["lead-hip", "trail-hip"], ...], Field(min_length=1, max_length=2)]


class ComfortIs(Record):
    """A comfort score of a site reaches `at_least` (and at most `at_most`), at one of the times named."""

    site: Sites
    at_least: Score
    at_most: Score = 10
    when: Annotated[tuple[FeltWhen, ...], Field(max_length=WORDS)] = ()

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.at_least > self.at_most:
            raise ValueError(f"has at_least {self.at_least} above at_most {self.at_most}", "Swap the two.")
        return self


class ComfortRises(Record):
    """The highest score of a site rose from lesson to lesson, `times` in a row up to this one, and is now `at_least`
    this much."""

    site: Sites
    times: Annotated[int, Field(ge=1, le=3)] = 2
    at_least: Score = 1


class ComfortLasts(Record):
    """The highest score of a site was `at_least` this much in each of the last `lessons` that asked about it."""

    site: Sites
    lessons: Annotated[int, Field(ge=2, le=4)] = 2
    at_least: Score = 1


class FindingIs(Record):
    """A metric reaches a value (in its own unit), or has one of the verdicts named."""

    metric: Slug
    at_least: Figure | None = None
    at_most: Figure | None = None
    verdict: Annotated[tuple[Verdict, ...], Field(max_length=WORDS)] = ()

    @model_validator(mode="after")
    def _asks_something(self) -> Self:
        if self.at_least is None and self.at_most is None and not self.verdict:
            raise ValueError("asks nothing of its metric", "Give at_least, at_most or verdict.")
        return self


class AgeIs(Record):
    """Completed years on the day of the lesson, both limits included."""

    at_least: Annotated[int, Field(ge=0, le=120)] = 0
    at_most: Annotated[int, Field(ge=0, le=120)] = 120

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.at_least > self.at_most:
            raise ValueError(f"has at_least {self.at_least} above at_most {self.at_most}", "Swap the two.")
        return self


PracticeMeasure = Literal[
    "swings-a-day", "swings-in-two-days", "swings-a-week", "rise", "days-in-a-row", "hours-a-week", "hours-over-age",
    "months-in-a-row",
]  # fmt: skip


class PracticeIs(Record):
    """The practice log reaches a figure.

    swings-a-day, swings-in-two-days: the most full swings on one of the last seven days, on two days that follow one
    another. swings-a-week: full swings of the last seven days. rise: these over the mean of the (two to four) logged
    weeks before, a ratio. days-in-a-row: days of golf without a rest day. hours-a-week: hours of the last seven days.
    hours-over-age: those hours less the age in years. months-in-a-row: calendar months with golf, up to this one.
    """

    measure: PracticeMeasure
    at_least: Annotated[float, Field(ge=-PRACTISED, le=PRACTISED)] | None = None
    above: Annotated[float, Field(ge=-PRACTISED, le=PRACTISED)] | None = None

    @model_validator(mode="after")
    def _one_limit(self) -> Self:
        if (self.at_least is None) == (self.above is None):
            raise ValueError("has neither or both of at_least and above", "Give one of them.")
        return self


class HipTurns(Record):
    """The measured passive internal rotation of one of the hips named is `below` this many degrees."""

    hip: HipSites
    below: Annotated[float, Field(gt=0, le=90)]


Conditions = Annotated[tuple["Condition", ...], Field(min_length=1, max_length=PARTS_OF_CONDITION)]


class Condition(Record):
    """The closed grammar of a rule's `when`: exactly one of these keys.

    What was not measured, not asked or not logged makes a condition on it false (and `not` of it true).
    """

    always: bool | None = None
    all: Conditions | None = None
    any: Conditions | None = None
    not_: "Condition | None" = Field(default=None, alias="not")
    stage: Annotated[tuple[Stage, ...], Field(min_length=1, max_length=WORDS)] | None = None
    age: AgeIs | None = None
    growth: Annotated[tuple[GrowthStage, ...], Field(min_length=1, max_length=WORDS)] | None = None
    grows: Annotated[float, Field(gt=0, le=20)] | None = None
    hips: Annotated[tuple[Hips, ...], Field(min_length=1, max_length=WORDS)] | None = None
    restricted: HipSites | None = None
    hip_turns: HipTurns | None = None
    hip_difference: Annotated[float, Field(gt=0, le=90)] | None = None
    watch: Sites | None = None
    comfort: ComfortIs | None = None
    comfort_rises: ComfortRises | None = None
    comfort_lasts: ComfortLasts | None = None
    finding: FindingIs | None = None
    club: Annotated[tuple[ClubFamily, ...], Field(min_length=1, max_length=WORDS)] | None = None
    practice: PracticeIs | None = None
    practised: Annotated[tuple[PractisedKind, ...], Field(min_length=1, max_length=WORDS)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _one_key(cls, written: Any) -> Any:
        if isinstance(written, dict) and len(written) != 1:
            keys = ", ".join(str(k) for k in written) or "none"
            raise ValueError(f"takes exactly one condition ({keys} given)", "Put several under all: or any:.")
        return written

    @property
    def inner(self) -> tuple["Condition", ...]:
        """The conditions directly below this one."""
        return (*(self.all or ()), *(self.any or ()), *((self.not_,) if self.not_ is not None else ()))
