"""Which range a student's value is held against, and why this one."""

from reportgen.judging.growth import growth_of
from reportgen.records.academy import Student, Target
from reportgen.records.content import Band, Metric
from reportgen.records.findings import BandUsed
from reportgen.records.lesson import Lesson
from reportgen.records.units import convert
from reportgen.records.words import club_family
from reportgen.sheets.band_fits import BandConditions, fits


def body_of(student: Student, lesson: Lesson) -> BandConditions:
    """The student on the day of the lesson, with the club in hand and the kind of lesson."""
    growing = growth_of(student, lesson.date)
    return BandConditions(
        student.stage_on(lesson.date),
        student.mobility.restricted,
        student.sex,
        club_family(lesson.club),
        student.pressure_style,
        growing.stage if growing else None,
        student.skill,
        lesson.kind,
    )


def choose_band(metric: Metric, bands: tuple[Band, ...], body: BandConditions, student: Student) -> BandUsed | None:
    """The instructor's target for this student, or else the most specific band that fits, of equally specific ones the
    first, and so the academy's own; None where none does.

    Limits are in the metric's unit.
    """
    for target in student.targets:
        if target.metric == metric.id:
            return _own_target(target, metric)
    fitting = [b for b in bands if fits(b.fits, body)]
    if not fitting:
        return None
    band = max(fitting, key=lambda b: b.fits.conditions)
    return BandUsed(
        band=band.id,
        low=band.low,
        high=band.high,
        basis=band.basis,
        context=band.context,
        disputed=band.disputed,
    )


def _own_target(target: Target, metric: Metric) -> BandUsed:
    low, high = (
        None if limit is None else convert(limit, target.unit, metric.unit) for limit in (target.low, target.high)
    )
    return BandUsed(band=None, low=low, high=high, basis="instructor", reason=target.reason)
