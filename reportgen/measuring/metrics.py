"""Every metric that comes from stills, as a plain function of bodies, and the table of what each one needs.

A function takes the bodies by checkpoint and gives (rows,) values: degrees, or metres for movements (the table says
`cm`, and `in_unit` turns them). Formulas and signs are those of the table of measures; + closed at the top and + open
at impact mean that every usual value is positive.
"""

from collections.abc import Callable, Mapping, Set
from dataclasses import dataclass
from typing import Literal

import numpy as np

from reportgen.languages.speaking import later
from reportgen.measuring import geometry
from reportgen.measuring.body import Body
from reportgen.measuring.geometry import Array
from reportgen.records.words import Checkpoint, Mark, View

Bodies = Mapping[Checkpoint, Body]
Formula = Callable[[Bodies], Array]
Seen = Mapping[View, tuple[Mark, ...]]

COVERED = (0.025, 0.975)
"""The quantiles that bound a central 95 % interval."""

OUT_OF_PLANE = 0.2
"""A planar knee bend is short by 1 / cos of the leg's turn from the picture's depth; at about 35° that is this part of
it, taken as a standard uncertainty (own figure)."""

HIPS: tuple[Mark, ...] = ("lead-hip", "trail-hip")
SHOULDERS: tuple[Mark, ...] = ("lead-shoulder", "trail-shoulder")
LEAD_LEG: tuple[Mark, ...] = ("lead-hip", "lead-knee", "lead-ankle")
TRAIL_LEG: tuple[Mark, ...] = ("trail-hip", "trail-knee", "trail-ankle")
PLANAR = later("Seen in the plane of one picture: a leg that is turned out of it bends more than it shows.")


@dataclass(frozen=True)
class Way:
    """One way to measure a metric: the marks that each picture must show at each checkpoint, and the formula.

    The last checkpoint is the one that is judged. `turned` marks an angle from foreshortening, whose interval is
    lopsided near square. `beside` is a further standard uncertainty, in the formula's unit, from the values without
    noise. `compares_places` tells that the camera must not have moved between the checkpoints.
    """

    seen: Seen
    checkpoints: tuple[Checkpoint, ...]
    formula: Formula
    turned: bool = False
    beside: Callable[[Bodies], float] | None = None
    compares_places: bool = False
    note: str | None = None

    @property
    def views(self) -> int:
        """How many pictures of a moment it takes: 1 or 2."""
        return len(self.seen)


@dataclass(frozen=True)
class Measure:
    """A metric's id, the unit of its values, and its ways to be measured, the surest first."""

    metric: str
    unit: Literal["deg", "cm"]
    ways: tuple[Way, ...]


def in_unit(values: Array, unit: Literal["deg", "cm"]) -> Array:
    """What a formula gives, in the unit that the table names."""
    return values if unit == "deg" else values * 100.0


def _closed(joint: str, at: Checkpoint) -> Formula:
    return lambda bodies: geometry.turn(bodies[at].line(joint))


def _open(joint: str, at: Checkpoint) -> Formula:
    return lambda bodies: -geometry.turn(bodies[at].line(joint))


def _turned(joint: str, at: Checkpoint) -> Formula:
    def turned(bodies: Bodies) -> Array:
        line = bodies[at].line(joint)
        square = geometry.square_width(line, bodies["setup"].line(joint))
        # A line cannot be wider than itself: what the marks say beyond that is error in every sample.
        over = max(0.0, line[0, 0] - square[0])
        rows = geometry.foreshortened_turn(line[:, 0] - over, square)
        # Near square the marks as set say 0 half of the time; the middle of what they may mean is nearer to the truth.
        rows[0] = max(rows[0], np.quantile(rows[1:], COVERED).mean())
        return rows

    return turned


def _less(more: Formula, less: Formula) -> Formula:
    return lambda bodies: geometry.wrapped(more(bodies) - less(bodies))


def _knee(side: str, at: Checkpoint, of: Callable[[Array, Array, Array], Array]) -> Formula:
    def bend(bodies: Bodies) -> Array:
        body = bodies[at]
        return of(body[f"{side}-hip"], body[f"{side}-knee"], body[f"{side}-ankle"])  # type: ignore[index]

    return bend


def _gone(mark: Mark, axis: int, since: Checkpoint, at: Checkpoint) -> Formula:
    return lambda bodies: bodies[at][mark][:, axis] - bodies[since][mark][:, axis]


def _shift(bodies: Bodies) -> Array:
    return np.asarray(bodies["impact"].mid_hip[:, 0] - bodies["setup"].mid_hip[:, 0])


def _hip_load(bodies: Bodies) -> Array:
    start = bodies["takeaway"]
    return geometry.movement_along(start["trail-hip"], bodies["top"]["trail-hip"], start["trail-ankle"])


def _side_bend(bodies: Bodies) -> Array:
    return geometry.side_bend(bodies["impact"].trunk)


def _posture_change(bodies: Bodies) -> Array:
    return geometry.forward_bend(bodies["impact"].trunk) - geometry.forward_bend(bodies["setup"].trunk)


def _in_both(marks: tuple[Mark, ...]) -> Seen:
    return {"face-on": marks, "down-the-line": marks}


