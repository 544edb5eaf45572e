"""A measured value and its judgement, as facts: codes, ids, dates, and numbers in the unit that stands beside them."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from reportgen.records.base import Line, Record, Slug
from reportgen.records.words import Basis, Club, How, Moment, Surface, Verdict

Interval = tuple[float, float]

Likelihood = Literal[
    "virtually certain", "extremely likely", "very likely", "likely", "more likely than not",
    "about as likely as not", "unlikely", "very unlikely", "extremely unlikely", "exceptionally unlikely",
]  # fmt: skip
"""Probability in words: the scale of the IPCC guidance note on uncertainty (Mastrandrea et al. 2010, table 1)."""

Movement = Literal["moved toward the range", "moved away from the range", "changed"]

RemarkCode = Literal[
    "ways differ", "ratio too high", "frame rate", "planar bend", "one-view turn", "distance unknown", "ball moved",
    "camera moved",
]  # fmt: skip


class Remark(Record):
    """Something that a reader should know of how a value came about.

    `ways differ`: the other way `how` gave `figures["value"]`, in the metric's unit. `frame rate`: `fps`, the
    `seconds` of the downswing, and the `percent` of the value that one frame carries. `ratio too high`: the `value`,
    and the `highest` that a clubhead gives.
    """

    code: RemarkCode
    how: How | None = None
    figures: dict[str, float] = Field(default_factory=dict)


class Parts(Record):
    """The standard uncertainties that a value's is made of, all in its unit, by what shares them.

    `habit`: where this marker sees the joints of this player, or what a device gets wrong every time; alike in every
    lesson. `camera`: how the cameras of one stand are turned; alike as long as the stand is. `visit`: of one lesson,
    clothing and the scale among it. `still` and `clock`: of single pictures and their moments. `swing`: how the swings
    of the lesson differ. `player` is no part of u: it is how far the player's swing and day are from what they usually
    are, which a comparison of two lessons has to know.
    """

    habit: float = 0.0
    camera: float = 0.0
    visit: float = 0.0
    still: float = 0.0
    clock: float = 0.0
    swing: float = 0.0
    player: float = 0.0


class OfShots(Record):
    """What the shots behind a value of club and ball have in common; None where it is not said. `table` tells that the
    value is the mean of a table's shots, and was not typed."""

    club: Club
    surface: Surface | None = None
    device: Line | None = None
    table: bool = False


class Reading(Record):
    """A measured value in its metric's unit.

    `u` is the standard uncertainty, same unit, above 0; `dof` its effective degrees of freedom, None for infinitely
    many; `swings` the single values where several swings were measured; `note` what the instructor wrote beside it.
    """

    metric: Slug
    value: float
    u: Annotated[float, Field(gt=0)]
    dof: float | None = None
    how: How
    views: int = 1
    swings: tuple[float, ...] = ()
    note: str | None = None
    remarks: tuple[Remark, ...] = ()
    parts: Parts | None = None
    """What u is made of; None where all of it is of this lesson alone."""
    marked_by: str | None = None
    """Who set the marks; None for the instructor."""
    stand: str | None = None
    """The stand of the cameras, by its name; None where it was put up for this lesson."""
    of_shots: OfShots | None = None
    """Of a value of club and ball; None for the body."""
    also: tuple["Reading", ...] = ()
    """Readings of the same metric in the same lesson by other ways, which this one wins over."""


class BandUsed(Record):
    """The band that a value was held against, its limits in the finding's unit.

    `band` is its id among those of the metric; None for the instructor's own target, whose `reason` is then here.
    With `context` it is shown and not judged. Of a `disputed` one teachers disagree.
    """

    band: Slug | None
    low: float | None
    high: float | None
    basis: Basis
    context: bool = False
    disputed: bool = False
    reason: str | None = None


class HeldBefore(Record):
    """The band that the metric was held against in an earlier lesson; None for the instructor's target."""

    on: date
    band: Slug | None


class NotCompared(Record):
    """Why an earlier value is left out of the comparison: `club` is the other one that it was taken with (of the body's
    values one of another family); where that is None, the `other` device or kind of ground that it is from; where that
    is None too, `how` and `views` are the other way in which it was measured."""

    on: date
    club: str | None
    other: Literal["device", "surface"] | None = None
    how: How
    views: int


class Change(Record):
    """A value against the last comparable lesson's, in the finding's unit: two numbers of two days, and no verdict."""

    since: date
    before: float
    by: float


Rung = Literal["has moved", "seems to be moving", "no change we can see"]


class Course(Record):
    """What became of a metric over comparable lessons, by a straight line through them, in the finding's unit.

    `by` is the difference of the line between the first and the last, `interval` its 95 %; `detectable` is what chance
    alone hardly ever makes (`judging/course.py` says how seldom). `movement` is the line's against the range.
    """

    since: date
    lessons: int
    by: float
    interval: Interval
    detectable: float
    rung: Rung
    movement: Movement


class PlayerLevel(Record):
    """Where the player is by all comparable lessons, of which the latest count most, in the finding's unit.

    `interval` covers 95 %. With one lesson it is today's value, but less sure: it is said of the player, and a player
    is not alike every day.
    """

    value: float
    u: float
    interval: Interval
    lessons: int
    since: date
    """The first of these lessons."""


class Spread(Record):
    """Repeatability over the swings of one lesson: their standard deviation, in the metric's unit, with its 95 %
    interval."""

    sd: float
    interval: Interval
    swings: int


class Finding(Record):
    """One judged value, in `unit`.

    `value`, `u` and `interval` (95 %) are today's. The verdict is of the `level`: `probability` is that of the player
    being in the band, given what was known of it beforehand (`judging/conformity.py`).
    """

    metric: Slug
    checkpoint: Moment
    value: float
    u: float
    dof: float | None = None
    interval: Interval
    unit: str
    how: How
    views: int
    swings: tuple[float, ...]
    level: PlayerLevel
    band: BandUsed | None
    held_before: HeldBefore | None = None
    """Where that was another band than this one."""
    probability: float | None
    verdict: Verdict
    likelihood: Likelihood | None
    change: Change | None
    not_compared: NotCompared | None = None
    course: Course | None = None
    """None where comparable lessons are on fewer than three dates."""
    in_range_since: date | None = None
    """The first of the lessons in a row, up to this one, in which the value was surely in range."""
    spread: Spread | None = None
    also: tuple[Reading, ...] = ()
    """What other ways of measuring gave in the same lesson."""
    too_coarse: bool
    """No value could be told to be in this band when it is taken in this way, so it is not judged."""
    note: str | None = None
    """What the instructor wrote beside the value."""
    remarks: tuple[Remark, ...] = ()
    parts: Parts | None = None
    marked_by: str | None = None
    stand: str | None = None
    of_shots: OfShots | None = None
