"""Whether the ball heads the report, before anything of the body."""

from collections.abc import Sequence

from reportgen.planning.priorities import Rank
from reportgen.records.cause_findings import BallFacts, BallFirst, CauseChain
from reportgen.records.shot_findings import CountFound

CURVES_FAR = 0.06
"""A ball that curves by more of its carry is no draw or fade any more (own figure: about 7° of its spin axis)."""


def ball_first(ball: BallFacts, counts: Sequence[CountFound], ranked: Sequence[Rank]) -> BallFirst | None:
    """What heads the report: a face to path that curves the ball far; or else, where nothing of the body is surely out
    of its range (`ranked`), the first count of which fewer were made than before. None where neither is so."""
    sides = {fact.what: fact.side for fact in ball.facts if fact.club != "putter"}
    if sides.get("curve") and sides.get("curve") == sides.get("face-to-path") and (ball.share or 0.0) > CURVES_FAR:
        return BallFirst(kind="face to path")
    if ranked:
        return None
    fewer = (number for number, count in enumerate(counts) if _fewer(count))
    return next((BallFirst(kind="fewer", count=number) for number in fewer), None)


def lies_behind(chains: Sequence[CauseChain]) -> tuple[str, ...]:
    """The body metrics that can lie behind the curve of the ball, or, where none can, behind its start."""
    for flight in ("curve", "start"):
        behind = [one.ends[0].what for one in chains if one.ends[0].part == "body" and one.ends[-1].what == flight]
        if behind:
            return tuple(behind)
    return ()


def _fewer(count: CountFound) -> bool:
    """Fewer were made than before, by more than luck makes: on two days, or over three dates and more. A count after
    the lesson's work stands beside no other date, and the test of a drill speaks of the drill."""
    if count.count is None or count.when == "after":
        return False
    if count.course is not None and count.course.verdict == "has changed" and count.course.by < 0:
        return True
    return count.against is not None and count.against.verdict == "these two days differ" and count.against.by < 0
