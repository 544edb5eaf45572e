"""What to work on, and why: the headline and the reason of each priority, what to keep and to look at next where there
is none, and why each drill is given."""

from collections.abc import Mapping, Sequence

from reportgen.languages.speaking import later, say
from reportgen.records.findings import Movement
from reportgen.records.report import DrillReason, GivenDrill, Outlook, Priority
from reportgen.records.told import ToldEffect, ToldFinding, ToldOutlook, ToldPriority
from reportgen.records.told_shots import ToldCount
from reportgen.records.words import Direction
from reportgen.saying.wording import amount, decimals_used, limits, listed, mid_sentence, short_day, size
from reportgen.sheets.library import Library

_SINCE: dict[Movement, str] = {
    "moved toward the range": later("Since {day} it has moved towards the range, by {moved}."),
    "moved away from the range": later("Since {day} it has moved away from the range, by {moved}."),
    "changed": later("Since {day} it has changed, by {moved}."),
}
_SEEMS: dict[Movement, str] = {
    "moved toward the range": later("Since {day} it seems to be moving towards the range."),
    "moved away from the range": later("Since {day} it seems to be moving away from the range."),
    "changed": later("Since {day} it seems to be changing."),
}

_PROBABLY_OUT = 1 / 3
"""At most so probable is it that a value is in range which is called probably outside: two in three or more."""


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


def told_outlook(outlook: Outlook, findings: Mapping[str, ToldFinding], counts: Sequence[ToldCount]) -> ToldOutlook:
    """What to keep and what to look at next, said to the student."""
    words = {"keep_says": _keep(outlook, findings), "next_says": _look_at(outlook, findings, counts)}
    return ToldOutlook(**dict(outlook), **words)


def _keep(outlook: Outlook, findings: Mapping[str, ToldFinding]) -> str | None:
    if not outlook.keep:
        return None
    kept = [findings[metric] for metric in outlook.keep]
    said = listed([f"{mid_sentence(f.short)} ({_level(f)})" for f in kept])
    if len(kept) == 1:
        return say("Keep what you do here: {metrics}. It is in your range.", metrics=said)
    return say("Keep what you do here: {metrics}. Both are in your range.", metrics=said)


def _look_at(outlook: Outlook, findings: Mapping[str, ToldFinding], counts: Sequence[ToldCount]) -> str | None:
    at = outlook.look_at
    if at is None:
        return None
    if at.count is not None:
        return say("Next we count again: {count}.", count=counts[at.count].name)
    finding = findings[at.metric or ""]
    metric = f"{mid_sentence(finding.short)} ({_level(finding)})"
    if at.why == "moves away":
        return say("Next we look at {metric}: it seems to be moving away from your range.", metric=metric)
    if at.why == "too close" or (finding.probability or 0.0) > _PROBABLY_OUT:
        return say("Next we look at {metric} again: it is too close to call.", metric=metric)
    return say(
        "Next we look at {metric}: it is probably outside your range. Another measurement would settle it.",
        metric=metric,
    )


def why_given(given: GivenDrill, library: Library) -> str:
    """Why a drill is given, said to the student; `library` is the reader's."""
    reason = given.reason
    if reason.kind == "count" and reason.count:
        return say("For this count: {count}.", count=library.counts[reason.count].name)
    if reason.metric is None:
        return say("We keep it from last time.") if reason.kind == "kept" else say("Your teacher chose it.")
    return say(_WHY[reason.kind], aim=_aim(reason, library))


_WHY = {
    "priority": later("It is for this: {aim}."),
    "look at": later("A first try: {aim}."),
    "teacher": later("Your teacher chose it for this: {aim}."),
    "finding": later("Your teacher chose it. It helps with this too: {aim}."),
}


def _aim(reason: DrillReason, library: Library) -> str:
    """What the drill is for, as the headline of a priority says it."""
    metric = library.metrics[reason.metric or ""]
    side = {"below": metric.below, "above": metric.above, None: None}[reason.direction]
    return mid_sentence(side.work_on if side else metric.name)


def _level(finding: ToldFinding) -> str:
    """Where the player is, beside the short name."""
    return amount(finding.level.value, finding.unit, finding.decimals, finding.sign_beside)


_SEEN = {
    "range": (later("{value}; your range is {range}."), later("{value} so far; range {range}.")),
    "end": (later("{value}; your range ends at {limit}."), later("{value} so far; range to {limit}.")),
    "beginning": (later("{value}; your range begins at {limit}."), later("{value} so far; range from {limit}.")),
}
"""Where this lesson's value is the level, and where it is another: a glance has no room for more words."""


def _seen(finding: ToldFinding, direction: Direction | None) -> str:
    """The level and the end of the range that it is beyond, as a glance takes them in; within it, the whole range."""
    where, band = amount(finding.level.value, finding.unit, finding.decimals, finding.sign), finding.band
    so_far = where != amount(finding.value, finding.unit, finding.decimals, finding.sign)
    if band is None or band.context:
        return say("{value} so far.", value=where) if so_far else f"{where}."
    limit = {"below": band.low, "above": band.high, None: None}[direction]
    if limit is None:
        span = limits(band.low, band.high, finding.unit, finding.decimals, finding.sign)
        return say(_SEEN["range"][so_far], value=where, range=span)
    same_side = (limit >= 0) == (finding.level.value >= 0)
    decimals = decimals_used(limit, finding.decimals)
    alone = size(limit, finding.unit, decimals) if finding.sign and same_side else None
    said = alone or amount(limit, finding.unit, decimals, finding.sign)
    grows = (direction == "above") == (limit >= 0 or finding.sign is None)
    return say(_SEEN["end" if grows else "beginning"][so_far], value=where, limit=said)


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
    if finding.verdict == "too close to call":
        said += " " + say("That is too close to call.")
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
