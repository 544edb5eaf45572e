"""What to work on, and why: the headline and the reason of each priority."""

from reportgen.languages.speaking import later, say
from reportgen.planning.priorities import out_by
from reportgen.records.findings import Movement
from reportgen.records.report import Priority
from reportgen.records.told import ToldEffect, ToldFinding, ToldPriority
from reportgen.records.words import Direction
from reportgen.saying.wording import amount, decimals_used, limits, short_day, size
from reportgen.sheets.library import Library

_SINCE: dict[Movement, str] = {
    "moved toward the range": later("Since {day} it has moved toward the range, by {moved}."),
    "moved away from the range": later("Since {day} it has moved away from the range, by {moved}."),
    "changed": later("Since {day} it has changed, by {moved}."),
}
_SEEMS: dict[Movement, str] = {
    "moved toward the range": later("Since {day} it seems to be moving toward the range."),
    "moved away from the range": later("Since {day} it seems to be moving away from the range."),
    "changed": later("Since {day} it seems to be changing."),
}


def told_priority(priority: Priority, finding: ToldFinding, library: Library) -> ToldPriority:
    """A priority said to the student; `finding` is that of its metric, `library` the reader's."""
    metric = library.metrics[priority.metric]
    side = {"below": metric.below, "above": metric.above, None: None}[priority.direction]
    effects = tuple(
        ToldEffect(**dict(effect), short=library.metrics[effect.metric].short) for effect in priority.effects
    )
    because = side.because.strip() if side else ""
    words = {
        "name": metric.name,
        "headline": side.work_on if side else metric.name,
        "reason": _reason(finding, because or metric.explain),
        "seen": _seen(finding, priority.direction),
        "because": because,
        "more": " ".join(part for part in (_single(finding), _course(finding)) if part),
        "effects": effects,
    }
    return ToldPriority(**{**dict(priority), **words})


def _seen(finding: ToldFinding, direction: Direction | None) -> str:
    """The value and the end of the range that it is beyond, as a glance takes them in; within it, the whole range."""
    where, band = amount(finding.level.value, finding.unit, finding.decimals, finding.sign), finding.band
    if band is None or band.context:
        return f"{where}."
    limit = {"below": band.low, "above": band.high, None: None}[direction]
    if limit is None:
        span = limits(band.low, band.high, finding.unit, finding.decimals, finding.sign)
        return say("{value}; your range is {range}.", value=where, range=span)
    same_side = (limit >= 0) == (finding.level.value >= 0)
    decimals = decimals_used(limit, finding.decimals)
    alone = size(limit, finding.unit, decimals) if finding.sign and same_side else None
    said = alone or amount(limit, finding.unit, decimals, finding.sign)
    if (direction == "above") == (limit >= 0 or finding.sign is None):
        return say("{value}; your range ends at {limit}.", value=where, limit=said)
    return say("{value}; your range begins at {limit}.", value=where, limit=said)


def _reason(finding: ToldFinding, because: str) -> str:
    parts = (_stands(finding), because.strip(), _single(finding), _course(finding))
    return " ".join(part for part in parts if part)


def _stands(finding: ToldFinding) -> str:
    """Where the player is, by all lessons so far, and the range."""
    where, band = amount(finding.level.value, finding.unit, finding.decimals, finding.sign), finding.band
    several = finding.level.lessons > 1
    if band is None or band.context:
        return say("By all lessons so far it is {value}.", value=where) if several else _this_time(finding)
    span = limits(band.low, band.high, finding.unit, finding.decimals, finding.sign)
    if several:
        said = say("By all lessons so far it is {value}; your range is {range}.", value=where, range=span)
    else:
        said = say("This time it was {value}; your range is {range}.", value=where, range=span)
    if finding.verdict == "too close to call" and out_by(finding):
        said += " " + say("It is outside more likely than not, though our measuring cannot settle that yet.")
    return said


def _this_time(finding: ToldFinding) -> str:
    return say("This time it was {value}.", value=amount(finding.value, finding.unit, finding.decimals, finding.sign))


def _single(finding: ToldFinding) -> str:
    """This lesson's value and the last one's, where there are several."""
    return f"{_this_time(finding)} {_last(finding)}".strip() if finding.level.lessons > 1 else ""


def _last(finding: ToldFinding) -> str:
    change = finding.change
    if change is None:
        return ""
    before = amount(change.before, finding.unit, finding.decimals, finding.sign)
    return say("On {day} it was {before}.", day=short_day(change.since), before=before)


def _course(finding: ToldFinding) -> str:
    course = finding.course
    if course is None or course.rung == "no change we can see":
        return ""
    moved, day = size(course.by, finding.unit, finding.decimals), short_day(course.since)
    if course.rung == "has moved":
        return say(_SINCE[course.movement], day=day, moved=moved)
    return say(_SEEMS[course.movement], day=day)