def _turn(metric: str, joint: str, of: Callable[[str, Checkpoint], Formula], at: Checkpoint) -> Measure:
    marks = HIPS if joint == "hip" else SHOULDERS
    return Measure(
        metric,
        "deg",
        (
            Way(_in_both(marks), (at,), of(joint, at)),
            Way({"face-on": marks}, ("setup", at), _turned(joint, at), turned=True),
        ),
    )


def _bend(metric: str, side: str, at: Checkpoint, since: Checkpoint | None = None) -> Measure:
    marks = LEAD_LEG if side == "lead" else TRAIL_LEG
    checkpoints = (since, at) if since else (at,)

    def formula(of: Callable[[Array, Array, Array], Array]) -> Formula:
        return _less(_knee(side, at, of), _knee(side, since, of)) if since else _knee(side, at, of)

    def short(bodies: Bodies) -> float:
        bends = [_knee(side, c, geometry.planar_flexion)(bodies)[0] for c in checkpoints]
        return OUT_OF_PLANE * float(np.hypot.reduce(bends))

    return Measure(
        metric,
        "deg",
        (
            Way(_in_both(marks), checkpoints, formula(geometry.flexion)),
            Way({"down-the-line": marks}, checkpoints, formula(geometry.planar_flexion), beside=short, note=PLANAR),
        ),
    )


def _place(metric: str, marks: Seen, since: Checkpoint, at: Checkpoint, formula: Formula, *alone: View) -> Measure:
    ways = [marks, *({view: marks[view]} for view in alone)]
    return Measure(metric, "cm", tuple(Way(seen, (since, at), formula, compares_places=True) for seen in ways))


def _seat(metric: str, at: Checkpoint) -> Measure:
    seen: Seen = {"face-on": HIPS, "down-the-line": (*HIPS, "seat")}
    alone: Seen = {"down-the-line": ("seat",)}
    formula = _gone("seat", 1, "setup", at)
    return Measure(
        metric, "cm", tuple(Way(marks, ("setup", at), formula, compares_places=True) for marks in (seen, alone))
    )


_TRUNK: tuple[Mark, ...] = (*HIPS, "neck")

MEASURES: tuple[Measure, ...] = (
    _turn("pelvis-closed-top", "hip", _closed, "top"),
    Measure(
        "pelvis-turn-late",
        "deg",
        (
            Way(_in_both(HIPS), ("takeaway", "top"), _less(_closed("hip", "top"), _closed("hip", "takeaway"))),
            Way(
                {"face-on": HIPS},
                ("setup", "takeaway", "top"),
                _less(_turned("hip", "top"), _turned("hip", "takeaway")),
                turned=True,
            ),
        ),
    ),
    _turn("thorax-closed-top", "shoulder", _closed, "top"),
    Measure(
        "separation-top",
        "deg",
        (
            Way(_in_both((*HIPS, *SHOULDERS)), ("top",), _less(_closed("shoulder", "top"), _closed("hip", "top"))),
            Way(
                {"face-on": (*HIPS, *SHOULDERS)},
                ("setup", "top"),
                _less(_turned("shoulder", "top"), _turned("hip", "top")),
                turned=True,
            ),
        ),
    ),
    _place("trail-hip-load", _in_both(("trail-hip", "trail-ankle")), "takeaway", "top", _hip_load, "face-on"),
    _bend("trail-knee-flex-top", "trail", "top"),
    _bend("trail-knee-kept", "trail", "top", since="setup"),
    _bend("knee-flex-transition", "lead", "transition", since="top"),
    _seat("seat-forward-delivery", "delivery"),
    _seat("seat-forward-impact", "impact"),
    _place(
        "lead-hip-rise",
        _in_both(("lead-hip",)),
        "transition",
        "impact",
        _gone("lead-hip", 2, "transition", "impact"),
        "face-on",
        "down-the-line",
    ),
    _turn("pelvis-open-impact", "hip", _open, "impact"),
    _turn("thorax-open-impact", "shoulder", _open, "impact"),
    _bend("lead-knee-flex-impact", "lead", "impact"),
    _place(
        "trail-heel-lift-impact",
        _in_both(("trail-heel",)),
        "setup",
        "impact",
        _gone("trail-heel", 2, "setup", "impact"),
        "face-on",
        "down-the-line",
    ),
    Measure(
        "side-bend-impact",
        "deg",
        (Way(_in_both(_TRUNK), ("impact",), _side_bend), Way({"face-on": _TRUNK}, ("impact",), _side_bend)),
    ),
    Measure(
        "posture-change-impact",
        "deg",
        (
            Way(_in_both(_TRUNK), ("setup", "impact"), _posture_change),
            Way({"down-the-line": _TRUNK}, ("setup", "impact"), _posture_change),
        ),
    ),
    _place("pelvis-shift-impact", _in_both(HIPS), "setup", "impact", _shift, "face-on"),
)
"""The metrics that stills give, in the order of the swing."""


def _marks() -> dict[Checkpoint, set[Mark]]:
    always: set[Mark] = {"lead-ankle", "trail-ankle", "ball"}
    marks: dict[Checkpoint, set[Mark]] = {"setup": set(always)}
    for measure in MEASURES:
        for way in measure.ways:
            for checkpoint in way.checkpoints:
                marks.setdefault(checkpoint, set(always)).update(*way.seen.values())
    return marks


MARKS: Mapping[Checkpoint, Set[Mark]] = _marks()
"""The marks that the metrics need at each checkpoint; besides, the ankles, which tie two cameras together, and the
ball, which tells whether a camera has moved."""
