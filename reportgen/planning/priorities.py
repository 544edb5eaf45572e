"""The one or two things to work on, by a ranking that can be read and argued with."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from reportgen.judging.change import distance
from reportgen.records.content import Metric
from reportgen.records.report import Finding, Priority
from reportgen.records.wording import amount, limits, short_day, size
from reportgen.records.words import Direction

MOST = 2


@dataclass(frozen=True)
class Rank:
    """Why a finding stands where it stands: `surely` is the probability of being out of range, `far` its distance
    outside in half band widths, `causes` the out-of-range metrics that it can come from, the nearest first."""

    finding: Finding
    surely: float
    far: float
    causes: tuple[str, ...]

    @property
    def weight(self) -> float:
        return self.surely * self.far


def rank(findings: Sequence[Finding], metrics: Mapping[str, Metric]) -> tuple[Rank, ...]:
    """The findings that are out of range, the first to work on first.

    What can come from an earlier out-of-range metric (`follows`, through any number of steps) yields to it, so the
    fewest causes go first; among as many, probability times distance decides; equal ones go by the order of the swing.
    """
    out = {f.metric: f for f in findings if f.verdict in ("below range", "above range")}
    ranks = [
        Rank(f, 1 - (f.probability or 0.0), _half_widths_out(f), _causes(f.metric, out, metrics)) for f in out.values()
    ]
    place = {f.metric: number for number, f in enumerate(findings)}
    return tuple(sorted(ranks, key=lambda r: (len(r.causes), -r.weight, place[r.finding.metric])))


def priorities(
    findings: Sequence[Finding], metrics: Mapping[str, Metric], chosen: Sequence[str]
) -> tuple[Priority, ...]:
    """At most two: the instructor's own (`chosen` metrics), or else the first of the ranking."""
    by_metric = {f.metric: f for f in findings}
    if chosen:
        return tuple(_priority(by_metric[m], metrics[m], "instructor") for m in chosen if m in by_metric)
    return tuple(_priority(r.finding, metrics[r.finding.metric], "numbers") for r in rank(findings, metrics)[:MOST])


def _half_widths_out(finding: Finding) -> float:
    band = finding.band
    if band is None:
        return 0.0
    if band.low is not None and band.high is not None:
        half = (band.high - band.low) / 2
    else:  # a one-sided range has no width: the measure of it is its limit
        half = abs(band.low if band.low is not None else band.high or 0.0) or 1.0
    return distance(finding.value, band.low, band.high) / half


def _causes(metric: str, out: Mapping[str, Finding], metrics: Mapping[str, Metric]) -> tuple[str, ...]:
    """The out-of-range metrics that this one can come from, the nearest first."""
    asked, waiting = [metric], [*metrics[metric].follows]
    while waiting:
        cause = waiting.pop(0)
        if cause not in asked and cause in metrics:
            asked.append(cause)
            waiting += metrics[cause].follows
    return tuple(cause for cause in asked[1:] if cause in out)


def _priority(finding: Finding, metric: Metric, chosen_by: str) -> Priority:
    direction = _direction(finding)
    side = {"below": metric.below, "above": metric.above, None: None}[direction]
    return Priority(
        metric=metric.id,
        name=metric.name,
        direction=direction,
        headline=side.work_on if side else metric.name,
        reason=_reason(finding, side.because if side else metric.explain),
        chosen_by="instructor" if chosen_by == "instructor" else "numbers",
    )


def _direction(finding: Finding) -> Direction | None:
    if finding.verdict in ("below range", "above range"):
        return "below" if finding.verdict == "below range" else "above"
    band = finding.band
    if band is None or band.context or distance(finding.value, band.low, band.high) == 0:
        return None
    return "below" if band.low is not None and finding.value < band.low else "above"


def _reason(finding: Finding, because: str) -> str:
    said = amount(finding.value, finding.unit, finding.decimals, finding.sign)
    band = finding.band
    if band is None or band.context:
        first = f"This time it was {said}."
    else:
        span = limits(band.low, band.high, finding.unit, finding.decimals, finding.sign)
        first = f"This time it was {said}; your range is {span}."
    return " ".join(part for part in (first, because.strip(), _since_last(finding), _since_first(finding)) if part)


def _since_first(finding: Finding) -> str:
    change = finding.since_first
    if change is None or not change.real or (finding.change is not None and finding.change.real):
        return ""
    moved = size(change.by, finding.unit, finding.decimals)
    says = "it has changed" if change.says == "changed" else f"it has {change.says}"
    return f"Since {short_day(change.since)} {says}, by {moved}."


def _since_last(finding: Finding) -> str:
    change = finding.change
    if change is None:
        return ""
    before = amount(change.before, finding.unit, finding.decimals, finding.sign)
    moved = size(change.by, finding.unit, finding.decimals)
    if not change.real:
        return f"On {short_day(change.since)} it was {before}: no change that we can see yet."
    says = "it has changed" if change.says == "changed" else f"it has {change.says}"
    return f"On {short_day(change.since)} it was {before}: {says}, by {moved}, more than our measuring error."
