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
    """When it is judged by eye."""
    one_view: Annotated[float, Field(gt=0)] | None = Field(default=None, alias="one-view")
    """When it comes from one picture."""
    two_views: Annotated[float, Field(gt=0)] | None = Field(default=None, alias="two-views")
    """When it comes from two pictures."""
    sensor: Annotated[float, Field(gt=0)] | None = None
    """When a sensor gives it."""
    source: Text
    """Where the figures come from."""


class Needs(Record):
    """What must be on the pictures for the program to measure it: views, checkpoints, marks."""

    views: tuple[View, ...] = ()
    """From where the pictures are taken."""
    checkpoints: tuple[Checkpoint, ...] = ()
    """Which moments they show."""
    marks: tuple[Mark, ...] = ()
    """Which points are set on them."""


class Beyond(Record):
    """What lies behind a value on one side of the band.

    `means` explains; `work_on` is the headline of a priority, said to the student; `because` is one sentence, why it
    matters.
    """

    means: Text
    """What such a value means."""
    work_on: Line
    """The headline of the priority, said to the student."""
    because: Text
    """Why it matters, in one sentence."""


class SignWords(Record):
    """What the sign says, as in `open` and `closed`; shown after the value without its sign."""

    plus: Line
    """The word for values above 0."""
    minus: Line
    """The word for values below 0."""


class Metric(Record):
    """A quantity of the swing.

    `unit` is the unit of every figure in the program; `decimals` how many are shown. `follows` names earlier metrics
    that this one can come from.
    """

    id: Slug
    """The name of its file, by which sheets call it."""
    name: Line
    """The full name."""
    short: Annotated[str, Field(min_length=1, max_length=26)]
    """A short name for charts and tables."""
    checkpoint: Moment
    """The moment of the swing that it belongs to."""
    order: int = 0
    """Its place among those of one moment, smallest first."""
    unit: Annotated[str, BeforeValidator(_known_unit)]
    """The unit of every figure that the program shows."""
    decimals: Annotated[int, Field(ge=0, le=3)] = 0
    """How many decimals are shown."""
    sign: SignWords | None = None
    """The words for above and below 0."""
    explain: Text
    """What it is, said to the student."""
    taken: Text
    """How it is measured, so that another measures the same."""
    needs: Needs = Needs()
    """What pictures must show for the program to measure it."""
    uncertainty: Uncertainty
    """How sure one reading is, by the way it was taken: standard uncertainties in the metric's unit."""
    below: Beyond | None = None
    """What a value below the range says."""
    above: Beyond | None = None
    """What a value above the range says."""
    follows: tuple[Slug, ...] = ()
    """Earlier metrics that this one can come from: the cause is worked on first."""
    source: Text
    """Where the definition comes from."""


class Fits(Record):
    """Whom a band fits; an empty list fits everyone. The band with the most conditions that hold is chosen."""

    stage: tuple[Stage, ...] = ()
    """Under 18, adult, or from 60 on."""
    hips: tuple[Hips, ...] = ()
    """Typical or restricted."""
    sex: tuple[Sex, ...] = ()
    """Only where a published value differs by it."""
    club: tuple[ClubFamily, ...] = ()
    """The families of clubs."""
    pressure_style: tuple[PressureStyle, ...] = ()
    """Where the pressure goes by habit."""
    growth: tuple[GrowthStage, ...] = ()
    """Before, around or after the growth spurt."""

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
    """A name of its own within the file."""
    for_: Line = Field(alias="for")
    """For whom it is, in words that the report prints."""
    low: float | None = None
    """The lower end; left out, there is none."""
    high: float | None = None
    """The upper end; left out, there is none."""
    fits: Fits = Fits()
    """Whom it fits."""
    basis: Basis
    """What it rests on."""
    limits: Line
    """What low and high mean: the usual span, mean ± 1 SD, and so on."""
    source: Text
    """The citation, or a plain word that there is none."""
    context: bool = False
    """With true it is shown beside the value and never judged."""
    note: Text | None = None
    """A remark that the report prints."""

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
    """Which metric the bands are for."""
    unit: Annotated[str, BeforeValidator(_known_unit)]
    """The unit of low and high."""
    bands: Annotated[tuple[Band, ...], Field(min_length=1)]
    """The ranges."""


class Serves(Record):
    """What a drill is good for: a metric that reads below or above its band."""

    metric: Slug
    """The metric."""
    when: Direction
    """Whether it reads below or above its range."""


class Drill(Record):
    """A drill: front matter of a Markdown file of content/drills/, and its sections.

    `loads` names the sites that the drill works hard; `sections` maps each heading of the text to its Markdown:
    Set-up, Steps, Feel, Common mistakes, Easier, Harder.
    """

    id: Slug
    """The name of its file, by which sheets call it."""
    title: Line
    """The heading of its page."""
    aim: Line
    """What it is for, in one line."""
    serves: Annotated[tuple[Serves, ...], Field(min_length=1)]
    """Which findings it helps with."""
    loads: tuple[Site, ...] = ()
    """Places of the body that it works hard: it stays away from students who watch them."""
    level: Annotated[int, Field(ge=1, le=3)] = 1
    """1 for a first try, 2 once that is easy, 3 for a practised player."""
    equipment: tuple[Slug, ...] = ()
    """What it needs."""
    ball: bool = True
    """Whether a ball is hit."""
    dose: WrittenDose
    """How much at one go."""
    feel: Line
    """The one feel to take along, said in a line."""
    skip_if: Line | None = None
    """Who should leave this drill out."""
    video: Line | None = None
    """A link, or a file beside the drill."""
    source: Text
    """Where it comes from."""
    sections: dict[str, str] = Field(default_factory=dict)
    """The text below the front matter, under the headings Set-up, Steps, Feel, Common mistakes, Easier and Harder; you
    do not write this field."""


DRILL_SECTIONS = ("Set-up", "Steps", "Feel", "Common mistakes", "Easier", "Harder")


class SafetyRule(Record):
    """A caution and when it is said.

    Levels: `note` tells; `hold` also keeps drills that load the `holds` sites out of the plan; `stop` gives no plan.
    Beside a stop a note is only said `with_stop: true`: most others speak of how to practise on.
    """

    id: Slug
    """A name of its own within the file."""
    level: Level
    """note tells, hold also keeps drills out, stop gives no plan at all."""
    when: Condition
    """When it is said."""
    holds: tuple[Site, ...] = ()
    """The places of the body whose drills are kept out."""
    with_stop: bool = False
    """Whether a note is said beside a stop too; most speak of how to practise on, and are not."""
    student: Text
    """What the student reads."""
    instructor: Text
    """What you read on the desk."""
    basis: Basis
    """What it rests on."""
    source: Text
    """The citation, or a plain word that there is none."""

    @model_validator(mode="after")
    def _a_hold_holds_something(self) -> Self:
        if self.level == "hold" and not self.holds:
            raise ValueError("is a hold and holds nothing", "Add holds: with the places, or write level: note.")
        return self


class SafetyFile(Record):
    """One file of content/safety/."""

    rules: Annotated[tuple[SafetyRule, ...], Field(min_length=1)]
    """The rules, in any order."""
