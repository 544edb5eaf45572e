"""The judged lesson: the one value of which every page, chart, mail and JSON is a view."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from reportgen.records.academy import LanguageCode
from reportgen.records.amounts import Dose
from reportgen.records.base import Record, Slug
from reportgen.records.body import ComfortCourse, GrowthEstimate, Load, Screen
from reportgen.records.content import SignWords
from reportgen.records.lesson import Pixel
from reportgen.records.practice import Phase
from reportgen.records.words import (
    Basis,
    Checkpoint,
    Direction,
    How,
    Level,
    Moment,
    Side,
    Site,
    Stage,
    Verdict,
    View,
)

Interval = tuple[float, float]

Likelihood = Literal[
    "virtually certain", "extremely likely", "very likely", "likely", "more likely than not",
    "about as likely as not", "unlikely", "very unlikely", "extremely unlikely", "exceptionally unlikely",
]  # fmt: skip
"""Probability in words: the scale of the IPCC guidance note on uncertainty (Mastrandrea et al. 2010, table 1)."""

Movement = Literal["moved toward the range", "moved away from the range", "no change we can see", "changed"]


class Reading(Record):
    """A measured value in its metric's unit.

    `u` is the standard uncertainty, same unit, above 0; `dof` its effective degrees of freedom, None for infinitely
    many; `swings` the single values where several swings were measured.
    """

    metric: Slug
    value: float
    u: Annotated[float, Field(gt=0)]
    dof: float | None = None
    how: How
    views: int = 1
    swings: tuple[float, ...] = ()
    note: str | None = None
    also: tuple["Reading", ...] = ()
    """Readings of the same metric in the same lesson by other ways, which this one wins over."""


class BandUsed(Record):
    """The band that a value was held against, in the finding's unit, and why this one."""

    low: float | None
    high: float | None
    for_: str = Field(alias="for")
    source: str
    basis: Basis
    limits: str
    why: str
    context: bool = False


class Change(Record):
    """A value against an earlier lesson's: `by` in the finding's unit, `detectable` the smallest change that
    measurement error does not explain at 95 %."""

    since: date
    before: float
    by: float
    detectable: float
    real: bool
    says: Movement


class Trend(Record):
    """The course over the last lessons: Theil-Sen slope in the metric's unit per 30 days, with its 95 % interval.

    `clear` where the interval leaves out 0; `lessons` counts those that it rests on.
    """

    per_30_days: float
    interval: Interval
    lessons: int
    clear: bool


class Spread(Record):
    """Repeatability over the swings of one lesson: their standard deviation, in the metric's unit, with its 95 %
    interval."""

    sd: float
    interval: Interval
    swings: int


class Finding(Record):
    """One judged value. `interval` covers 95 %; `probability` is that of the true value being in the band."""

    metric: Slug
    name: str
    short: str
    checkpoint: Moment
    value: float
    u: float
    dof: float | None = None
    interval: Interval
    unit: str
    decimals: int
    sign: SignWords | None
    how: How
    views: int
    swings: tuple[float, ...]
    band: BandUsed | None
    probability: float | None
    verdict: Verdict
    likelihood: Likelihood | None
    change: Change | None
    since_first: Change | None
    not_compared: str | None = None
    """Why an earlier value is left out of the comparison: another club, another way of measuring."""
    trend: Trend | None = None
    in_range_since: date | None = None
    """The first of the lessons in a row, up to this one, in which the value was surely in range."""
    best_so_far: bool = False
    """Nearer to the range than in any earlier lesson, by more than measurement error explains."""
    spread: Spread | None = None
    also: tuple[Reading, ...] = ()
    """What other ways of measuring gave in the same lesson."""
    means: str | None
    """What lies behind the value, where it is out of the band."""
    too_coarse: bool
    """No value could be told to be in this band when it is taken in this way."""
    note: str | None


class Effect(Record):
    """An out-of-range metric that can come from another one, and so waits until that is better."""

    metric: Slug
    short: str
    verdict: Verdict


class Priority(Record):
    """One thing to work on, in words said to the student."""

    metric: Slug
    name: str
    direction: Direction | None
    headline: str
    reason: str
    effects: tuple[Effect, ...] = ()
    """What can follow from it in this swing."""
    chosen_by: Literal["numbers", "instructor"]


class GivenDrill(Record):
    """A drill given in this lesson, with its dose."""

    drill: Slug
    title: str
    aim: str
    feel: str
    dose: Dose
    serves: Slug | None
    loads: tuple[Site, ...]
    note: str | None
    easier: str | None = None
    """The easier form, in Markdown, where it is the one for this student: it spares a hip that turns little."""
    chosen_by: Literal["instructor", "plan"]


class PracticeItem(Record):
    """One part of a day's practice; `swings` counts full swings, with or without a ball."""

    kind: Literal["warm-up", "slow", "block", "mixed", "speed"]
    what: str
    drill: Slug | None
    minutes: int
    swings: int


