"""The formulas of metrics, read into functions of bodies; what pictures must show follows from them.

A function takes the bodies by checkpoint and gives (rows,) values: degrees, or metres for lengths (a measure says
`cm`, and `in_unit` turns them).
"""

from collections.abc import Callable, Iterable, Mapping, Set
from dataclasses import dataclass
from itertools import chain, product
from typing import Literal, cast

import numpy as np

from reportgen.measuring import geometry
from reportgen.measuring.body import Body
from reportgen.measuring.foreshortened import foreshortened
from reportgen.measuring.geometry import Array
from reportgen.records.content import Metric
from reportgen.records.findings import RemarkCode
from reportgen.records.formulas import (
    AXES,
    Axis,
    Difference,
    Displacement,
    Distance,
    Flexion,
    Point,
    Tilt,
    Turn,
    joint_of,
    line_of,
    marks_of,
    plane_of,
)
from reportgen.records.units import convertible
from reportgen.records.words import CHECKPOINTS, MOMENTS, Checkpoint, Mark, View

Bodies = Mapping[Checkpoint, Body]
Values = Callable[[Bodies], Array]
AtMoment = Callable[[Bodies, Checkpoint], Array]
Seen = Mapping[View, tuple[Mark, ...]]

OUT_OF_PLANE = 0.2
"""A planar bend is short by 1 / cos of the leg's turn from the picture's depth; at about 35° that is this part of it,
taken as a standard uncertainty (own figure)."""

VIEWS: tuple[View, View] = ("face-on", "down-the-line")
HIPS: tuple[Mark, ...] = ("lead-hip", "trail-hip")


@dataclass(frozen=True)
class Way:
    """One way to measure a metric: the marks that each picture must show at each checkpoint, and the values.

    The last checkpoint is the one that is judged. `turned` marks an angle from foreshortening, whose interval is
    lopsided near square. `beside` is a further standard uncertainty, in the unit of the values, from those without
    noise. `compares_places` tells that the camera must not have moved between the checkpoints.
    """

    seen: Seen
    checkpoints: tuple[Checkpoint, ...]
    values: Values
    turned: bool = False
    beside: Callable[[Bodies], float] | None = None
    compares_places: bool = False
    remark: RemarkCode | None = None

    @property
    def views(self) -> int:
        """How many pictures of a moment it takes: 1 or 2."""
        return len(self.seen)


@dataclass(frozen=True)
class Measure:
    """A metric's id, the unit of its values, its ways to be measured, the surest first, and how fast it changes at its
    moment, in its unit a second (0 where it nearly stands still)."""

    metric: str
    unit: Literal["deg", "cm"]
    ways: tuple[Way, ...]
    rate: float

    @property
    def needs_both(self) -> bool:
        """Whether two views make the value together, as no picture shows it whole by itself."""
        return all(way.views == 2 or way.turned or way.beside is not None for way in self.ways)


def measures(metrics: Mapping[str, Metric]) -> tuple[Measure, ...]:
    """The measures of all metrics that have a formula, in the order of the swing. The formulas are sound: whatever
    `formula_faults` finds wrong was left out when the library was read."""
    found = [metric for metric in metrics.values() if metric.stills is not None]
    found.sort(key=lambda metric: (MOMENTS.index(metric.checkpoint), metric.order, metric.id))
    return tuple(
        Measure(metric.id, "deg" if _is_angle(metric) else "cm", ways, metric.stills.rate or 0.0)
        for metric in found
        if metric.stills is not None and (ways := _ways_of(metric, metrics))
    )


def wanted_marks(of: Iterable[Measure]) -> Mapping[Checkpoint, Set[Mark]]:
    """The marks that measures need at each checkpoint."""
    marks: dict[Checkpoint, set[Mark]] = {}
    for way in chain.from_iterable(measure.ways for measure in of):
        for checkpoint in way.checkpoints:
            marks.setdefault(checkpoint, set()).update(*way.seen.values())
    return marks


