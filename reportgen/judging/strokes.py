"""Which lines a still carries: those that follow from the formulas of the lesson's findings, with their values."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import copysign, hypot

from reportgen.records.base import Pixel
from reportgen.records.content import Metric
from reportgen.records.findings import Finding
from reportgen.records.formulas import (
    AXES,
    Displacement,
    Distance,
    Flexion,
    Measurand,
    Point,
    Tilt,
    Turn,
    joint_of,
    line_of,
    marks_of,
    plane_of,
)
from reportgen.records.pictures import Stroke
from reportgen.records.stills import Still
from reportgen.records.words import Checkpoint, View

Draw = Callable[[Still, "Still | None"], list[Stroke]]
"""The strokes of a still, and of the earlier one that it is held against; the last one carries the value."""

VALUES_SHOWN = 3
"""More than so many values on one picture hide the player."""

_GRAVEST_FIRST = ("above range", "below range", "too close to call", "not judged", "in range")


@dataclass(frozen=True)
class Drawing:
    """How a finding is drawn: in the view `best`, or, unless that is the `only` one, in the other where the lesson has
    no such still; with where things stood at the checkpoint `since`."""

    finding: Finding
    best: View
    only: bool
    since: Checkpoint | None
    draw: Draw


def drawings(findings: Sequence[Finding], metrics: Mapping[str, Metric]) -> tuple[Drawing, ...]:
    """The drawings of all findings whose metrics have one, the gravest first."""
    found = []
    for finding in sorted(findings, key=lambda f: _GRAVEST_FIRST.index(f.verdict)):
        metric = metrics.get(finding.metric)
        if metric is None or metric.stills is None or _drawn_itself(metric, metrics):
            continue
        measurand = metric.stills.measurand
        if (draw := _draw(measurand)) is not None:
            found.append(Drawing(finding, *_view(measurand), metric.stills.since, draw))
    return tuple(found)


def strokes(still: Still, others: Sequence[Still], drawn: Sequence[Drawing]) -> tuple[Stroke, ...]:
    """The lines of one still, for at most VALUES_SHOWN of the drawings. A reference comes from one of `others` (of the
    same lesson and view)."""
    found: list[Stroke] = []
    values = 0
    for one in drawn:
        if one.finding.checkpoint != still.checkpoint or values == VALUES_SHOWN:
            continue
        if still.view != one.best and (one.only or any(_is(other, one.best, still.checkpoint) for other in others)):
            continue
        before = next((other for other in others if one.since and _is(other, still.view, one.since)), None)
        if lines := one.draw(still, before):
            values += 1
            found += [*lines[:-1], lines[-1].model_copy(update=_value(one.finding))]
    return tuple(dict.fromkeys(found))


def place(still: Still, point: Point) -> Pixel | None:
    """Where a point is on a still, None where it is not marked."""
    there = [still.marks[mark] for mark in marks_of(point) if mark in still.marks]
    if len(there) < len(marks_of(point)):
        return None
    return sum(x for x, _ in there) / len(there), sum(y for _, y in there) / len(there)


def _is(still: Still, view: str, checkpoint: str) -> bool:
    return still.view == view and still.checkpoint == checkpoint and bool(still.marks)


def _value(finding: Finding) -> dict[str, object]:
    return {"metric": finding.metric, "value": finding.value, "unit": finding.unit, "verdict": finding.verdict}


def _drawn_itself(metric: Metric, metrics: Mapping[str, Metric]) -> bool:
    """Whether a metric is the change of a turn or a bend that another metric shows at the same moment."""
    changed = metric.stills and metric.stills.measurand
    if not isinstance(changed, Turn | Flexion) or changed.since is None:
        return False
    lines = [one.stills.measurand for one in metrics.values() if one.stills and one.checkpoint == metric.checkpoint]
    return any(isinstance(line, type(changed)) and line.of == changed.of and line.since is None for line in lines)


def _view(measurand: Measurand) -> tuple[View, bool]:
    """The view that shows a quantity best, and whether none else shows it."""
    if isinstance(measurand, Flexion):
        return "down-the-line", False
    toward = getattr(measurand, "toward", None)
    if isinstance(measurand, Turn) or toward is None:
        return "face-on", False
    if toward not in AXES:  # the way to a mark is taken face-on
        return "face-on", True
    if (plane := plane_of(toward)) is not None:
        return plane, True
    if isinstance(measurand, Displacement) and measurand.of.endswith(("toe", "heel")):
        return "down-the-line", False  # in whose plane a foot lies
    return "face-on", isinstance(measurand, Tilt)


def _draw(measurand: Measurand) -> Draw | None:
    match measurand:
        case Turn():
            return _through(*line_of(measurand.of))
        case Flexion():
            return _through(*joint_of(measurand))
        case Tilt():
            return _leaning(measurand)
        case Displacement():
            return _moved(measurand)
        case Distance():
            return _apart(measurand)
    return None  # of a difference each part is drawn by itself


def _through(*points: Point) -> Draw:
    """A line through points of the still."""

    def draw(still: Still, _: Still | None) -> list[Stroke]:
        places = [there for point in points if (there := place(still, point)) is not None]
        return [Stroke(kind="line", points=tuple(places))] if len(places) == len(points) else []

    return draw


def _leaning(tilt: Tilt) -> Draw:
    """A line, what it is taken from through its foot (the vertical or the level), and where it stood before."""

    def draw(still: Still, before: Still | None) -> list[Stroke]:
        foot, end = place(still, tilt.from_), place(still, tilt.to)
        if foot is None or end is None:
            return []
        length = hypot(end[0] - foot[0], end[1] - foot[1])
        level = plane_of(tilt.toward) is None
        plumb = (foot[0] + copysign(length, end[0] - foot[0]), foot[1]) if level else (foot[0], foot[1] - length)
        found = [Stroke(kind="plumb", points=(foot, plumb)), Stroke(kind="line", points=(foot, end))]
        earlier, there = (place(before, point) if before else None for point in (tilt.from_, tilt.to))
        if earlier is not None and there is not None:
            dx, dy = foot[0] - earlier[0], foot[1] - earlier[1]
            found.insert(0, Stroke(kind="before", points=(foot, (there[0] + dx, there[1] + dy))))
        return found

    return draw


def _moved(displacement: Displacement) -> Draw:
    """Where a point is now, and a line (upright or level) where it stood in the earlier still."""
    toward = displacement.toward
    upright = toward not in AXES or plane_of(toward) is not None

    def draw(still: Still, before: Still | None) -> list[Stroke]:
        now = place(still, displacement.of)
        if now is None:
            return []
        found = [Stroke(kind="place", points=(now,))]
        then = place(before, displacement.of) if before is not None else None
        if before is not None and then is not None:
            dx, dy = _camera_moved(before, still)
            x, y = then[0] + dx, then[1] + dy
            reach = 0.12 * (still.scale.px_per_m if still.scale else 400.0) * 2
            line = ((x, y - reach), (x, y + reach)) if upright else ((x - reach, y), (x + reach, y))
            found.insert(0, Stroke(kind="before", points=line))
        return found

    return draw


def _apart(distance: Distance) -> Draw:
    """The line between two points, or its part along the direction that counts, with the rest of the way as a
    reference."""

    def draw(still: Still, _: Still | None) -> list[Stroke]:
        start, end = place(still, distance.from_), place(still, distance.to)
        if start is None or end is None:
            return []
        if distance.toward is None:
            return [Stroke(kind="line", points=(start, end))]
        corner = end[0], start[1]
        across, up = (start, corner), (corner, end)
        rest, counts = (across, up) if plane_of(distance.toward) is None else (up, across)
        return [Stroke(kind="plumb", points=rest), Stroke(kind="line", points=counts)]

    return draw


def _camera_moved(before: Still, now: Still) -> tuple[float, float]:
    """By how many pixels the picture moved between two stills, told by the ball, which lies still until impact."""
    if "ball" not in before.marks or "ball" not in now.marks:
        return 0.0, 0.0
    return now.marks["ball"][0] - before.marks["ball"][0], now.marks["ball"][1] - before.marks["ball"][1]
