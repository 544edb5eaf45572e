"""Causes and the ball at the head of the report, as one reader is told them."""

from reportgen.records.cause_findings import BallFirst, CauseChain, ChainEnd
from reportgen.records.words import Verdict


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
    """What of the ball heads the report, in words said to the student."""

    name: str
    headline: str
    reason: str
