"""Which range a student's value is held against, and why this one."""

from dataclasses import dataclass

from reportgen.judging.growth import growth_of
from reportgen.languages.speaking import say, say_as
from reportgen.records.academy import Student, Target
from reportgen.records.content import Band, Fits, Metric
from reportgen.records.lesson import Lesson
from reportgen.records.report import BandUsed
from reportgen.records.units import convert
from reportgen.records.wording import listed, mid_sentence
from reportgen.records.words import ClubFamily, GrowthStage, Hips, PressureStyle, Sex, Stage, club_family
from reportgen.sheets.library import fits


@dataclass(frozen=True)
class Body:
    """What bands are chosen by."""

    stage: Stage
    hips: Hips
    sex: Sex | None
    club: ClubFamily
    pressure_style: PressureStyle | None
    growth: GrowthStage | None = None


def body_of(student: Student, lesson: Lesson) -> Body:
    """The student on the day of the lesson, with the club in hand."""
    growing = growth_of(student, lesson.date)
    return Body(
        student.stage_on(lesson.date),
        student.mobility.hips,
        student.sex,
        club_family(lesson.club),
        student.pressure_style,
        growing.stage if growing else None,
    )


def choose_band(metric: Metric, bands: tuple[Band, ...], body: Body, student: Student) -> BandUsed | None:
    """The instructor's target for this student, or else the most specific band that fits; None where none does.

    Limits are in the metric's unit.
    """
    for target in student.targets:
        if target.metric == metric.id:
            return _own_target(target, metric)
    fitting = [
        b for b in bands if fits(b.fits, body.stage, body.hips, body.sex, body.club, body.pressure_style, body.growth)
    ]
    if not fitting:
        return None
    band = max(fitting, key=lambda b: b.fits.conditions)
    return BandUsed(
        low=band.low,
        high=band.high,
        for_=band.for_,
        source=band.source,
        basis=band.basis,
        limits=band.limits,
        why=_why(band),
        context=band.context,
    )


def why_none(metric: Metric, body: Body) -> str:
    """One sentence for a value that is not judged."""
    if body.stage == "junior":
        return say("For a growing player we set no range here: we show the value and how it changes.")
    return say(
        "No range is set for {metric} that fits you: we show the value and how it changes.",
        metric=mid_sentence(metric.short),
    )


def _own_target(target: Target, metric: Metric) -> BandUsed:
    low, high = (
        None if limit is None else convert(limit, target.unit, metric.unit) for limit in (target.low, target.high)
    )
    return BandUsed(
        low=low,
        high=high,
        for_=say_as("whom a range is for", "you"),
        source=say("set by your instructor"),
        basis="instructor",
        limits=say("the range your instructor wants to see"),
        why=say("Your instructor set this range for you: {reason}", reason=target.reason),
    )


def _why(band: Band) -> str:
    published = band.basis == "published"
    origin = say("a published one") if published else say("your instructor's default, not a research norm")
    conditions = _conditions(band.fits)
    chosen = say("chosen by {conditions}", conditions=conditions) if conditions else say("the same for everybody")
    return say("The range for {whom}, {chosen}; {origin}.", whom=band.for_, chosen=chosen, origin=origin)


def _conditions(of: Fits) -> str:
    words = {
        "stage": say("age"), "hips": say("hip mobility"), "sex": say("sex"), "club": say("club"),
        "pressure_style": say("pressure style"), "growth": say("growth"),
    }  # fmt: skip
    return listed([word for name, word in words.items() if getattr(of, name)])
