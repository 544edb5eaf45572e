"""The course of a metric in words: what really changed, where it is going, since when it is in range."""

from collections.abc import Sequence
from datetime import date

from reportgen.languages.speaking import later, say
from reportgen.records.findings import Movement
from reportgen.records.report import Point, Series
from reportgen.records.told import ToldFinding, ToldSeries
from reportgen.records.units import convert
from reportgen.saying.findings import not_compared, told_level
from reportgen.saying.wording import amount, decimals_apart, past_day, size

_MOVED: dict[Movement, str] = {
    "moved toward the range": later(
        "It has moved towards the range by {moved}. Measuring and an ordinary day explain up to {error}."
    ),
    "moved away from the range": later(
        "It has moved away from the range by {moved}. Measuring and an ordinary day explain up to {error}."
    ),
    "changed": later("It has changed by {moved}. Measuring and an ordinary day explain up to {error}."),
}

_SEEMS: dict[Movement, str] = {
    "moved toward the range": later("It seems to be moving towards the range, but it is too early to be sure."),
    "moved away from the range": later("It seems to be moving away from the range, but it is too early to be sure."),
    "changed": later("It seems to be changing, but it is too early to be sure."),
}


def told_series(series: Series, finding: ToldFinding, today: date) -> ToldSeries:
    """A series in the unit and words of its `finding`, that of the lesson of `today`."""

    def into(value: float) -> float:
        return convert(value, series.unit, finding.unit)

    def told(point: Point) -> Point:
        low, high = map(into, point.interval)
        level = told_level(point.level, into)
        return point.model_copy(update={"value": into(point.value), "interval": (low, high), "level": level})

    points = series.points if series.unit == finding.unit else tuple(map(told, series.points))
    return ToldSeries(
        metric=series.metric,
        unit=finding.unit,
        points=points,
        name=finding.name,
        short=finding.short,
        checkpoint=finding.checkpoint,
        decimals=finding.decimals,
        sign=finding.sign,
        sign_beside=finding.sign_beside,
        band=finding.band,
        says=_says(finding, points, today),
    )


def _says(finding: ToldFinding, points: Sequence[Point], today: date) -> str:
    parts = [_first(finding, points, today), _course(finding, points)]
    if finding.in_range_since is not None and finding.in_range_since < today:
        parts.append(say("In range since {day}.", day=past_day(finding.in_range_since, today)))
    parts.append(not_compared(finding))
    return " ".join(part for part in parts if part)


def _first(finding: ToldFinding, points: Sequence[Point], today: date) -> str:
    if len(points) < 2:
        return "" if finding.not_compared else say("First time measured.")
    first = amount(points[0].value, finding.unit, finding.decimals, finding.sign)
    return say("It was {value} on {day}.", value=first, day=past_day(points[0].date, today))


def _course(finding: ToldFinding, points: Sequence[Point]) -> str:
    course = finding.course
    if course is None:
        return say("From the third day on we can say how it changes.") if len(points) > 1 else ""
    apart = decimals_apart(finding.decimals, abs(course.by), course.detectable)
    moved, error = (size(v, finding.unit, apart) for v in (course.by, course.detectable))
    if course.rung == "has moved":
        return say(_MOVED[course.movement], moved=moved, error=error)
    if course.rung == "seems to be moving":
        return say(_SEEMS[course.movement])
    error = size(course.detectable, finding.unit, finding.decimals)
    return say("No clear change: we can only be sure of differences above {error}.", error=error)
