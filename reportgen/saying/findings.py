"""A judged value in words: its range, what lies behind it, and what a reader should know of how it came about."""

from collections.abc import Callable
from typing import Literal

from reportgen.languages.speaking import later, say, say_as
from reportgen.records.content import Fits, Metric
from reportgen.records.findings import (
    BandUsed,
    Change,
    Course,
    Finding,
    Interval,
    Parts,
    PlayerLevel,
    Reading,
    Remark,
    Spread,
)
from reportgen.records.report import Person
from reportgen.records.told import ToldBand, ToldFinding
from reportgen.records.units import convert
from reportgen.records.words import How
from reportgen.saying.wording import (
    amount,
    club_name,
    day,
    decimals_apart,
    listed,
    mid_sentence,
    number,
    sign_beside,
    way_taken,
)
from reportgen.sheets.library import Library

Into = Callable[[float], float]
"""A figure in the unit of a fact -> in that of its reader."""

_DIFFERS: dict[How, str] = {
    "still": later("The marked pictures give {value}. Our measuring error does not explain that gap."),
    "sensor": later("The sensor gives {value}. Our measuring error does not explain that gap."),
    "by-eye": later("By eye it was {value}. Our measuring error does not explain that gap."),
}
_OTHER: dict[Literal["device", "surface"], str] = {
    "device": later("by another device"),
    "surface": later("from another kind of ground"),
}
_REMARKS = {
    "planar bend": later("Measured flat, in one picture: a leg that is turned bends more than we can see there."),
    "one-view turn": later(
        "Estimated from the face-on picture, by how narrow the line looks. Near square this is weak: a "
        "down-the-line picture of the same moment would settle it."
    ),
    "distance unknown": later("We do not know how far away the camera was, so we are less sure of this value."),
    "ball moved": later(
        "The ball is not where it was in the other picture. If the camera moved, do not trust this value."
    ),
    "camera moved": later(
        "The camera moved between the pictures, as we saw from the ball. We corrected this value for it."
    ),
}


def told_finding(finding: Finding, person: Person, library: Library, *, listed: bool = True) -> ToldFinding:
    """A finding in the reader's unit and words. `library` is the reader's."""
    metric = library.metrics[finding.metric]

    def into(value: float) -> float:
        return convert(value, finding.unit, metric.unit)

    side = {"below range": metric.below, "above range": metric.above}.get(finding.verdict)
    figures = {} if metric.unit == finding.unit else _converted(finding, metric.unit, into)
    words = {
        "name": metric.name,
        "short": metric.short,
        "decimals": _decimals(finding, metric, into),
        "sign": metric.sign,
        "sign_beside": sign_beside(metric),
        "band": told_band(finding.band, finding.metric, library, into) if finding.band else None,
        "explain": metric.explain.strip(),
        "means": side.means if side else None,
        "note": _note(finding, person, metric, library, into),
        "listed": listed,
    }
    return ToldFinding(**{**dict(finding), **figures, **words})


def _decimals(finding: Finding, metric: Metric, into: Into) -> int:
    """As many as the metric has, or more where the player is outside the range and would be shown on its very limit."""
    band, at = finding.band, into(finding.level.value)
    if band is None or finding.verdict not in ("below range", "above range"):
        return metric.decimals
    limits = [into(limit) for limit in (band.low, band.high) if limit is not None]
    return max(decimals_apart(metric.decimals, at, limit) for limit in limits)


def not_compared(finding: Finding) -> str:
    """Why an earlier value is left out; nothing where none is."""
    left = finding.not_compared
    if left is None:
        return ""
    if left.club:
        how = say("with the {club}", club=club_name(left.club))
    else:
        how = say(_OTHER[left.other]) if left.other else way_taken(left.how, left.views)
    return say("We do not compare with {day}, when it was measured {how}.", day=day(left.on), how=how)


def told_band(used: BandUsed, metric: str, library: Library, into: Into) -> ToldBand:
    """The band that a value was held against, for whom it is and why it was chosen."""
    limits = {side: None if limit is None else into(limit) for side, limit in (("low", used.low), ("high", used.high))}
    band = next((band for band in library.bands.get(metric, ()) if band.id == used.band), None)
    if band is None:
        words = {
            "source": say("set by your teacher"),
            "limits": say("the range your teacher wants to see"),
            "why": say("Your teacher set this range for you: {reason}", reason=used.reason),
        }
    else:
        words = {"source": band.source, "limits": band.limits, "why": _why(band.fits, band.for_, used)}
    return ToldBand(**{**dict(used), **limits, **words, "for_": _whom(used.band, metric, library)})


def _whom(band: str | None, metric: str, library: Library) -> str:
    """Whom a band is for; None is the instructor's own target."""
    found = next((one.for_ for one in library.bands.get(metric, ()) if one.id == band), None)
    return found or say_as("whom a range is for", "you")


