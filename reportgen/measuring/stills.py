"""Readings from marked stills: every metric that the marks allow, with its uncertainty, and what the others lack."""

from collections.abc import Mapping, Sequence
from math import isfinite

import numpy as np

from reportgen.measuring.blur import SAMPLES, Noise, draws
from reportgen.measuring.foreshortened import COVERED
from reportgen.measuring.formulas import Measure, Way, in_unit, measures, wanted_marks
from reportgen.measuring.geometry import Array
from reportgen.measuring.player import of_player
from reportgen.measuring.sights import sights
from reportgen.measuring.swing_sights import SwingSights
from reportgen.measuring.swings import COVERS_95, Mean, mean_of
from reportgen.measuring.timing import frame_time_u
from reportgen.records.content import Metric
from reportgen.records.findings import Parts, Reading, Remark, RemarkCode
from reportgen.records.needs import Need
from reportgen.records.report import Missing
from reportgen.records.stills import Still
from reportgen.records.units import convert
from reportgen.records.words import Side

BALL_MOVED_M = 0.05
"""A ball marked further than this from where it lay tells that the camera moved (own figure)."""


def measure(
    stills: Sequence[Still],
    metrics: Mapping[str, Metric],
    plays: Side,
    sizes: Mapping[str, tuple[int, int]],
    *,
    noise: Noise | None = None,
    samples: int = SAMPLES,
) -> tuple[tuple[Reading, ...], tuple[Missing, ...]]:
    """All metrics of `metrics` that have a formula and that the marks allow, in each one's own unit, and those that
    they do not.

    `sizes` is width and height of the pictures in pixels, by file. Without a number of its own, the second still of a
    view and checkpoint is the second swing. The marks are taken as free of the faults of `faults`.

    A value is that of the marks as set, u the root mean square of its samples' distances from it (a knee that is
    nearly straight only ever looks more bent). A turn from one view is lopsided near square: it has half the width of
    its central 95 % interval / 1.96 as u, and at least the middle of that interval as value. So value ± 1.96 u covers
    95 % in either case.
    """
    noise = noise or Noise()
    every = measures(metrics)
    every_sight = sights(stills, plays, sizes, noise, samples, wanted_marks(every))
    of_unit = {"deg": SwingSights(every_sight), "cm": SwingSights([sight for sight in every_sight if sight.scaled])}
    readings, missing = [], []
    for wanted in every:
        swing_sights = of_unit[wanted.unit]
        way = next((way for way in wanted.ways if swing_sights.swings_of(way)), None)
        needs = _would_give(wanted, swing_sights, stills) if way is None else ()
        if way is not None and (swings := _of_one_moment(wanted, way, swing_sights)):
            found = _measured(wanted, way, swing_sights, swings, noise)
            if isfinite(found.value) and isfinite(found.u) and found.u > 0:
                remarks = _remarks(way, swing_sights, swings)
                readings.append(_reading(found, wanted, metrics[wanted.metric], way, remarks))
                continue
            needs = (Need(what="sound marks"),)
        elif way is not None:
            needs = (Need(what="one moment", checkpoint=way.checkpoints[-1]),)
        missing.append(Missing(kind="needs", metric=wanted.metric, needs=needs))
    return tuple(readings), tuple(missing)


def _reading(found: Mean, wanted: Measure, metric: Metric, way: Way, remarks: tuple[Remark, ...]) -> Reading:
    factor = convert(1.0, wanted.unit, metric.unit)
    swings = tuple(single * factor for single in found.swings)
    parts = {name: part * factor for name, part in found.parts.items()}
    player = of_player(metric.scatter, len(swings), parts["swing"])
    return Reading(
        metric=metric.id,
        value=found.value * factor,
        u=found.u * factor,
        dof=found.dof,
        how="still",
        views=way.views,
        swings=swings if len(swings) > 1 else (),
        remarks=remarks,
        parts=Parts(**parts, player=player),
    )


