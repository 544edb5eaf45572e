"""What a lesson says that has nothing to work on: what to keep, and what to look at next, and why."""

from collections.abc import Sequence

from reportgen.planning.priorities import direction_of
from reportgen.records.findings import Finding
from reportgen.records.report import LookAt, Outlook, Priority
from reportgen.records.shot_findings import CountFound

KEPT = 2


def outlook_of(findings: Sequence[Finding], counts: Sequence[CountFound], followed: Sequence[str]) -> Outlook | None:
    """To keep: metrics that are surely in range, those `followed` first, then those in range for longest. To look at
    next: what goes away from its range; else what was seen outside and is too close to call, the likeliest first; else
    the first count of which not all were made. None where there is neither."""
    inside = [f for f in findings if f.verdict == "in range"]
    inside.sort(key=lambda f: (f.metric not in followed, f.in_range_since or f.level.since, -(f.probability or 0.0)))
    outlook = Outlook(keep=tuple(f.metric for f in inside[:KEPT]), look_at=_look_at(findings, counts))
    return outlook if outlook.keep or outlook.look_at else None


def tried(outlook: Outlook | None) -> tuple[Priority, ...]:
    """What to look at next as something to try a drill for; nothing where it has no side."""
    at = outlook.look_at if outlook else None
    if at is None or at.metric is None or at.direction is None:
        return ()
    return (Priority(metric=at.metric, direction=at.direction, chosen_by="numbers"),)


def _look_at(findings: Sequence[Finding], counts: Sequence[CountFound]) -> LookAt | None:
    for finding in findings:
        if _moves_away(finding):
            return LookAt(why="moves away", metric=finding.metric, direction=direction_of(finding))
    close = [f for f in findings if f.verdict == "too close to call" and direction_of(f)]
    if close:
        first = min(close, key=lambda f: f.probability or 0.0)
        if (first.probability or 0.0) >= 0.5:
            return LookAt(why="too close", metric=first.metric)
        return LookAt(why="probably out", metric=first.metric, direction=direction_of(first))
    missed = (place for place, one in enumerate(counts) if one.count is not None and one.run.made < one.run.of)
    return next((LookAt(why="more shots", count=place) for place in missed), None)


def _moves_away(finding: Finding) -> bool:
    course = finding.course
    away = (
        course is not None and course.rung != "no change we can see" and course.movement == "moved away from the range"
    )
    return away and finding.verdict != "not judged"