def in_unit(values: Array, unit: Literal["deg", "cm"]) -> Array:
    """What a way gives, in the unit that the measure names."""
    return values if unit == "deg" else values * 100.0


def _is_angle(metric: Metric) -> bool:
    return convertible(metric.unit, "deg")


def _ways_of(metric: Metric, metrics: Mapping[str, Metric]) -> tuple[Way, ...]:
    at = cast(Checkpoint, metric.checkpoint)
    match metric.stills and metric.stills.measurand:
        case Turn() as turn:
            return _turn(turn, at)
        case Tilt() as tilt:
            return _tilt(tilt, at)
        case Flexion() as flexion:
            return _flexion(flexion, at)
        case Distance() as distance:
            return _distance(distance, at)
        case Displacement() as displacement:
            return _displacement(displacement, at)
        case Difference(of=of, less=less) if {of, less} <= metrics.keys():
            return _difference(metrics[of], metrics[less], metrics)
    return ()


def _turn(turn: Turn, at: Checkpoint) -> tuple[Way, ...]:
    lead, trail = line_of(turn.of)
    sign = 1.0 if turn.toward == "closed" else -1.0

    def in_space(bodies: Bodies, moment: Checkpoint) -> Array:
        return sign * geometry.turn(bodies[moment].line(trail, lead))

    def alone(bodies: Bodies, moment: Checkpoint) -> Array:
        return foreshortened(bodies[moment].line(trail, lead), bodies["setup"].line(trail, lead), turn.of, moment)

    values = _changed(in_space, turn.since, at, geometry.wrapped)
    both = Way(_in_both((lead, trail)), _moments(turn.since, at), values)
    if at == "setup":  # where a line is taken as square, its width says nothing about its turn
        return (both,)
    moments = _moments("setup", turn.since, at)
    values = _changed(alone, turn.since, at, geometry.wrapped)
    return both, Way({"face-on": (lead, trail)}, moments, values, turned=True)


def _tilt(tilt: Tilt, at: Checkpoint) -> tuple[Way, ...]:
    def leans(bodies: Bodies, moment: Checkpoint) -> Array:
        return geometry.tilt(bodies[moment].line(tilt.from_, tilt.to), *AXES[tilt.toward])

    values = _changed(leans, tilt.since, at)  # a lean stays far from 180°, where an angle would begin anew
    seen = _in_both_or(plane_of(tilt.toward) or "face-on", points=(tilt.from_, tilt.to))
    return tuple(Way(marks, _moments(tilt.since, at), values) for marks in seen)


def _flexion(flexion: Flexion, at: Checkpoint) -> tuple[Way, ...]:
    joint = joint_of(flexion)
    # Seen down the line a knee stands out toward the ball, a hip toward the heels.
    sign = 1.0 if flexion.of.endswith("knee") else -1.0
    moments = _moments(flexion.since, at)

    def in_space(bodies: Bodies, moment: Checkpoint) -> Array:
        return geometry.flexion(*(bodies[moment][mark] for mark in joint))

    def planar(bodies: Bodies, moment: Checkpoint) -> Array:
        return sign * geometry.planar_flexion(*(bodies[moment][mark] for mark in joint))

    def short(bodies: Bodies) -> float:
        return OUT_OF_PLANE * float(np.hypot.reduce([planar(bodies, moment)[0] for moment in moments]))

    both, alone = (_changed(of, flexion.since, at, geometry.wrapped) for of in (in_space, planar))
    return (
        Way(_in_both(joint), moments, both),
        Way({"down-the-line": joint}, moments, alone, beside=short, remark="planar bend"),
    )