def _of_one_moment(wanted: Measure, way: Way, swing_sights: SwingSights) -> list[int]:
    """The swings to measure: what changes fast is not taken from pictures that are not of one moment, nor from one of
    the two, as nobody knows which of them shows the moment."""
    at, swings = way.checkpoints[-1], swing_sights.swings_of(way)
    return [swing for swing in swings if not wanted.rate or swing_sights.apart(at, swing) is None]


def _measured(wanted: Measure, way: Way, swing_sights: SwingSights, swings: Sequence[int], noise: Noise) -> Mean:
    """The mean over swings, in the formula's unit."""
    rows, beside = [], 0.0
    for swing in swings:
        bodies = swing_sights.bodies(way, swing)
        rows.append(in_unit(way.values(bodies), wanted.unit))
        beside = max(beside, way.beside(bodies) if way.beside else 0.0)
    if way.turned:  # as if the line were turned by as much as the camera is
        aside = noise.yaw_deg * draws("camera", len(rows[0]), "yaw of a turn")
        rows = [row + aside for row in rows]
    clock = max(_clock(wanted, way, swing_sights, swing, noise) for swing in swings)
    return mean_of(rows, clock, beside, _width if way.turned else _distance)


def _clock(wanted: Measure, way: Way, swing_sights: SwingSights, swing: int, noise: Noise) -> float:
    """Standard uncertainty of one swing's value from time: which frame was picked, and, where two views make the value
    together, how far their pictures are apart."""
    rates = [last.fps for _, last in swing_sights.first_and_last(way, swing) if last.fps]
    slowest = min(rates, default=None)
    picked = frame_time_u(wanted.rate, slowest) if slowest else 0.0
    if way.views == 1 or not wanted.needs_both:
        return picked
    apart = swing_sights.apart_u(way.checkpoints[-1], swing, slowest, noise.lag_ms)
    return float(np.hypot(picked, wanted.rate * apart))


def _distance(rows: Array, as_set: float) -> float:
    """Root mean square distance of samples from the value of the marks as set."""
    return float(np.sqrt(np.mean((rows - as_set) ** 2)))


def _width(rows: Array, as_set: float) -> float:
    """Half the width of the central 95 % interval of samples, / 1.96."""
    low, high = np.quantile(rows, COVERED)
    return float(high - low) / 2 / COVERS_95


def _remarks(way: Way, swing_sights: SwingSights, swings: Sequence[int]) -> tuple[Remark, ...]:
    """What a reader should know about the way a value was taken."""
    pairs = [pair for swing in swings for pair in swing_sights.first_and_last(way, swing)]
    balls = [b.marks["ball"][0] - a.marks["ball"][0] for a, b in pairs if "ball" in a.marks and "ball" in b.marks]
    found: list[RemarkCode] = [way.remark] if way.remark else []
    if way.turned:
        found.append("one-view turn")
    if not all(last.distance_known for _, last in pairs):
        found.append("distance unknown")
    if way.compares_places and any(np.hypot(*moved) > BALL_MOVED_M for moved in balls):
        found.append("ball moved")
    if way.compares_places and any(sight.moved for pair in pairs for sight in pair):
        found.append("camera moved")
    return tuple(Remark(code=code) for code in found)


def _would_give(wanted: Measure, swing_sights: SwingSights, stills: Sequence[Still]) -> tuple[Need, ...]:
    """The pictures or marks that would give a metric, by the way that needs the least."""
    way = min(
        wanted.ways,
        key=lambda way: sum(len(marks) or 10 + len(way.seen[view]) for view, _, marks in swing_sights.lacks(way)),
    )
    unscaled = {still.view for still in stills} - {still.view for still in stills if still.scale}
    needs = []
    for view, checkpoint, marks in swing_sights.lacks(way):
        there = any((still.view, still.checkpoint) == (view, checkpoint) for still in stills)
        if marks:
            needs.append(Need(what="marks", view=view, checkpoint=checkpoint, marks=marks))
        elif there and view in unscaled:
            needs.append(Need(what="scale", view=view, checkpoint=checkpoint))
        else:
            needs.append(Need(what="still", view=view, checkpoint=checkpoint, marks=way.seen[view]))
    return tuple(needs) or tuple(Need(what="one camera", view=view) for view in way.seen)
