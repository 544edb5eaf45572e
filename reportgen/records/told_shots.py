"""What one reader is told of the shots of a lesson: the facts with their sentences."""

from typing import Literal

from reportgen.records.cause_findings import BallFirst, CauseChain, ChainEnd
from reportgen.records.patterns import ShotsFound
from reportgen.records.shot_findings import CountFound, StrikeFound
from reportgen.records.shot_remarks import ShotRemark
from reportgen.records.words import Verdict


class ToldCount(CountFound):
    """A count by its name with its lengths; `says` is the number with its long run, `since` what earlier dates say."""

    name: str
    explain: str
    says: str
    since: str | None


class ToldStrike(StrikeFound):
    """Strikes by place, in a sentence."""

    says: str


class ToldChainEnd(ChainEnd):
    """One thing of a chain by name; `where` is its moment, or club or ball; a verdict is that of a body metric."""

    name: str
    where: str
    verdict: Verdict


class ToldChain(CauseChain):
    """A chain in sentences, what each step `rests_on`, and where it does not hold."""

    ends: tuple[ToldChainEnd, ...]
    rests_on: tuple[str, ...]
    caveats: tuple[str, ...]
    says: str


class ToldBallFirst(BallFirst):
    """What of the ball heads the report, in words said to the student. `reason` is all of it: what was `seen`, why it
    matters (`because`), and what `more` is known."""

    name: str
    headline: str
    reason: str
    seen: str
    because: str
    more: str


class ToldShots(ShotsFound):
    """The shots of a table by club, ground and device: in sentences, where they landed, how they flew, where the face
    met them, and what earlier dates say. `unit` is that in which the reader has lengths; the facts are in m."""

    name: str
    unit: Literal["m", "yd"]
    landed_says: tuple[str, ...]
    flew_says: tuple[str, ...]
    struck_says: tuple[str, ...]
    since: str | None


class ToldShotRemark(ShotRemark):
    """A remark on a table in words; `openly` where it stands beside the shots, and is not folded away."""

    says: str
    openly: bool