class PracticeDay(Record):
    """One day of the week's practice, in its order."""

    day: date
    items: tuple[PracticeItem, ...]

    @property
    def swings(self) -> int:
        """Full swings of the day."""
        return sum(item.swings for item in self.items)

    @property
    def minutes(self) -> int:
        """Minutes of the day, as far as they can be told beforehand."""
        return sum(item.minutes for item in self.items)


class PracticeWeek(Record):
    """The days of practice until the next lesson, and why they are as they are."""

    days: tuple[PracticeDay, ...]
    phase: Phase | None
    says: str
    swings_a_day_at_most: int
    swings_a_week_at_most: int


class Practised(Record):
    """What was planned after the last lesson, and what the student logged since."""

    planned_days: int
    planned_swings: int
    days: int
    swings: int
    says: str


class Caution(Record):
    """A caution that applies to this student today."""

    rule: Slug
    level: Level
    text: str
    instructor: str
    source: str
    usual: bool
    """One of the cautions that are said to everybody."""
    raised_on: date | None = None
    """The day of the lesson that raised it, where it stands from an earlier one."""


class Missing(Record):
    """What could not be said, and what would make it possible."""

    metric: Slug | None
    name: str | None = None
    kind: Literal["not this time", "left out", "needs"]
    """Measured last time and not now; a drill left out; a picture or mark that would give one more metric."""
    says: str


class Stroke(Record):
    """A line to draw on a picture, through points in its pixels (x to the right, y down).

    `setup` strokes are where something stood at setup, `upright` ones the vertical: both are references to hold the
    others against. `says` is the value that belongs to the line.
    """

    kind: Literal["hips", "shoulders", "leg", "trunk", "place", "upright", "setup"]
    points: Annotated[tuple[Pixel, ...], Field(min_length=1)]
    says: str | None = None
    verdict: Verdict = "no range"


class Shot(Record):
    """A picture file inside the academy, with what is drawn on it.

    `size` is width and height in pixels, upright; `px_per_m` its scale, where it has one; `centre` the middle between
    the hips, where they are marked.
    """

    file: str
    size: tuple[int, int]
    px_per_m: float | None
    centre: Pixel | None
    strokes: tuple[Stroke, ...]
    caption: str
    alt: str


class Picture(Record):
    """A still of the lesson, and the one to hold it against; `shot` is None where it is withheld, and why."""

    view: View
    checkpoint: Checkpoint
    shot: Shot | None
    beside: Shot | None
    withheld: str | None


class Point(Record):
    """One lesson's value in a series."""

    lesson: str
    date: date
    value: float
    interval: Interval
    verdict: Verdict
    noted: bool = False
    """The lesson has the instructor's notes."""


class Series(Record):
    """All values of one metric up to this lesson, oldest first, with today's band."""

    metric: Slug
    name: str
    short: str
    checkpoint: Moment
    unit: str
    decimals: int
    sign: SignWords | None
    band: BandUsed | None
    points: tuple[Point, ...]
    says: str


class Glance(Record):
    """One checkpoint of the swing: the gravest verdict among what was measured there, None where nothing was."""

    moment: Moment
    verdict: Verdict | None
    says: str


class Person(Record):
    """The student as far as pages may show them."""

    id: Slug
    name: str
    first_name: str
    plays: Side
    stage: Stage
    restricted_hips: bool


class LessonReport(Record):
    """Everything that is said about one lesson. Views print it; none of them computes anything."""

    student: Slug
    language: LanguageCode = "en"
    """In which every sentence of it is written."""
    person: Person
    lesson: str
    """The date, with `-2` for a second lesson that day; the name of its sheet and of its page."""
    date: date
    number: int
    """First lesson 1, second 2, ..."""
    club: str
    focus: str | None
    summary: str
    """How many values were measured and where they lie, in one sentence."""
    findings: tuple[Finding, ...]
    glance: tuple[Glance, ...]
    priorities: tuple[Priority, ...]
    drills: tuple[GivenDrill, ...]
    practice: PracticeWeek | None
    practised: Practised | None
    cautions: tuple[Caution, ...]
    missing: tuple[Missing, ...]
    pictures: tuple[Picture, ...]
    progress: tuple[Series, ...]
    notes: str | None
    growth: GrowthEstimate | None = None
    """Of a junior with fresh measurements."""
    screen: Screen | None = None
    comfort: tuple[ComfortCourse, ...] = ()
    """Of the sites that were asked about in this lesson."""
    load: Load | None = None
    """None after a stop."""
    for_the_desk: tuple[str, ...] = ()
    """Remarks for the instructor alone; no page of the student shows them."""
    stopped: bool
    """A stop-level caution stands: no drill, no dose, no practice anywhere."""
