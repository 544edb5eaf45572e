"""The shared library of the trade: metrics, bands, drills and safety rules, as written under content/."""

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from reportgen.records.amounts import WrittenDose
from reportgen.records.base import Line, Record, Slug, Text, UnitName
from reportgen.records.bounds import (
    BANDS,
    LINE,
    OTHERS,
    SECTIONS,
    SERVED,
    TEXT,
    WORDS,
    Figure,
    StandardUncertainty,
)
from reportgen.records.drill_figures import Figures
from reportgen.records.drill_tests import DrillTest
from reportgen.records.formulas import Formula
from reportgen.records.shots import Size
from reportgen.records.skipping import SkipIf, WrittenSkip
from reportgen.records.units import UNITS
from reportgen.records.video import Video
from reportgen.records.words import (
    Basis,
    ClubFamily,
    Direction,
    GrowthStage,
    Hips,
    LessonKind,
    Moment,
    PressureStyle,
    Sex,
    Site,
    Skill,
    Stage,
    Swing,
)


def _known_unit(unit: str) -> str:
    if unit not in UNITS:
        raise ValueError("is not a unit", f"Write one of {', '.join(UNITS)}.")
    return unit


Kinds = Annotated[tuple[LessonKind, ...], Field(min_length=1, max_length=WORDS)]
"""The kinds of lessons that something is for."""


class Uncertainty(Record):
    """Standard uncertainty of one reading by the way it was taken, in the metric's unit; absent where it cannot be
    taken that way. `source` says where the figures come from."""

    by_eye: StandardUncertainty | None = Field(default=None, alias="by-eye")
    one_view: StandardUncertainty | None = Field(default=None, alias="one-view")
    two_views: StandardUncertainty | None = Field(default=None, alias="two-views")
    sensor: StandardUncertainty | None = None
    source: Text


class Scatter(Record):
    """How far a player's swings of one day lie from each other, and days from each other: standard deviations in the
    metric's unit. A comparison of two lessons counts them."""

    swing: StandardUncertainty
    day: StandardUncertainty
    source: Text


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
    """A quantity of the swing, or of a stroke where `kinds` says so.

    `unit` is the unit of every figure in the program; `decimals` how many are shown.
    """

    GONE: ClassVar[Mapping[str, str]] = {
        "needs": "Take it out, and write stills: with the formula; what pictures must show follows from that.",
        "follows": "Take it out, and write a row of causes/ for each cause, with the side of both ends.",
    }

    id: Slug
    name: Line
    short: Annotated[str, Field(min_length=1, max_length=26)]
    checkpoint: Moment
    kinds: Kinds = ("full-swing",)
    order: Annotated[int, Field(ge=-1000, le=1000)] = 0
    unit: Annotated[UnitName, AfterValidator(_known_unit)]
    decimals: Annotated[int, Field(ge=0, le=3)] = 0
    sign: SignWords | None = None
    explain: Text
    taken: Text
    stills: Formula | None = None
    uncertainty: Uncertainty
    scatter: Scatter | None = None
    below: Beyond | None = None
    above: Beyond | None = None
    source: Text


class Fits(Record):
    """Whom a band fits; an empty list fits everyone. The band with the most conditions that hold is chosen."""

    stage: Annotated[tuple[Stage, ...], Field(max_length=WORDS)] = ()
    hips: Annotated[tuple[Hips, ...], Field(max_length=WORDS)] = ()
    restricted: Annotated[tuple[Literal["lead-hip", "trail-hip"], ...], Field(max_length=WORDS)] = ()
    sex: Annotated[tuple[Sex, ...], Field(max_length=WORDS)] = ()
    club: Annotated[tuple[ClubFamily, ...], Field(max_length=WORDS)] = ()
    pressure_style: Annotated[tuple[PressureStyle, ...], Field(max_length=WORDS)] = ()
    growth: Annotated[tuple[GrowthStage, ...], Field(max_length=WORDS)] = ()
    skill: Annotated[tuple[Skill, ...], Field(max_length=WORDS)] = ()
    kinds: Annotated[tuple[LessonKind, ...], Field(max_length=WORDS)] = ()

    @property
    def conditions(self) -> int:
        """How many conditions the band sets."""
        return sum(bool(getattr(self, name)) for name in type(self).model_fields)


