"""What club and ball did on average, what can lie behind it, and whether it heads the report, as facts."""

from typing import Literal

from reportgen.records.base import Record, Slug
from reportgen.records.causes import CauseBasis, CauseEnd
from reportgen.records.words import Direction


class BallFact(Record):
    """What a word of `records.causes.SEEN` was on average over `of` shots with one `club`: `value` and its standard
    uncertainty in `unit`, + as in that table. `side` is None where it is nearer to 0 than twice its uncertainty, and
    where the word has no side by itself. Counted strikes have no value."""

    what: Slug
    club: str
    of: int
    value: float | None
    u: float | None
    unit: Literal["deg", "m", "cm", "mm"] | None
    side: Direction | None


class BallFacts(Record):
    """The facts of one lesson's club and ball, of one club. `face_computed`: the device worked the face out from start
    and path, so it explains no start. `share` is how far the ball curved, of its carry."""

    facts: tuple[BallFact, ...] = ()
    face_computed: bool = False
    share: float | None = None


class ChainEnd(CauseEnd):
    """One thing of a chain; `seen` where this lesson found it, and not only holds it possible."""

    seen: bool


class CauseChain(Record):
    """What can lead to what in this lesson: `ends` from the body, or the club, to the ball, with the rows of causes/
    between them and what each rests on. The first and the last of the ends were seen."""

    ends: tuple[ChainEnd, ...]
    rows: tuple[Slug, ...]
    bases: tuple[CauseBasis, ...]


class BallFirst(Record):
    """What of the ball heads the report, before anything of the body.

    `face to path`: the ball curves far to the side to which the face points against the path. `fewer`: of a count,
    number `count` of the report's, fewer were made than before, while nothing of the body surely is out of range.
    """

    kind: Literal["face to path", "fewer"]
    count: int | None = None
