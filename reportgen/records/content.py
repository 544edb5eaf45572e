"""The shared library of the trade: metrics, bands, drills and safety rules, as written under content/."""

from typing import Annotated, Self

from pydantic import BeforeValidator, Field, model_validator

from reportgen.records.amounts import WrittenDose
from reportgen.records.base import Line, Record, Slug, Text
from reportgen.records.conditions import Condition
from reportgen.records.units import UNITS
from reportgen.records.words import (
    Basis,
    Checkpoint,
    ClubFamily,
    Direction,
    GrowthStage,
    Hips,
    Level,
    Mark,
    Moment,
    PressureStyle,
    Sex,
    Site,
    Stage,
    View,
)


def _known_unit(unit: str) -> str:
    if unit not in UNITS:
        raise ValueError("is not a unit", f"Write one of {', '.join(UNITS)}.")
    return unit


class Uncertainty(Record):
    """Standard uncertainty of one reading by the way it was taken, in the metric's unit; absent where it cannot be
    taken that way. `source` says where the figures come from."""

    by_eye: Annotated[float, Field(gt=0)] | None = Field(default=None, alias="by-eye")
    one_view: Annotated[float, Field(gt=0)] | None = Field(default=None, alias="one-view")
    two_views: Annotated[float, Field(gt=0)] | None = Field(default=None, alias="two-views")
    sensor: Annotated[float, Field(gt=0)] | None = None
    source: Text


class Needs(Record):
    """What must be on the pictures for the program to measure it: views, checkpoints, marks."""

    views: tuple[View, ...] = ()
    checkpoints: tuple[Checkpoint, ...] = ()
    marks: tuple[Mark, ...] = ()


class Beyond(Record):
    """What lies behind a value on one side of the band.

    `means` explains; `work_on` is the headline of a priority, said to the student; `because` is one sentence, why it
    matters.
    """

    means: Text
    work_on: Line
    because: Text


class SignWords(Record):
    """What the sign says, as in `open` and `closed`; shown after the value without its sign."""

    plus: Line
    minus: Line


class Metric(Record):
    """A quantity of the swing.

    `unit` is the unit of every figure in the program; `decimals` how many are shown. `follows` names earlier metrics
    that this one can come from.
    """

    id: Slug
    name: Line
    short: Annotated[str, Field(min_length=1, max_length=26)]
    checkpoint: Moment
    order: int = 0
    unit: Annotated[str, BeforeValidator(_known_unit)]
    decimals: Annotated[int, Field(ge=0, le=3)] = 0
    sign: SignWords | None = None
    explain: Text
    taken: Text
    needs: Needs = Needs()
    uncertainty: Uncertainty
    below: Beyond | None = None
    above: Beyond | None = None
    follows: tuple[Slug, ...] = ()
    source: Text


class Fits(Record):
    """Whom a band fits; an empty list fits everyone. The band with the most conditions that hold is chosen."""

    stage: tuple[Stage, ...] = ()
    hips: tuple[Hips, ...] = ()
    sex: tuple[Sex, ...] = ()
    club: tuple[ClubFamily, ...] = ()
    pressure_style: tuple[PressureStyle, ...] = ()
    growth: tuple[GrowthStage, ...] = ()

    @property
    def conditions(self) -> int:
        """How many conditions the band sets."""
        return sum(bool(getattr(self, name)) for name in type(self).model_fields)


class Band(Record):
    """A range of values for some bodies, in the unit that its file names.

    The limits themselves belong to the band. `limits` says what they mean (the usual span, mean ± 1 SD, ...).
    A band with `context: true` is shown beside the value and never judged.
    """

    id: Slug
    for_: Line = Field(alias="for")
    low: float | None = None
    high: float | None = None
    fits: Fits = Fits()
    basis: Basis
    limits: Line
    source: Text
    context: bool = False
    note: Text | None = None

    @model_validator(mode="after")
    def _limits_in_order(self) -> Self:
        if self.low is None and self.high is None:
            raise ValueError("has no limit", "Give low, high or both.")
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise ValueError(f"has low {self.low:g} at or above high {self.high:g}", "Swap the two.")
        return self

    @model_validator(mode="after")
    def _source_says_its_basis(self) -> Self:
        if self.basis == "common practice" and not self.source.startswith("common practice"):
            raise ValueError(
                "has the basis common practice and another source", "Begin its source with common practice."
            )
        return self


class BandFile(Record):
    """One file of content/bands/: all bands of one metric."""

    metric: Slug
    unit: Annotated[str, BeforeValidator(_known_unit)]
    bands: Annotated[tuple[Band, ...], Field(min_length=1)]


class Serves(Record):
    """What a drill is good for: a metric that reads below or above its band."""

    metric: Slug
    when: Direction


class Drill(Record):
    """A drill: front matter of a Markdown file of content/drills/, and its sections.

    `loads` names the sites that the drill works hard; `sections` maps each heading of the text to its Markdown:
    Set-up, Steps, Feel, Common mistakes, Easier, Harder.
    """

    id: Slug
    title: Line
    aim: Line
    serves: Annotated[tuple[Serves, ...], Field(min_length=1)]
    loads: tuple[Site, ...] = ()
    level: Annotated[int, Field(ge=1, le=3)] = 1
    """1 for a first try, 2 once that is easy, 3 for a practised player."""
    equipment: tuple[Slug, ...] = ()
    ball: bool = True
    dose: WrittenDose
    feel: Line
    """The one feel to take along, said in a line."""
    skip_if: Line | None = None
    """Who should leave this drill out."""
    video: Line | None = None
    """A link, or a file beside the drill."""
    source: Text
    sections: dict[str, str] = Field(default_factory=dict)


DRILL_SECTIONS = ("Set-up", "Steps", "Feel", "Common mistakes", "Easier", "Harder")


class SafetyRule(Record):
    """A caution and when it is said.

    Levels: `note` tells; `hold` also keeps drills that load the `holds` sites out of the plan; `stop` gives no plan.
    """

    id: Slug
    level: Level
    when: Condition
    holds: tuple[Site, ...] = ()
    student: Text
    instructor: Text
    basis: Basis
    source: Text


class SafetyFile(Record):
    """One file of content/safety/."""

    rules: Annotated[tuple[SafetyRule, ...], Field(min_length=1)]
