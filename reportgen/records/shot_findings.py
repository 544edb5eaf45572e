"""What shots show, as facts: counts of ten, patterns of a table, and dates held against each other.

Lateral figures have one sign for both hands: + is the trail side, away from the player. Lengths are metres.
"""

from datetime import date
from typing import Literal

from reportgen.records.base import Record, Slug
from reportgen.records.findings import Interval, Spread
from reportgen.records.shots import FacePlace, Size

BallSide = Literal["trail", "lead"]

TwoDaysVerdict = Literal["these two days differ", "not enough shots to say"]
"""Two dates are never called a change of the player: the days of one player differ too."""

ShotCourseVerdict = Literal["has changed", "not enough shots to say"]


class LongRun(Record):
    """`made` shots `of` so many, and the 95 % interval of the share that is made in the long run, 0 to 1."""

    made: int
    of: int
    interval: Interval


class TwoCounts(Record):
    """The same count on two dates. `by` is the later share less the earlier one, `interval` its 95 %; `p` says how
    often luck alone makes two counts as unlike as these.

    `shots` is how many a date it would take to see a difference as large as this one; None where the verdict says that
    the days differ, and where so many would be no lesson.
    """

    since: date
    by: float
    interval: Interval
    p: float
    verdict: TwoDaysVerdict
    shots: int | None


class ShotCourse(Record):
    """A figure of the shots of three dates or more, by a straight line: `by` is how far the line goes from the first
    date to the last, `interval` its 95 %, `detectable` what chance alone hardly ever makes. `shots` is their number."""

    since: date
    dates: int
    shots: int
    by: float
    interval: Interval
    detectable: float
    verdict: ShotCourseVerdict


class CountedBefore(Record):
    """The same count on an earlier date."""

    on: date
    made: int
    of: int


class CountFound(Record):
    """What was counted in a row of shots, by the id of its kind, or of the drill whose test it is; `sizes` are in m.

    `earlier` are the same counts on earlier dates, oldest first: same kind, club and sizes. `against` holds this one
    against the last of them, `course` goes through all. `of_today` holds a count after the lesson's work against the
    same one of that day `before_work`.
    """

    count: Slug | None
    drill: Slug | None
    club: str
    sizes: dict[Size, float]
    when: Literal["before", "after"] | None
    run: LongRun
    earlier: tuple[CountedBefore, ...] = ()
    against: TwoCounts | None = None
    before_work: CountedBefore | None = None
    of_today: TwoCounts | None = None
    course: ShotCourse | None = None
    note: str | None = None


class StrikeFound(Record):
    """Where on the face shots were struck, by place, with one club; and the same on the last date that tells."""

    club: str
    places: dict[FacePlace, int]
    of: int
    when: Literal["before", "after"] | None
    before_on: date | None = None
    before: dict[FacePlace, int] | None = None
    note: str | None = None


class MissSide(Record):
    """On which side the misses were. `side` is None where they do not show one; `p` is that of the sign test."""

    trail: int
    lead: int
    p: float
    side: BallSide | None


class Ellipse(Record):
    """An ellipse seen from above. `side` and `carry` are its centre, `long` and `short` half of its axes, all in m.

    `tilt` is the angle of its long axis to the target line, −90 to 90 deg, + where the far end is on the trail side.
    """

    side: float
    carry: float
    long: float
    short: float
    tilt: float


class AlongAxis(Record):
    """Where shots are along one axis, in m: mean with its 95 % interval, and median; SD and the robust spread, which
    a few mishits hardly move (MAD, made to agree with the SD of normal values).

    What needs more shots than there are is None: an interval and an SD need two, the robust spread five.
    """

    mean: float
    interval: Interval | None
    median: float
    spread: Spread | None
    robust_spread: float | None


class Pattern(Record):
    """Where the shots of one table landed. `mishits` are counted and are in every other figure as well.

    `centre` is the 95 % confidence ellipse of the centre (three shots at least), `next_shot` the one that holds 8 of
    the next 10 shots (eight at least). Both are None where the shots lie on one line.
    """

    shots: int
    mishits: int
    side: AlongAxis
    carry: AlongAxis
    centre: Ellipse | None
    next_shot: Ellipse | None


class AxisDifference(Record):
    """One axis on two dates: how far the mean moved, later less earlier, with its 95 % interval, in m; the later SD
    over the earlier one, None where that is 0; and the p of the Brown-Forsythe test of equal spread."""

    by: float
    interval: Interval
    ratio: float | None
    p: float


class Question(Record):
    """What two dates say of one question. `shots` as in `TwoCounts`."""

    p: float
    verdict: TwoDaysVerdict
    shots: int | None


class TwoPatterns(Record):
    """The patterns of two dates against each other: whether their `centre` and their `spread` differ. `ratio` is the
    later spread over the earlier one, both axes together; None where the earlier one is 0."""

    side: AxisDifference
    carry: AxisDifference
    centre: Question
    spread: Question
    ratio: float | None


class PatternCourse(Record):
    """What became of patterns over three dates or more: of the mean side and the mean carry, in m, and of the spread of
    both together, as a share: 0.25 is a quarter wider than on the first date."""

    side: ShotCourse
    carry: ShotCourse
    spread: ShotCourse
