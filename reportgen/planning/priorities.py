"""The one or two things to work on, by a ranking that can be read and argued with.

1. Only what is surely out of range takes part. What measuring cannot settle is no task; `planning/outlook.py` says what
   to look at next then.
2. The gravest comes first. How grave something is: how far the player is outside the range by all lessons so far, less
   one standard uncertainty of that (so that noise never beats a fault), in half widths of the range; half as much again
   where a caution of today names it, half as much where teachers disagree about the range.
3. A cause goes before what follows from it, whatever is graver of the two, where it is at least half as grave. A small
   cause does not head a large fault: it cannot explain it.
4. There are at most two: the first, and the next that does not wait for it. For a beginner and in a first lesson there
   is one.

What the instructor sets aside takes no part, and what the instructor chooses wins over all of it.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from reportgen.judging.difference import distance
from reportgen.records.causes import Cause
from reportgen.records.findings import Finding
from reportgen.records.report import DeskRemark, Effect, Priority
from reportgen.records.words import Direction

MOST = 2
SAFETY_WEIGHT = 1.5
"""A choice of ours: what a caution names counts half as much again."""
DISPUTED_WEIGHT = 0.5
"""A choice of ours: what teachers disagree about goes first only where it is twice as grave."""
EXPLAINS = 0.5
"""A choice of ours: a cause less than half as grave as what follows from it does not go before it."""

ChosenBy = Literal["numbers", "instructor"]


@dataclass(frozen=True)
class Rank:
    """Why a finding stands where it stands.

    `far` is how far the player is outside the range, `surely` how far less one standard uncertainty (not below 0), both
    in half widths of the range; `safety` more than 1 where a caution of this lesson names the metric; `agreed` less
    than 1 where teachers disagree about the range; `causes` the out-of-range metrics that it waits for, the nearest
    first: it can come from them, and they are grave enough.
    """

    finding: Finding
    far: float
    surely: float
    safety: float
    agreed: float = 1.0
    causes: tuple[str, ...] = ()

    @property
    def weight(self) -> float:
        """How grave it is."""
        return self.surely * self.safety * self.agreed


@dataclass(frozen=True)
class Choosing:
    """What else decides: the metrics that the instructor has `chosen`, those `set_aside`, those that cautions of today
    name, and at `most` how many things to work on."""

    chosen: Sequence[str] = ()
    set_aside: Collection[str] = ()
    cautioned: Collection[str] = ()
    most: int = MOST


def rank(findings: Sequence[Finding], causes: Collection[Cause], choosing: Choosing = Choosing()) -> tuple[Rank, ...]:
    """The findings that are surely out of range, the first to work on first; the docstring of this file says how."""
    out = {f.metric: f for f in findings if _side(f) and f.metric not in choosing.set_aside}
    place = {f.metric: number for number, f in enumerate(findings)}
    alone = {name: _alone(f, choosing.cautioned) for name, f in out.items()}
    gravest = sorted(alone, key=lambda name: (-alone[name].weight, place[name]))
    leading = _leading(causes)
    from_ = {name: _from(f, out, leading) for name, f in out.items()}
    waits = {name: _waits_for(name, from_, alone) for name in gravest}
    order: list[str] = []
    for name in gravest:
        _put(name, waits, gravest, order)
    return tuple(Rank(**{**vars(alone[name]), "causes": waits[name]}) for name in order)


def priorities(
    findings: Sequence[Finding],
    causes: Collection[Cause],
    choosing: Choosing = Choosing(),
    behind: Collection[str] | None = None,
) -> tuple[Priority, ...]:
    """At most two: the instructor's own, or else the first of the ranking.

    Where the ball heads the report, `behind` are the metrics that can lie behind what it does: the first of these in
    the ranking comes alone, or else the first of all.
    """
    by_metric = {f.metric: f for f in findings}
    ranks = rank(findings, causes, choosing)
    if choosing.chosen:
        picked = [by_metric[m] for m in choosing.chosen if m in by_metric]
        return tuple(_priority(f, "instructor", _effects(f, ranks)) for f in picked)
    first = _first(ranks, choosing.most)
    if behind is not None:
        first = [r for r in ranks if r.finding.metric in behind][:1] or first[:1]
    return tuple(_priority(r.finding, "numbers", _effects(r.finding, ranks)) for r in first)


def for_the_desk(findings: Sequence[Finding], causes: Collection[Cause], choosing: Choosing) -> list[DeskRemark]:
    """For the desk alone: what the numbers would have put first, where the instructor chose otherwise, and what is out
    of range and was set aside."""
    remarks = []
    first = _first(rank(findings, causes, choosing), choosing.most)
    if choosing.chosen and [r.finding.metric for r in first] != list(choosing.chosen):
        instead = tuple(_effect(r.finding) for r in first)
        remarks.append(DeskRemark(code="other priorities", metrics=instead))
    if aside := tuple(_effect(f) for f in findings if f.metric in choosing.set_aside and _side(f)):
        remarks.append(DeskRemark(code="set aside", metrics=aside))
    return remarks


def _first(ranks: Sequence[Rank], most: int) -> list[Rank]:
    """The first, and what comes next without waiting for it."""
    return [r for r in ranks if ranks[0].finding.metric not in r.causes][:most]


def out_by(finding: Finding) -> float:
    """How far the player is outside the range, in its unit; 0 inside it."""
    return distance(finding.level.value, finding.band.low, finding.band.high) if finding.band else 0.0


def direction_of(finding: Finding) -> Direction | None:
    """The side of its range on which a finding is, surely or as far as can be seen; None where on neither."""
    if side := _side(finding):
        return side
    band = finding.band
    if band is None or band.context or out_by(finding) == 0:
        return None
    return "below" if band.low is not None and finding.level.value < band.low else "above"


def _side(finding: Finding) -> Direction | None:
    """The side on which it is surely out of range."""
    if finding.verdict not in ("below range", "above range"):
        return None
    return "below" if finding.verdict == "below range" else "above"


def _alone(finding: Finding, cautioned: Collection[str]) -> Rank:
    out, half = out_by(finding), _half_width(finding)
    surely = max(out - finding.level.u, 0.0) / half
    safety = SAFETY_WEIGHT if finding.metric in cautioned else 1.0
    disputed = finding.band is not None and finding.band.disputed
    return Rank(finding, out / half, surely, safety, DISPUTED_WEIGHT if disputed else 1.0)


def _half_width(finding: Finding) -> float:
    band = finding.band
    if band is None:
        return 1.0
    if band.low is not None and band.high is not None:
        return (band.high - band.low) / 2
    # a one-sided range has no width: the measure of it is its limit
    return abs(band.low if band.low is not None else band.high or 0.0) or 1.0


def _waits_for(name: str, from_: Mapping[str, Sequence[str]], alone: Mapping[str, Rank]) -> tuple[str, ...]:
    """What goes before it, the nearest first, through any number that wait themselves. Two that can come from each
    other do not wait for each other, so nobody waits for themselves."""
    asked = [name]
    for one in asked:  # grows while it is read
        grave = [cause for cause in from_[one] if alone[cause].weight >= EXPLAINS * alone[one].weight]
        asked += [cause for cause in grave if cause not in asked and one not in from_[cause]]
    return tuple(asked[1:])


def _put(name: str, waits: Mapping[str, Sequence[str]], gravest: Sequence[str], order: list[str]) -> None:
    """A finding into the order, after what it waits for, of which the gravest goes first."""
    for cause in sorted(waits[name], key=gravest.index):
        _put(cause, waits, gravest, order)
    if name not in order:
        order.append(name)


def _effects(cause: Finding, ranks: Sequence[Rank]) -> tuple[Effect, ...]:
    """What waits for a finding in this lesson."""
    return tuple(_effect(r.finding) for r in ranks if cause.metric in r.causes)


def _effect(finding: Finding) -> Effect:
    return Effect(metric=finding.metric, verdict=finding.verdict)


_Ends = Mapping[tuple[str, str], Sequence[tuple[str, str]]]
"""What leads to each end (a metric and its side), in the order of the rows."""


def _leading(causes: Iterable[Cause]) -> _Ends:
    found: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for row in causes:
        if row.basis != "evidence against" and row.cause.part == row.effect.part == "body":
            found.setdefault((row.effect.what, row.effect.side), []).append((row.cause.what, row.cause.side))
    return found


def _from(finding: Finding, out: Mapping[str, Finding], leading: _Ends) -> tuple[str, ...]:
    """The out-of-range metrics that this one can come from, each on its side, through any number of rows, the nearest
    first."""
    sides = {name: str(_side(f)) for name, f in out.items()}
    asked = [(finding.metric, str(_side(finding)))]
    for end in asked:  # grows while it is read: from the nearest to those further back
        # what is out on its other side leads to other things
        asked += [one for one in leading.get(end, ()) if one not in asked and sides.get(one[0], one[1]) == one[1]]
    return tuple(dict.fromkeys(what for what, _ in asked[1:] if what in sides and what != finding.metric))


def _priority(finding: Finding, chosen_by: ChosenBy, effects: tuple[Effect, ...]) -> Priority:
    return Priority(metric=finding.metric, direction=direction_of(finding), effects=effects, chosen_by=chosen_by)
