"""When a safety rule is said: a small, closed grammar of conditions. A condition is data; it is never run as code."""

from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from reportgen.records.base import Record, Slug
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

Sites = Annotated[tuple[Site, ...], Field(min_length=1)]
Score = Annotated[int, Field(ge=0, le=10)]


class ComfortIs(Record):
    """A comfort score of a site reaches `at_least` (and at most `at_most`), at one of the times named."""

    site: Sites
    """At one of these places."""
    at_least: Score
    """From this score on."""
    at_most: Score = 10
    """Up to this score."""
    when: tuple[FeltWhen, ...] = ()
    """Felt at one of these times; left out, at any."""

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.at_least > self.at_most:
            raise ValueError(f"has at_least {self.at_least} above at_most {self.at_most}", "Swap the two.")
        return self


class ComfortRises(Record):
    """The highest score of a site rose from lesson to lesson, `times` in a row up to this one, and is now `at_least`
    this much."""

    site: Sites
    """At one of these places."""
    times: Annotated[int, Field(ge=1, le=3)] = 2
    """So many rises in a row."""
    at_least: Score = 1
    """And this score now."""


class ComfortLasts(Record):
    """The highest score of a site was `at_least` this much in each of the last `lessons` that asked about it."""

    site: Sites
    """At one of these places."""
    lessons: Annotated[int, Field(ge=2, le=4)] = 2
    """In so many lessons in a row that asked."""
    at_least: Score = 1
    """This score each time."""


class FindingIs(Record):
    """A metric reaches a value (in its own unit), or has one of the verdicts named."""

    metric: Slug
    """The metric."""
    at_least: float | None = None
    """From this value on, in its own unit."""
    at_most: float | None = None
    """Down from this value."""
    verdict: tuple[Verdict, ...] = ()
    """Or with one of these verdicts."""

    @model_validator(mode="after")
    def _asks_something(self) -> Self:
        if self.at_least is None and self.at_most is None and not self.verdict:
            raise ValueError("asks nothing of its metric", "Give at_least, at_most or verdict.")
        return self


class AgeIs(Record):
    """Completed years on the day of the lesson, both limits included."""

    at_least: Annotated[int, Field(ge=0, le=120)] = 0
    """From this age on."""
    at_most: Annotated[int, Field(ge=0, le=120)] = 120
    """Up to this age."""

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.at_least > self.at_most:
            raise ValueError(f"has at_least {self.at_least} above at_most {self.at_most}", "Swap the two.")
        return self


PracticeMeasure = Literal["swings-a-week", "rise", "days-in-a-row", "hours-a-week", "hours-over-age", "months-in-a-row"]


class PracticeIs(Record):
    """The practice log reaches a figure.

    swings-a-week: full swings of the last seven days. rise: these over the mean of the (two to four) logged weeks
    before, a ratio. days-in-a-row: days of golf without a rest day. hours-a-week: hours of the last seven days.
    hours-over-age: those hours less the age in years. months-in-a-row: calendar months with golf, up to this one.
    """

    measure: PracticeMeasure
    """What of the log is counted."""
    at_least: float | None = None
    """From this figure on."""
    above: float | None = None
    """Beyond this figure."""

    @model_validator(mode="after")
    def _one_limit(self) -> Self:
        if (self.at_least is None) == (self.above is None):
            raise ValueError("has neither or both of at_least and above", "Give one of them.")
        return self


class HipTurns(Record):
    """The measured passive internal rotation of one of the hips named is `below` this many degrees."""

    hip: Annotated[tuple[Literal["lead-hip", "trail-hip"], ...], Field(min_length=1)]
    """One of these hips."""
    below: Annotated[float, Field(gt=0, le=90)]
    """Turns inward less than so many degrees."""


Conditions = Annotated[tuple["Condition", ...], Field(min_length=1)]


class Condition(Record):
    """The closed grammar of a rule's `when`: exactly one of these keys.

    What was not measured, not asked or not logged makes a condition on it false (and `not` of it true).
    """

    always: bool | None = None
    """Always; written as true."""
    all: Conditions | None = None
    """All of these hold."""
    any: Conditions | None = None
    """At least one of these holds."""
    not_: "Condition | None" = Field(default=None, alias="not")
    """This one does not hold."""
    stage: Annotated[tuple[Stage, ...], Field(min_length=1)] | None = None
    """The student is a junior (under 18), an adult or a senior (from 60)."""
    age: AgeIs | None = None
    """Completed years lie within these limits."""
    growth: Annotated[tuple[GrowthStage, ...], Field(min_length=1)] | None = None
    """A fresh estimate says before, around or after the growth spurt."""
    grows: Annotated[float, Field(gt=0, le=20)] | None = None
    """Height grew by at least so many cm a year, by fresh measurements."""
    hips: Annotated[tuple[Hips, ...], Field(min_length=1)] | None = None
    """The hips are typical, or one is restricted."""
    restricted: Annotated[tuple[Literal["lead-hip", "trail-hip"], ...], Field(min_length=1)] | None = None
    """One of these hips is restricted."""
    hip_turns: HipTurns | None = None
    """A measured hip turns inward less than so many degrees."""
    hip_difference: Annotated[float, Field(gt=0, le=90)] | None = None
    """The two measured hips differ by at least so many degrees."""
    watch: Sites | None = None
    """One of these sites is on the student's watch list."""
    comfort: ComfortIs | None = None
    """A comfort score of this lesson reaches a figure."""
    comfort_rises: ComfortRises | None = None
    """The scores of a site rise from lesson to lesson."""
    comfort_lasts: ComfortLasts | None = None
    """A site has been felt in several lessons."""
    finding: FindingIs | None = None
    """A metric of this lesson reaches a value or has a verdict."""
    club: Annotated[tuple[ClubFamily, ...], Field(min_length=1)] | None = None
    """A club of one of these families is in hand."""
    practice: PracticeIs | None = None
    """The practice log reaches a figure."""
    practised: Annotated[tuple[PractisedKind, ...], Field(min_length=1)] | None = None
    """One of these kinds of practice is in the log of the last four weeks."""

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
