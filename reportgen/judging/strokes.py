"""Which lines a still carries: those that belong to the lesson's findings, with their values."""

from collections.abc import Callable, Mapping, Sequence
from math import hypot

from reportgen.records.lesson import Pixel, Still
from reportgen.records.report import Finding, Stroke
from reportgen.records.wording import amount
from reportgen.records.words import Checkpoint, Mark, View

Marks = Mapping[Mark, Pixel]
Draw = Callable[[Finding, Still, "Still | None"], list[Stroke]]


VALUES_SHOWN = 3
"""More than so many values on one picture hide the player."""

_GRAVEST_FIRST = ("above range", "below range", "too close to call", "no range", "in range")


def strokes(still: Still, others: Sequence[Still], findings: Sequence[Finding]) -> tuple[Stroke, ...]:
    """The lines of one still, those of the gravest findings first, for at most VALUES_SHOWN of them.

    A metric is drawn in the view that shows it best, or in the other one where the lesson has no such still. A
    reference comes from one of `others` (of the same lesson and view).
    """
    found: list[Stroke] = []
    values = 0
    for finding in sorted(findings, key=lambda f: _GRAVEST_FIRST.index(f.verdict)):
        way = _WAYS.get(finding.metric)
        if way is None or finding.checkpoint != still.checkpoint or values == VALUES_SHOWN:
            continue
        best, only, since, draw = way
        if still.view != best and (only or any(_is(other, best, still.checkpoint) for other in others)):
            continue
        before = next((other for other in others if since and _is(other, still.view, since)), None)
        drawn = draw(finding, still, before)
        values += bool(drawn)
        found += drawn
    return tuple(dict.fromkeys(found))


def _is(still: Still, view: str, checkpoint: str) -> bool:
    return still.view == view and still.checkpoint == checkpoint and bool(still.marks)


def middle(a: Pixel, b: Pixel) -> Pixel:
    """The point halfway between two."""
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def mid_hip(still: Still) -> Pixel | None:
    """The middle between the hips, where both are marked."""
    return middle(still.marks["lead-hip"], still.marks["trail-hip"]) if _has(still, "lead-hip", "trail-hip") else None


def _has(still: Still, *marks: Mark) -> bool:
    return all(mark in still.marks for mark in marks)


def _said(finding: Finding) -> str:
    return amount(finding.value, finding.unit, finding.decimals, finding.sign)


def _through(kind: str, *marks: Mark) -> Draw:
    """A line through marks of the still, with the value."""

    def draw(finding: Finding, still: Still, _: Still | None) -> list[Stroke]:
        if not _has(still, *marks):
            return []
        points = tuple(still.marks[mark] for mark in marks)
        return [Stroke(kind=kind, points=points, says=_said(finding), verdict=finding.verdict)]

    return draw


def _trunk(finding: Finding, still: Still, before: Still | None) -> list[Stroke]:
    """The trunk from between the hips to the neck, the vertical through its foot, and where it stood at setup."""
    foot = mid_hip(still)
    if foot is None or not _has(still, "neck"):
        return []
    neck = still.marks["neck"]
    length = hypot(neck[0] - foot[0], neck[1] - foot[1])
    found = [
        Stroke(kind="upright", points=(foot, (foot[0], foot[1] - length))),
        Stroke(kind="trunk", points=(foot, neck), says=_said(finding), verdict=finding.verdict),
    ]
    earlier = mid_hip(before) if before is not None else None
    if before is not None and earlier is not None and _has(before, "neck"):
        dx, dy = foot[0] - earlier[0], foot[1] - earlier[1]
        there = before.marks["neck"]
        found.insert(0, Stroke(kind="setup", points=(foot, (there[0] + dx, there[1] + dy))))
    return found


def _from_setup(place: Callable[[Still], Pixel | None], upright: bool) -> Draw:
    """Where a point is now, and a line (upright or level) where it stood in the earlier still."""

    def draw(finding: Finding, still: Still, before: Still | None) -> list[Stroke]:
        now = place(still)
        if now is None:
            return []
        found = [Stroke(kind="place", points=(now,), says=_said(finding), verdict=finding.verdict)]
        then = place(before) if before is not None else None
        if before is not None and then is not None:
            dx, dy = _camera_moved(before, still)
            x, y = then[0] + dx, then[1] + dy
            reach = 0.12 * (still.scale.px_per_m if still.scale else 400.0) * 2
            line = ((x, y - reach), (x, y + reach)) if upright else ((x - reach, y), (x + reach, y))
            found.insert(0, Stroke(kind="setup", points=line))
        return found

    return draw


def _camera_moved(before: Still, now: Still) -> tuple[float, float]:
    """By how many pixels the picture moved between two stills, told by the ball, which lies still until impact."""
    if "ball" not in before.marks or "ball" not in now.marks:
        return 0.0, 0.0
    return now.marks["ball"][0] - before.marks["ball"][0], now.marks["ball"][1] - before.marks["ball"][1]


def _mark(mark: Mark) -> Callable[[Still], Pixel | None]:
    return lambda still: still.marks.get(mark)


_HIPS = _through("hips", "lead-hip", "trail-hip")
_SHOULDERS = _through("shoulders", "lead-shoulder", "trail-shoulder")
_LEAD_LEG = _through("leg", "lead-hip", "lead-knee", "lead-ankle")
_TRAIL_LEG = _through("leg", "trail-hip", "trail-knee", "trail-ankle")

_F: View = "face-on"
_D: View = "down-the-line"
_WAYS: dict[str, tuple[View, bool, Checkpoint | None, Draw]] = {
    "pelvis-closed-top": (_F, False, None, _HIPS),
    "thorax-closed-top": (_F, False, None, _SHOULDERS),
    "trail-hip-load": (_F, True, "takeaway", _from_setup(_mark("trail-hip"), upright=True)),
    "trail-knee-flex-top": (_D, False, None, _TRAIL_LEG),
    "knee-flex-transition": (_D, False, None, _LEAD_LEG),
    "seat-forward-delivery": (_D, True, "setup", _from_setup(_mark("seat"), upright=True)),
    "seat-forward-impact": (_D, True, "setup", _from_setup(_mark("seat"), upright=True)),
    "lead-hip-rise": (_F, False, "transition", _from_setup(_mark("lead-hip"), upright=False)),
    "pelvis-open-impact": (_F, False, None, _HIPS),
    "thorax-open-impact": (_F, False, None, _SHOULDERS),
    "lead-knee-flex-impact": (_D, False, None, _LEAD_LEG),
    "trail-heel-lift-impact": (_D, False, "setup", _from_setup(_mark("trail-heel"), upright=False)),
    "side-bend-impact": (_F, True, None, _trunk),
    "posture-change-impact": (_D, True, "setup", _trunk),
    "pelvis-shift-impact": (_F, True, "setup", _from_setup(mid_hip, upright=True)),
}
"""Metric -> the view that shows it best, whether none else shows it, the checkpoint of its reference, its drawing."""