class Band(Record):
    """A range of values for some bodies, in the unit that its file names.

    The limits themselves belong to the band. `limits` says what they mean (the usual span, mean ± 1 SD, ...).
    A band with `context: true` is shown beside the value and never judged. Of a `disputed` one teachers disagree: it is
    told as the academy's view.
    """

    id: Slug
    for_: Line = Field(alias="for")
    low: Figure | None = None
    high: Figure | None = None
    fits: Fits = Fits()
    basis: Basis
    limits: Line
    source: Text
    context: bool = False
    disputed: bool = False
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
    unit: Annotated[UnitName, AfterValidator(_known_unit)]
    bands: Annotated[tuple[Band, ...], Field(min_length=1, max_length=BANDS)]


class Serves(Record):
    """What a drill is good for: a metric that reads below or above its band."""

    metric: Slug
    when: Direction


class Drill(Record):
    """A drill: front matter of a Markdown file of content/drills/, and its sections.

    `serves` names the findings that it helps with, `trains` the counts of shots; it has one or both. `loads` names the
    sites that the drill works hard; `kinds` the lessons that it is given in; `sections` maps each heading of the
    text to its Markdown: Set-up, Steps, Feel, Common mistakes, Easier, Harder.

    A drill that says nothing of `swing` or `ground` is taken for the most that it can be.
    """

    id: Slug
    title: Line
    aim: Line
    kinds: Kinds = ("full-swing",)
    serves: Annotated[tuple[Serves, ...], Field(max_length=SERVED)] = ()
    trains: Annotated[tuple[Slug, ...], Field(max_length=SERVED)] = ()
    loads: Annotated[tuple[Site, ...], Field(max_length=WORDS)] = ()
    level: Annotated[int, Field(ge=1, le=3)] = 1
    equipment: Annotated[tuple[Slug, ...], Field(max_length=OTHERS)] = ()
    ball: bool = True
    swing: Swing | None = None
    ground: bool | None = None
    dose: WrittenDose
    feel: Line
    test: DrillTest | None = None
    skip_if: WrittenSkip = SkipIf()
    video: Video | None = None
    source: Text
    figures: Figures = ()
    sections: Annotated[
        dict[Annotated[str, Field(max_length=LINE)], Annotated[str, Field(max_length=TEXT)]], Field(max_length=SECTIONS)
    ] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _good_for_something(self) -> Self:
        if not self.serves and not self.trains:
            raise ValueError(
                "says neither serves nor trains", "Write the metrics that it helps with, or trains: with counts."
            )
        return self

    @property
    def swings(self) -> Swing:
        """How far the hands go with a club; unsaid, those of a putt to the hips, and any others all the way."""
        return self.swing or ("small" if self.kinds == ("putting",) else "full")

    @property
    def meets_ground(self) -> bool:
        """Whether the club meets the ground; unsaid, where a ball is hit that is no putt."""
        return (self.ball and self.kinds != ("putting",)) if self.ground is None else self.ground

    @property
    def needs(self) -> tuple[Slug, ...]:
        """All that it takes: what swings and what is hit, then its `equipment`."""
        club = () if self.swings == "none" else ("putter",) if self.kinds == ("putting",) else ("club",)
        return tuple(dict.fromkeys((*club, *(("ball",) if self.ball else ()), *self.equipment)))


DRILL_SECTIONS = ("Set-up", "Steps", "Feel", "Common mistakes", "Easier", "Harder")


class CountKind(Record):
    """What can be counted in a row of shots. `name` stands before the number, `explain` says what counts as made;
    `needs` are the lengths without which two counts cannot be compared."""

    id: Slug
    name: Line
    explain: Text
    needs: Annotated[tuple[Size, ...], Field(max_length=WORDS)] = ()
    source: Text
