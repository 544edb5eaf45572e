"""A reading and its history -> a finding: the one judgement that every view prints."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from reportgen.judging.bands import choose_band
from reportgen.judging.conformity import Chances, chances, given_the_range, interval, likelihood, too_coarse, verdict
from reportgen.judging.course import course
from reportgen.judging.covariance import Taken
from reportgen.judging.fair import EarlierReading, fair_past
from reportgen.judging.level import level
from reportgen.judging.reliability import spread
from reportgen.judging.scatter import with_own_scatter
from reportgen.records.academy import Student
from reportgen.records.content import Band, Metric
from reportgen.records.findings import BandUsed, Change, Finding, HeldBefore, PlayerLevel, Reading
from reportgen.records.lesson import Lesson
from reportgen.records.words import MOMENTS, Verdict
from reportgen.sheets.band_fits import BandConditions

MIN_SWINGS = 3
"""A spread of fewer swings says next to nothing."""


@dataclass(frozen=True)
class Occasion:
    """Who is judged, on which day and with which club; `certainty` is the probability from which a verdict is given,
    `focus` the metrics that were named before the lesson."""

    student: Student
    lesson: Lesson
    body: BandConditions
    certainty: float
    focus: frozenset[str] = frozenset()


def judge(
    reading: Reading, metric: Metric, bands: tuple[Band, ...], past: Sequence[EarlierReading], on: Occasion
) -> Finding:
    """The finding of one reading. `past` holds the same metric's earlier readings, oldest first; what may not fairly be
    held against this one is left out here."""
    fair, not_compared = fair_past(reading, on.lesson.club, past)
    band = choose_band(metric, bands, on.body, on.student)
    certainty, today = on.certainty, on.lesson.date
    taken = with_own_scatter([*(Taken(earlier.on, earlier.reading) for earlier in fair), Taken(today, reading)], metric)
    reading = taken[-1].reading
    became = course(taken, band, in_focus=metric.id in on.focus)
    stands = level(taken, metric, band, moving=became is not None and became.rung != "no change we can see")
    coarse = band is not None and not band.context and too_coarse(stands.u, band.low, band.high, certainty)
    of = None if coarse else _chances(stands, band)
    says: Verdict = verdict(of, certainty) if of else "not judged"
    return Finding(
        metric=metric.id,
        checkpoint=metric.checkpoint,
        value=reading.value,
        u=reading.u,
        interval=interval(reading.value, reading.u, reading.dof),
        unit=metric.unit,
        how=reading.how,
        views=reading.views,
        swings=reading.swings,
        level=stands,
        band=band,
        held_before=_held_before(band, past),
        probability=of.inside if of else None,
        verdict=says,
        likelihood=likelihood(of.inside) if of else None,
        dof=reading.dof,
        change=_change(reading, fair[-1]) if fair else None,
        not_compared=not_compared,
        course=became,
        in_range_since=_in_range_since(says, fair, today),
        spread=spread(reading.swings) if len(reading.swings) >= MIN_SWINGS else None,
        too_coarse=coarse,
        also=reading.also,
        note=reading.note,
        remarks=reading.remarks,
        parts=reading.parts,
        marked_by=reading.marked_by,
        stand=reading.stand,
        of_shots=reading.of_shots,
    )


def _change(now: Reading, last: EarlierReading) -> Change:
    return Change(since=last.on, before=last.reading.value, by=now.value - last.reading.value)


def _chances(stands: PlayerLevel, band: BandUsed | None) -> Chances | None:
    """Where the player is against the band; None where it does not judge."""
    if band is None or band.context:
        return None
    return chances(*given_the_range(stands.value, stands.u, band.low, band.high), band.low, band.high)


def in_order(findings: Sequence[Finding], metrics: Mapping[str, Metric]) -> tuple[Finding, ...]:
    """Findings in the order of the swing, from setup to finish, then as the metrics say."""
    return tuple(
        sorted(findings, key=lambda f: (MOMENTS.index(f.checkpoint), metrics[f.metric].order, f.metric)),
    )


def _in_range_since(says: Verdict, fair: Sequence[EarlierReading], today: date) -> date | None:
    """The first day of the unbroken row of lessons, up to today's, in which the value was surely in range."""
    if says != "in range":
        return None
    since = today
    for earlier in reversed(fair):
        if earlier.verdict != "in range":
            break
        since = earlier.on
    return since


def _held_before(band: BandUsed | None, past: Sequence[EarlierReading]) -> HeldBefore | None:
    """The band of the last lesson that had the metric, where that was another one than today's."""
    before = past[-1].band if past else None
    if band is None or before is None or before.band == band.band:
        return None
    return HeldBefore(on=past[-1].on, band=before.band)
