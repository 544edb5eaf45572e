"""Whether the formulas of metrics can be measured: their moments, units, points, and the metrics that they name."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from reportgen.records.content import Metric
from reportgen.records.formulas import Difference, Displacement, Distance, Formula, Point, Tilt
from reportgen.records.units import convertible
from reportgen.records.words import CHECKPOINTS, MOMENTS
from reportgen.sheets.problems import Problem, nearest
from reportgen.sheets.reading import Sheet
from reportgen.sheets.tree import Loc

Fault = tuple[Loc, str, str]
"""The place in the file of the metric, what is wrong, and how to mend it."""

_UPWARD = ("toe", "heel", "ankle", "knee", "hip", "shoulder", "neck", "head")


def with_sound_formulas(
    metrics: Mapping[str, Sheet[Metric]], files: Sequence[Sheet[Metric]], problems: list[Problem]
) -> dict[str, Sheet[Metric]]:
    """The metrics, each fault of a formula told, and no formula with a fault. A metric that takes the place of another
    of `files` and has no formula keeps that one's."""
    first: dict[str, Formula] = {}
    for sheet in files:
        if sheet.record.stills is not None:
            first.setdefault(sheet.record.id, sheet.record.stills)
    found = {
        name: sheet if sheet.record.stills is not None else _with(sheet, first.get(name))
        for name, sheet in metrics.items()
    }
    records = {name: sheet.record for name, sheet in found.items()}
    faulty = set()
    for name, sheet in found.items():
        if ("stills",) in sheet.tree.empty:
            problems.append(sheet.problem(("stills",), "stills has no value", "Write its formula, or take it out."))
        for loc, wrong, mend in formula_faults(sheet.record, records):
            problems.append(sheet.problem(loc, wrong, mend))
            faulty.add(name)
    return {name: _with(sheet, None) if _rests_on(sheet.record, faulty) else sheet for name, sheet in found.items()}


def formula_faults(metric: Metric, metrics: Mapping[str, Metric]) -> Iterator[Fault]:
    """What is wrong with the formula of a metric, if it has one."""
    if metric.stills is None:
        return
    if metric.checkpoint not in CHECKPOINTS:
        wrong = f"stills show one moment, and {metric.checkpoint} is none"
        yield ("checkpoint",), wrong, f"Write one of {', '.join(CHECKPOINTS)}, or take stills: out."
        return
    measurand = metric.stills.measurand
    at: Loc = ("stills", metric.stills.kind)
    if isinstance(measurand, Difference):
        yield from _wrong_in_difference(metric, measurand, at, metrics)
    elif not convertible(metric.unit, unit := _unit(metric.stills)):
        wrong = f"{metric.unit} is no unit of a {metric.stills.kind}"
        yield ("unit",), wrong, f"Write unit: {unit}."
    since = metric.stills.since
    if since is not None and CHECKPOINTS.index(since) >= MOMENTS.index(metric.checkpoint):
        wrong = f"{since} does not come before {metric.checkpoint}, the moment of the metric"
        yield (*at, "since"), wrong, "Name an earlier moment."
    if isinstance(measurand, Tilt | Distance):
        yield from _wrong_in_line(measurand, at)
    if isinstance(measurand, Displacement) and measurand.of == measurand.toward:
        yield (*at, "toward"), f"{measurand.of} moves toward itself", "Name another mark, or a direction."
    yield from _wrong_seat(metric.stills, at)


def _with(sheet: Sheet[Metric], formula: Formula | None) -> Sheet[Metric]:
    return replace(sheet, record=sheet.record.model_copy(update={"stills": formula}))


def _rests_on(metric: Metric, faulty: set[str]) -> bool:
    """Whether the formula of a metric is among the `faulty` ones, or takes one of them."""
    parts = metric.stills.difference if metric.stills is not None else None
    return metric.id in faulty or (parts is not None and bool({parts.of, parts.less} & faulty))


def _unit(formula: Formula) -> str:
    return "cm" if isinstance(formula.measurand, Distance | Displacement) else "deg"


def _wrong_in_difference(
    metric: Metric, difference: Difference, at: Loc, metrics: Mapping[str, Metric]
) -> Iterator[Fault]:
    parts = []
    for key, name in (("of", difference.of), ("less", difference.less)):
        loc, named = (*at, key), metrics.get(name)
        if named is None:
            yield loc, f"the metric {name!r} is not known", nearest(name, metrics)
        elif named.stills is None:
            yield loc, f"{name} has no formula of stills", "Name a metric that has one, or write stills: into its file."
        elif named.stills.difference is not None:
            yield loc, f"{name} is a difference itself", "Name a metric that is measured by itself."
        else:
            parts.append(named)
    if len(parts) < 2:
        return
    of, less = parts
    later = max((of.checkpoint, less.checkpoint), key=MOMENTS.index)
    if of.id == less.id:
        yield (*at, "less"), f"{of.id} is taken from itself", "Name another metric."
    elif not convertible(of.unit, less.unit):
        yield (*at, "less"), f"{less.id} ({less.unit}) cannot be taken from {of.id} ({of.unit})", "Name another metric."
    elif not convertible(metric.unit, of.unit):
        yield ("unit",), f"{metric.unit} is no unit of {of.id} less {less.id}", f"Write unit: {of.unit}."
    if later != metric.checkpoint:
        yield ("checkpoint",), f"the later one of {of.id} and {less.id} is at {later}", f"Write checkpoint: {later}."


def _wrong_in_line(line: Tilt | Distance, at: Loc) -> Iterator[Fault]:
    if line.from_ == line.to:
        yield (*at, "to"), f"the line begins and ends at {line.to}", "Name another point."
    elif isinstance(line, Tilt) and line.toward in ("up", "down"):
        if line.from_.startswith("lead-") and line.to.startswith("trail-"):
            yield at, "the line runs away from the target, and would tilt by about 180°", "Swap from and to."
    elif isinstance(line, Tilt) and _height(line.from_) > _height(line.to) > 0:
        yield at, "the line runs downward, and would tilt by about 180°", "Swap from and to."


def _height(point: Point) -> int:
    """Where a point stands from the ground up; 0 where that is not always so."""
    joint = point.rsplit("-", 1)[-1]
    return _UPWARD.index(joint) + 1 if joint in _UPWARD else 0


def _wrong_seat(formula: Formula, at: Loc) -> Iterator[Fault]:
    """A seat is seen down the line only, where its rearmost point says nothing of its height."""
    measurand = formula.measurand
    named = {key: getattr(measurand, key, None) for key in ("of", "from_", "to", "toward")}
    for key, point in named.items():
        if point == "seat" and named["toward"] not in ("ball", "heels"):
            wrong = "of the seat only its place toward the ball is seen"
            yield (*at, key.removesuffix("_")), wrong, "Write toward: ball or toward: heels, or name another point."
        elif point == "seat" and isinstance(measurand, Tilt):
            yield (*at, key.removesuffix("_")), "the height of the seat is not seen", "Name another point, as mid-hip."
