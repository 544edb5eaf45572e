"""A reading and its history -> a finding: the one judgement that every view prints."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from reportgen.judging.bands import Body, choose_band, why_none
from reportgen.judging.change import change
from reportgen.judging.conformity import chances, interval, likelihood, too_coarse, verdict
from reportgen.records.academy import Student
from reportgen.records.content import Band, Metric
from reportgen.records.report import BandUsed, Finding, Reading
from reportgen.records.words import MOMENTS, Verdict


@dataclass(frozen=True)
class Past:
    """A reading of an earlier lesson."""

    on: date
    reading: Reading


def judge(
    reading: Reading,
    metric: Metric,
    bands: tuple[Band, ...],
    body: Body,
    student: Student,
    past: Sequence[Past],
    certainty: float,
) -> Finding:
    """The finding of one reading. `past` holds the same metric's earlier readings, oldest first."""
    band = choose_band(metric, bands, body, student)
    judged = band if band is not None and not band.context else None
    of = None
    says: Verdict = "no range"
    if judged is not None:
        of = chances(reading.value, reading.u, judged.low, judged.high, reading.dof)
        says = verdict(of, certainty)
    side = metric.below if says == "below range" else metric.above if says == "above range" else None
    return Finding(
        metric=metric.id,
        name=metric.name,
        short=metric.short,
        checkpoint=metric.checkpoint,
        value=reading.value,
        u=reading.u,
        interval=interval(reading.value, reading.u, reading.dof),
        unit=metric.unit,
        decimals=metric.decimals,
        sign=metric.sign,
        how=reading.how,
        views=reading.views,
        swings=reading.swings,
        band=band,
        probability=of.inside if of else None,
        verdict=says,
        likelihood=likelihood(of.inside) if of else None,
        change=change(reading, past[-1].reading, past[-1].on, band) if past else None,
        since_first=change(reading, past[0].reading, past[0].on, band) if len(past) > 1 else None,
        means=side.means if side else None,
        too_coarse=judged is not None and too_coarse(reading.u, judged.low, judged.high, certainty, reading.dof),
        note=_note(reading, band, metric, body),
    )


def in_order(findings: Sequence[Finding], metrics: Mapping[str, Metric]) -> tuple[Finding, ...]:
    """Findings in the order of the swing, from setup to finish, then as the metrics say."""
    return tuple(
        sorted(findings, key=lambda f: (MOMENTS.index(f.checkpoint), metrics[f.metric].order, f.metric)),
    )


def _note(reading: Reading, band: BandUsed | None, metric: Metric, body: Body) -> str | None:
    notes = [] if reading.note is None else [reading.note]
    if band is None:
        notes.append(why_none(metric, body))
    elif band.context:
        notes.append(f"Shown for context, not judged: {band.for_}.")
    return " ".join(notes) or None