def _distance(distance: Distance, at: Checkpoint) -> tuple[Way, ...]:
    def apart(bodies: Bodies, moment: Checkpoint) -> Array:
        between = bodies[moment].line(distance.from_, distance.to)
        if distance.toward is None:
            return np.asarray(np.sqrt(np.sum(between**2, axis=-1)))
        return geometry.component(between, *AXES[distance.toward])

    alone = () if distance.toward is None else _views_of(distance.toward)
    seen = _in_both_or(*alone, points=(distance.from_, distance.to))
    values = _changed(apart, distance.since, at)
    return tuple(Way(marks, _moments(distance.since, at), values) for marks in seen)


def _displacement(displacement: Displacement, at: Checkpoint) -> tuple[Way, ...]:
    of, toward, since = displacement.of, displacement.toward, displacement.since

    def along(bodies: Bodies) -> Array:
        return geometry.component(bodies[at].point(of) - bodies[since].point(of), *AXES[cast(Axis, toward)])

    def to_mark(bodies: Bodies) -> Array:
        before = bodies[since]
        return geometry.movement_along(before.point(of), bodies[at].point(of), before[cast(Mark, toward)])

    if toward in AXES:
        moved, seen = along, _in_both_or(*_views_of(toward), points=(of,))
    else:
        moved, seen = to_mark, _in_both_or("face-on", points=(of, cast(Mark, toward)))
    return tuple(Way(marks, (since, at), moved, compares_places=True) for marks in seen)


def _difference(of: Metric, less: Metric, metrics: Mapping[str, Metric]) -> tuple[Way, ...]:
    """A way for each in which the same views give both."""
    pairs = product(_ways_of(of, metrics), _ways_of(less, metrics))
    wraps = geometry.wrapped if _is_angle(of) else np.asarray
    return tuple(_between(more, fewer, wraps) for more, fewer in pairs if more.seen.keys() == fewer.seen.keys())


def _between(more: Way, fewer: Way, wraps: Callable[[Array], Array]) -> Way:
    def beside(bodies: Bodies) -> float:
        return float(np.hypot.reduce([way.beside(bodies) for way in (more, fewer) if way.beside]))

    def values(bodies: Bodies) -> Array:
        return wraps(more.values(bodies) - fewer.values(bodies))

    return Way(
        {view: tuple(dict.fromkeys((*fewer.seen[view], *more.seen[view]))) for view in more.seen},
        _moments(*more.checkpoints, *fewer.checkpoints),
        values,
        turned=more.turned or fewer.turned,
        beside=beside if more.beside or fewer.beside else None,
        compares_places=more.compares_places or fewer.compares_places,
        remark=more.remark or fewer.remark,
    )


def _changed(
    value: AtMoment, since: Checkpoint | None, at: Checkpoint, wraps: Callable[[Array], Array] = np.asarray
) -> Values:
    """A value at a moment, or what has become of it since an earlier one."""
    if since is None:
        return lambda bodies: value(bodies, at)
    return lambda bodies: wraps(value(bodies, at) - value(bodies, since))


def _moments(*named: Checkpoint | None) -> tuple[Checkpoint, ...]:
    """The checkpoints that are named, each once, in the order of the swing."""
    return tuple(checkpoint for checkpoint in CHECKPOINTS if checkpoint in named)


def _views_of(axis: Axis) -> tuple[View, ...]:
    """The views each of which shows a direction by itself."""
    plane = plane_of(axis)
    return VIEWS if plane is None else (plane,)


def _in_both(marks: tuple[Mark, ...]) -> Seen:
    return dict.fromkeys(VIEWS, marks)


def _in_both_or(*alone: View, points: tuple[Point, ...]) -> tuple[Seen, ...]:
    """The marks of points in both views, then in each of those that do alone. The seat shows down the line only: how
    deep it is there is told by the hips that carry it."""
    marks = tuple(dict.fromkeys(chain.from_iterable(map(marks_of, points))))
    both = _in_both(marks)
    if "seat" in marks:
        down = tuple(dict.fromkeys((*HIPS, *marks)))
        both = {"face-on": tuple(mark for mark in down if mark != "seat"), "down-the-line": down}
    return both, *({view: marks} for view in alone)
