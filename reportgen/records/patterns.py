"""What the tables of a lesson show, as facts: where the shots of one club landed, how they flew, where the face met
them, and the same of an earlier date.

Lateral figures have one sign for both hands: + is the trail side, away from the player.
"""

from datetime import date

from reportgen.records.base import Line, Record
from reportgen.records.findings import Interval
from reportgen.records.shot_findings import MissSide, Pattern, PatternCourse, TwoPatterns
from reportgen.records.words import Club, Surface


class Landed(Record):
    """Where one shot landed, in m: `side` of the target line, and how far it carried; whether it counts as a mishit."""

    side: float
    carry: float
    mishit: bool


class Mean(Record):
    """A mean of `shots`, and its 95 % interval, in which what the device gets wrong every time is counted in full."""

    mean: float
    interval: Interval
    shots: int


class Struck(Record):
    """Where on the face shots were struck, in mm from its middle: `across`, + toward the toe, and `up` where the table
    says it. `places` are those of single shots, as (across, up), with 0 for an `up` that nobody measured."""

    across: Mean
    up: Mean | None
    places: tuple[tuple[float, float], ...]


class Flight(Record):
    """One shot from above: start direction in degrees, and where it landed, in m."""

    start: float
    side: float
    carry: float


class Flights(Record):
    """How shots start, in degrees, and how far from their start line they land, in m."""

    start: Mean
    curve: Mean
    each: tuple[Flight, ...]


class ShotsOfDay(Record):
    """The shots of one club, surface and device on one day.

    `landed`, `places` and `each` are for drawing: of very many shots they hold some, evenly spaced; every other figure
    is of all shots. `misses` counts the shots that surely landed beside the target line. What no column tells is None.
    """

    on: date
    shots: int
    landed: tuple[Landed, ...] = ()
    pattern: Pattern | None = None
    carry: Mean | None = None
    """Where the table has no side, and so no pattern."""
    misses: MissSide | None = None
    struck: Struck | None = None
    flights: Flights | None = None


class ShotsFound(Record):
    """The shots of a lesson with one club, from one kind of ground, by one device: `now`, and `before`, on the last
    date that tells of the same. `against` holds the two against each other, `course` goes through all dates."""

    club: Club
    surface: Surface | None
    device: Line | None
    now: ShotsOfDay
    before: ShotsOfDay | None = None
    against: TwoPatterns | None = None
    course: PatternCourse | None = None
