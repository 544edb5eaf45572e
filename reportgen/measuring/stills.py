"""Readings from marked stills: every metric that the marks allow, with its uncertainty, and what the others lack."""

from collections.abc import Mapping, Sequence
from math import isfinite

import numpy as np

from reportgen.languages.speaking import later, say
from reportgen.measuring.metrics import COVERED, MARKS, MEASURES, Measure, Way, in_unit
from reportgen.measuring.shots import Shots
from reportgen.measuring.sights import SAMPLES, Noise, sights
from reportgen.measuring.swings import COVERS_95, Value, combine
from reportgen.measuring.timing import SPEEDS, frame_time_u
from reportgen.records.content import Metric
from reportgen.records.lesson import Still
from reportgen.records.report import Missing, Reading
from reportgen.records.units import convert
from reportgen.records.wording import listed, mid_sentence, moment_name, slug_name, view_name
from reportgen.records.words import Side

BALL_MOVED_M = 0.05
"""A ball marked further than this from where it lay tells that the camera moved (own figure)."""

ONE_TURN = later(
    "From the face-on picture alone, by how narrow the line looks; near square that says little. "
    "A down-the-line picture of the same moment makes it sure."
)
NO_DISTANCE = later("The camera's distance is not on the sheet, so its perspective is part of the uncertainty.")
NOTHING_FOLLOWS = later("No value follows from the places of its marks. Check them on every still of it.")
BALL_MOVED = later(
    "The ball is not where it lay in the other picture: if the camera moved, this value is not to be trusted."
)


def measure(
    stills: Sequence[Still],
    metrics: Mapping[str, Metric],
    plays: Side,
    sizes: Mapping[str, tuple[int, int]],
    *,
    noise: Noise | None = None,
    samples: int = SAMPLES,
) -> tuple[tuple[Reading, ...], tuple[Missing, ...]]:
    """All metrics of `metrics` that the marks allow, in each one's own unit, and those that they do not.

    `sizes` is width and height of the pictures in pixels, by file. Without a number of its own, the second still of a
    view and checkpoint is the second swing. The marks are taken as free of the faults of `faults`.

    A value is that of the marks as set, u the root mean square of its samples' distances from it (a knee that is
    nearly straight only ever looks more bent). A turn from one view is lopsided near square: it has half the width of
    its central 95 % interval / 1.96 as u, and at least the middle of that interval as value. So value ± 1.96 u covers
    95 % in either case.
    """
    noise = noise or Noise()
    shots = Shots(sights(stills, plays, sizes, noise, samples, MARKS), noise)
    readings, missing = [], []
    for wanted in MEASURES:
        if wanted.metric not in metrics:
            continue
        way = next((way for way in wanted.ways if shots.swings_of(way)), None)
        if way is None:
            missing.append(_lacking(metrics[wanted.metric], _would_give(wanted, shots, stills)))
        else:
            value, u, dof, singles = _measured(wanted, way, shots)
            if not (isfinite(value) and isfinite(u) and u > 0):
                missing.append(_lacking(metrics[wanted.metric], say(NOTHING_FOLLOWS)))
                continue
            factor = convert(1.0, wanted.unit, metrics[wanted.metric].unit)
            readings.append(
                Reading(
                    metric=wanted.metric,
                    value=value * factor,
                    u=u * factor,
                    dof=dof,
                    how="still",
                    views=way.views,
                    swings=tuple(single * factor for single in singles) if len(singles) > 1 else (),
                    note=_note(way, shots),
                )
            )
    return tuple(readings), tuple(missing)


def _lacking(metric: Metric, says: str) -> Missing:
    return Missing(metric=metric.id, name=metric.name, kind="needs", says=says)


def _measured(wanted: Measure, way: Way, shots: Shots) -> tuple[float, float, float | None, tuple[float, ...]]:
    """Value, u and degrees of freedom over all swings, and the single values, in the formula's unit."""
    values = [_value(wanted, way, shots, swing) for swing in shots.swings_of(way)]
    return *combine(values, _clock(wanted, way, shots)), tuple(v.value for v in values)


def _clock(wanted: Measure, way: Way, shots: Shots) -> float:
    """Standard uncertainty from the time within a frame of the slowest video, 0 where no rate is on the sheet."""
    pairs = [pair for swing in shots.swings_of(way) for pair in shots.first_and_last(way, swing)]
    rates = [last.fps for _, last in pairs if last.fps]
    return frame_time_u(SPEEDS[wanted.metric], min(rates)) if rates and wanted.metric in SPEEDS else 0.0


def _value(wanted: Measure, way: Way, shots: Shots, swing: int) -> Value:
    bodies = shots.bodies(way, swing)
    rows = in_unit(way.formula(bodies), wanted.unit)
    beside = way.beside(bodies) if way.beside else 0.0
    if way.turned:
        low, high = np.quantile(rows[1:], COVERED)
        u = (high - low) / 2 / COVERS_95
    else:
        u = np.hypot(np.sqrt(np.mean((rows[1:] - rows[0]) ** 2)), beside)
    return Value(float(rows[0]), float(u), rows[1:])


def _note(way: Way, shots: Shots) -> str | None:
    """What a reader should know about the way a value was taken."""
    pairs = [pair for swing in shots.swings_of(way) for pair in shots.first_and_last(way, swing)]
    balls = [b.marks["ball"][0] - a.marks["ball"][0] for a, b in pairs if "ball" in a.marks and "ball" in b.marks]
    notes = (
        (way.note or "", way.note is not None),
        (ONE_TURN, way.turned),
        (NO_DISTANCE, not all(last.distance_known for _, last in pairs)),
        (BALL_MOVED, way.compares_places and any(np.hypot(*moved) > BALL_MOVED_M for moved in balls)),
    )
    return " ".join(say(text) for text, holds in notes if holds) or None


def _would_give(wanted: Measure, shots: Shots, stills: Sequence[Still]) -> str:
    """The picture or marks that would give a metric, by the way that needs the least."""
    way = min(
        wanted.ways, key=lambda way: sum(len(marks) or 10 + len(way.seen[view]) for view, _, marks in shots.lacks(way))
    )
    unscaled = {still.view for still in stills} - {still.view for still in stills if still.scale}
    parts = []
    for view, checkpoint, marks in shots.lacks(way):
        where = {"view": view_name(view), "checkpoint": mid_sentence(moment_name(checkpoint))}
        there = any((still.view, still.checkpoint) == (view, checkpoint) for still in stills)
        if marks:
            parts.append(say("{marks} marked on the {view} still ({checkpoint})", marks=_words(marks), **where))
        elif there and view in unscaled:
            parts.append(say("a scale on the {view} still ({checkpoint})", **where))
        else:
            marked = _words(way.seen[view])
            parts.append(say("a {view} still ({checkpoint}) with {marks} marked", marks=marked, **where))
    if not parts:
        views = listed([view_name(view) for view in way.seen])
        parts = [say("{views} stills of one swing, and of one size, from a camera that stays where it is", views=views)]
    return say("Needs {parts}.", parts=listed(parts))


def _words(marks: Sequence[str]) -> str:
    return listed([slug_name(mark) for mark in marks])
