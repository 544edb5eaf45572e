"""The one or two things to work on, by a ranking that can be read and argued with."""

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

ChosenBy = Literal["numbers", "instructor"]


@dataclass(frozen=True)
class Rank:
    """Why a finding stands where it stands.

    `surely` is the probability of being out of range, `far` its distance outside in half band widths, `safety` more
    than 1 where a caution of this lesson names the metric, `causes` the out-of-range metrics that it can come from,
    the nearest first.
    """

    finding: Finding
    surely: float
    far: float
    safety: float
    causes: tuple[str, ...]

    @property
    def weight(self) -> float:
        """What the ranking goes by, among those with as many causes."""
        return self.surely * self.far * self.safety


def rank(
    findings: Sequence[Finding], causes: Collection[Cause], cautioned: frozenset[str] = frozenset()
) -> tuple[Rank, ...]:
    """The findings that are out of range, the first to work on first; where none surely is, those that more likely are
    than not.

    What can come from another out-of-range metric, each on its side (`causes`, through any number of rows), yields to
    it, so the fewest causes go first; among as many, probability times distance times safety weight decides
    (SAFETY_WEIGHT for the metrics of `cautioned`); equal ones go by the order of the swing.
    """
    out = {f.metric: f for f in findings if f.verdict in ("below range", "above range")} or _likely_out(findings)
    leading = _leading(causes)
    ranks = [
        Rank(
            finding=f,
            surely=1 - (f.probability or 0.0),
            far=_half_widths_out(f),
            safety=SAFETY_WEIGHT if f.metric in cautioned else 1.0,
            causes=_causes(f, out, leading),
        )
        for f in out.values()
    ]
    place = {f.metric: number for number, f in enumerate(findings)}
    return tuple(sorted(ranks, key=lambda r: (len(r.causes), -r.weight, place[r.finding.metric])))


def priorities(
    findings: Sequence[Finding],
    causes: Collection[Cause],
    chosen: Sequence[str],
    cautioned: frozenset[str] = frozenset(),
    behind: Collection[str] | None = None,
) -> tuple[Priority, ...]:
    """At most two: the instructor's own (`chosen` metrics), or else the first of the ranking.

    Where the ball heads the report, `behind` are the metrics that can lie behind what it does: the first of these in
    the ranking comes alone, or else the first of all.
    """
    by_metric = {f.metric: f for f in findings}
    ranks = rank(findings, causes, cautioned)
    if chosen:
        picked = [by_metric[m] for m in chosen if m in by_metric]
        return tuple(_priority(f, "instructor", _effects(f, ranks)) for f in picked)
    first = _first(ranks)
    if behind is not None:
        first = [r.finding for r in ranks if r.finding.metric in behind][:1] or first[:1]
    return tuple(_priority(f, "numbers", _effects(f, ranks)) for f in first)


def by_the_numbers(
    findings: Sequence[Finding], causes: Collection[Cause], chosen: Sequence[str], cautioned: frozenset[str]
) -> DeskRemark | None:
    """For the desk alone: what the numbers would have put first, where the instructor chose otherwise."""
    first = _first(rank(findings, causes, cautioned))
    if not chosen or [f.metric for f in first] == list(chosen):
        return None
    instead = tuple(Effect(metric=f.metric, verdict=f.verdict) for f in first)
    return DeskRemark(code="other priorities", metrics=instead)


def _first(ranks: Sequence[Rank]) -> list[Finding]:
    """Two to work on where they are surely out of range, one where it only seems so."""
    surely = [r.finding for r in ranks if r.finding.verdict != "too close to call"]
    return surely[:MOST] or [r.finding for r in ranks[:1]]


def _likely_out(findings: Sequence[Finding]) -> dict[str, Finding]:
    """What is too close to call, and still outside the range more likely than not."""
    return {
        f.metric: f for f in findings if f.verdict == "too close to call" and (f.probability or 0.0) < 0.5 and out_by(f)
    }


def out_by(finding: Finding) -> float:
    """How far the player is outside the range, in its unit; 0 inside it."""
    return distance(finding.level.value, finding.band.low, finding.band.high) if finding.band else 0.0


def _effects(cause: Finding, ranks: Sequence[Rank]) -> tuple[Effect, ...]:
    """What yields to a finding in this lesson."""
    return tuple(Effect(metric=r.finding.metric, verdict=r.finding.verdict) for r in ranks if cause.metric in r.causes)


def _half_widths_out(finding: Finding) -> float:
    band = finding.band
    if band is None:
        return 0.0
    if band.low is not None and band.high is not None:
        half = (band.high - band.low) / 2
    else:  # a one-sided range has no width: the measure of it is its limit
        half = abs(band.low if band.low is not None else band.high or 0.0) or 1.0
    return out_by(finding) / half


_Ends = Mapping[tuple[str, str], Sequence[tuple[str, str]]]
"""What leads to each end (a metric and its side), in the order of the rows."""


def _leading(causes: Iterable[Cause]) -> _Ends:
    found: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for row in causes:
        if row.basis != "evidence against" and row.cause.part == row.effect.part == "body":
            found.setdefault((row.effect.what, row.effect.side), []).append((row.cause.what, row.cause.side))
    return found


def _causes(finding: Finding, out: Mapping[str, Finding], leading: _Ends) -> tuple[str, ...]:
    """The out-of-range metrics that this one can come from, each on its side, the nearest first."""
    sides = {name: str(_direction(f)) for name, f in out.items()}
    asked = [(finding.metric, str(_direction(finding)))]
    for end in asked:  # grows while it is read: from the nearest to those further back
        # what is out on its other side leads to other things
        asked += [one for one in leading.get(end, ()) if one not in asked and sides.get(one[0], one[1]) == one[1]]
    return tuple(what for what, _ in asked[1:] if what in sides and what != finding.metric)


def _priority(finding: Finding, chosen_by: ChosenBy, effects: tuple[Effect, ...]) -> Priority:
    return Priority(metric=finding.metric, direction=_direction(finding), effects=effects, chosen_by=chosen_by)


def _direction(finding: Finding) -> Direction | None:
    if finding.verdict in ("below range", "above range"):
        return "below" if finding.verdict == "below range" else "above"
    band = finding.band
    if band is None or band.context or out_by(finding) == 0:
        return None
    return "below" if band.low is not None and finding.level.value < band.low else "above"