def _why(fits: Fits, whom: str, used: BandUsed) -> str:
    published = used.basis == "published"
    origin = say("a published one") if published else say("your teacher’s own figure, not a research norm")
    if used.disputed:
        origin = say("your academy’s view, since teachers disagree about this number")
    conditions = _conditions(fits)
    chosen = say("chosen by {conditions}", conditions=conditions) if conditions else say("the same for everybody")
    return say("The range for {whom}, {chosen}. It is {origin}.", whom=whom, chosen=chosen, origin=origin)


def _conditions(of: Fits) -> str:
    words = {
        "stage": say("age"), "hips": say("hip mobility"), "restricted": say("hip mobility"), "sex": say("sex"),
        "club": say("club"), "pressure_style": say("pressure style"), "growth": say("growth"), "skill": say("skill"),
        "kinds": say("kind of lesson"),
    }  # fmt: skip
    return listed(list(dict.fromkeys(word for name, word in words.items() if getattr(of, name))))


def _note(finding: Finding, person: Person, metric: Metric, library: Library, into: Into) -> str | None:
    notes = [finding.note] if finding.note else []
    notes += [remark_said(remark, metric, into) for remark in finding.remarks]
    if finding.band is None:
        notes.append(_why_none(metric, person))
        return " ".join(notes)
    whom = _whom(finding.band.band, metric.id, library)
    if finding.band.context:
        notes.append(say("Shown for context, not judged: {band}.", band=whom))
    if finding.held_before is not None:
        before = _whom(finding.held_before.band, metric.id, library)
        if before != whom:
            notes.append(
                say(
                    "On {day} we used the range for {before}. Now we use the range for {now}.",
                    day=day(finding.held_before.on),
                    before=before,
                    now=whom,
                )
            )
    return " ".join(notes) or None


def _why_none(metric: Metric, person: Person) -> str:
    if person.stage == "junior":
        return say("While you grow we set no range here. We show the value and how it changes.")
    return say(
        "We have no range for {metric} that fits you. We show the value and how it changes.",
        metric=mid_sentence(metric.short),
    )


def remark_said(remark: Remark, metric: Metric, into: Into) -> str:
    figures = remark.figures
    if remark.code == "ways differ":
        other = amount(into(figures["value"]), metric.unit, metric.decimals, metric.sign)
        return say(_DIFFERS[remark.how or "still"], value=other)
    if remark.code == "ratio too high":
        apart = decimals_apart(2, figures["value"], figures["highest"])
        return say(
            "A ball cannot leave at {ratio} times the clubhead speed (about {most} is the most, with a driver). "
            "Check both readings: different swings or units are the usual reason.",
            ratio=number(figures["value"], apart),
            most=number(figures["highest"], apart),
        )
    if remark.code == "frame rate":
        fps = figures["fps"]
        said = {
            "fps": number(fps, 0 if fps == int(fps) else 2),
            "seconds": number(figures["seconds"], 2),
            "percent": number(figures["percent"], 0),
        }
        if "putting" in metric.kinds:
            return say(
                "From a video of {fps} frames a second: {seconds} s to the ball, so counting frames "
                "is good to about {percent} %.",
                **said,
            )
        return say(
            "From a video of {fps} frames a second: the downswing lasts {seconds} s, so counting "
            "frames is good to about {percent} %.",
            **said,
        )
    return say(_REMARKS[remark.code])


def _converted(finding: Finding, unit: str, into: Into) -> dict[str, object]:
    """Every figure of a finding in another unit."""
    return {
        "unit": unit,
        "value": into(finding.value),
        "u": into(finding.u),
        "interval": _span(finding.interval, into),
        "swings": tuple(map(into, finding.swings)),
        "level": told_level(finding.level, into),
        "change": _change(finding.change, into),
        "course": _course(finding.course, into),
        "spread": _spread(finding.spread, into),
        "parts": finding.parts and _parts(finding.parts, into),
        "also": tuple(_reading(reading, into) for reading in finding.also),
    }


def _span(interval: Interval, into: Into) -> Interval:
    return into(interval[0]), into(interval[1])


def told_level(level: PlayerLevel, into: Into) -> PlayerLevel:
    """A level in the reader's unit."""
    figures = {"value": into(level.value), "u": into(level.u), "interval": _span(level.interval, into)}
    return level.model_copy(update=figures)


def _change(change: Change | None, into: Into) -> Change | None:
    return change and change.model_copy(update={name: into(getattr(change, name)) for name in ("before", "by")})


def _course(course: Course | None, into: Into) -> Course | None:
    figures = {name: into(getattr(course, name)) for name in ("by", "detectable")} if course else {}
    return course and course.model_copy(update={**figures, "interval": _span(course.interval, into)})


def _spread(spread: Spread | None, into: Into) -> Spread | None:
    return spread and spread.model_copy(update={"sd": into(spread.sd), "interval": _span(spread.interval, into)})


def _parts(parts: Parts, into: Into) -> Parts:
    return Parts(**{name: into(part) for name, part in parts})


def _reading(reading: Reading, into: Into) -> Reading:
    parts = reading.parts and _parts(reading.parts, into)
    figures = {
        "value": into(reading.value),
        "parts": parts,
        "u": into(reading.u),
        "swings": tuple(map(into, reading.swings)),
    }
    return reading.model_copy(update=figures)
