"""A reading and its history -> a finding: the one judgement that every view prints."""

from collections.abc import Mapping, Sequence
from datetime import date

from reportgen.judging.bands import Body, choose_band, why_none
from reportgen.judging.change import change, distance
from reportgen.judging.conformity import chances, interval, likelihood, too_coarse, verdict
from reportgen.judging.fair import Past, fair_past
from reportgen.judging.reliability import spread
from reportgen.judging.trend import trend
from reportgen.languages.speaking import say
from reportgen.records.academy import Student
from reportgen.records.content import Band, Metric
from reportgen.records.lesson import Lesson
from reportgen.records.report import BandUsed, Finding, Reading
from reportgen.records.wording import day
from reportgen.records.words import MOMENTS, Verdict

MIN_SWINGS = 3
"""A spread of fewer swings says next to nothing."""


def judge(
    reading: Reading,
    metric: Metric,
    bands: tuple[Band, ...],
    body: Body,
    student: Student,
    past: Sequence[Past],
    certainty: float,
    lesson: Lesson,
) -> Finding:
    """The finding of one reading. `past` holds the same metric's earlier readings, oldest first; what may not fairly be
    held against this one is left out here."""
    fair, not_compared = fair_past(reading, lesson.club, past)
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
        dof=reading.dof,
        change=change(reading, fair[-1].reading, fair[-1].on, band) if fair else None,
        since_first=change(reading, fair[0].reading, fair[0].on, band) if len(fair) > 1 else None,
        not_compared=not_compared,
        trend=trend([*((p.on, p.reading.value) for p in fair), (lesson.date, reading.value)]),
        in_range_since=_in_range_since(says, fair, lesson.date),
        best_so_far=judged is not None and _best_so_far(reading, fair, judged),
        spread=spread(reading.swings) if len(reading.swings) >= MIN_SWINGS else None,
        means=side.means if side else None,
        too_coarse=judged is not None and too_coarse(reading.u, judged.low, judged.high, certainty, reading.dof),
        also=reading.also,
        note=_note(reading, band, metric, body, past),
    )


def in_order(findings: Sequence[Finding], metrics: Mapping[str, Metric]) -> tuple[Finding, ...]:
    """Findings in the order of the swing, from setup to finish, then as the metrics say."""
    return tuple(
        sorted(findings, key=lambda f: (MOMENTS.index(f.checkpoint), metrics[f.metric].order, f.metric)),
    )


def _in_range_since(says: Verdict, fair: Sequence[Past], today: date) -> date | None:
    """The first day of the unbroken row of lessons, up to today's, in which the value was surely in range."""
    if says != "in range":
        return None
    since = today
    for earlier in reversed(fair):
        if earlier.verdict != "in range":
            break
        since = earlier.on
    return since


def _best_so_far(reading: Reading, fair: Sequence[Past], band: BandUsed) -> bool:
    """Whether the value is nearer to the range than every earlier one, by more than the measuring error."""
    if len(fair) < 2:
        return False
    gap = distance(reading.value, band.low, band.high)
    return all(
        distance(p.reading.value, band.low, band.high) - gap > change(reading, p.reading, p.on, band).detectable
        for p in fair
    )


def _note(reading: Reading, band: BandUsed | None, metric: Metric, body: Body, past: Sequence[Past]) -> str | None:
    notes = [] if reading.note is None else [reading.note]
    if band is None:
        notes.append(why_none(metric, body))
    elif band.context:
        notes.append(say("Shown for context, not judged: {band}.", band=band.for_))
    before = past[-1].band_for if past else None
    if band is not None and before is not None and before != band.for_:
        notes.append(
            say(
                "On {day} it was held against the range for {before}; now it is the one for {now}.",
                day=day(past[-1].on),
                before=before,
                now=band.for_,
            )
        )
    return " ".join(notes) or None
