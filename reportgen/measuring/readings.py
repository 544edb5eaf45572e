"""All readings of a lesson: typed in, exported by a sensor, from marked stills, and what follows from these."""

from collections.abc import Mapping, Sequence
from math import fsum, hypot, sqrt
from typing import NamedTuple

from reportgen.measuring.shot_u import device_u
from reportgen.measuring.speeds import speed_ratio, speed_ratio_doubt
from reportgen.measuring.timing import frame_rate, tempo_ratio
from reportgen.measuring.typed import dof_of, mean_and_sd, typed_reading
from reportgen.records.academy import MarkingError, ShotError
from reportgen.records.content import Metric
from reportgen.records.findings import OfShots, Parts, Reading, Remark
from reportgen.records.lesson import Lesson, Tempo, TypedReading
from reportgen.records.report import Missing
from reportgen.records.shot_table import UNIT_OF
from reportgen.records.stills import Still
from reportgen.records.units import convert, convertible
from reportgen.records.words import Side
from reportgen.sheets.attached import Attached


class Errors(NamedTuple):
    """What an academy says of how sure it measures: by marking and filming, and by the devices of its shots."""

    marking: MarkingError = MarkingError()
    shots: ShotError = ShotError()


def readings_of(
    lesson: Lesson,
    attached: Attached,
    plays: Side,
    errors: Errors,
    metrics: Mapping[str, Metric],
    of_tables: Sequence[Reading] = (),
) -> tuple[tuple[Reading, ...], tuple[Missing, ...]]:
    """The readings of a lesson free of problems, one a metric, and what its stills could not give. `metrics` are those
    of its kind: an export's columns of others are left. `of_tables` are the means of its tables of shots.

    Of a metric that comes by more than one way the typed reading wins, then the sensor's, then the shots', then the
    stills'; where they differ by more than both uncertainties explain, the reading has a remark.
    """
    found: dict[str, Reading] = {}
    for typed in (*lesson.readings, *attached.exported):
        if typed.metric in metrics:
            _add(found, _typed(typed, metrics[typed.metric], lesson.club, errors.shots))
    for mean in of_tables:
        _add(found, mean)
    missing: tuple[Missing, ...] = ()
    if any(still.marks for still in lesson.stills):
        measured, missing = from_stills(lesson.stills, attached.sizes, plays, errors.marking, metrics)
        for reading in measured:
            _add(found, reading.model_copy(update={"marked_by": lesson.marked_by, "stand": lesson.stand}))
    if lesson.tempo is not None and (name := lesson.tempo_metric) in metrics:
        _add(found, _tempo(lesson.tempo, name))
    if {"ball-speed", "clubhead-speed"} <= found.keys() and "speed-ratio" in metrics and not _by_shots(found):
        _add(found, _ratio(found["ball-speed"], found["clubhead-speed"], metrics))
    if (ratio := found.get("speed-ratio")) is not None and (doubt := speed_ratio_doubt(ratio.value)) is not None:
        found["speed-ratio"] = _with(ratio, doubt)
    return tuple(found.values()), tuple(gap for gap in missing if gap.metric not in found)


def _typed(typed: TypedReading, metric: Metric, club: str, errors: ShotError) -> Reading:
    """A typed or exported reading; one of club and ball is of the lesson's club, and a device's number as sure as the
    academy says of its devices, where the sheet does not."""
    if metric.id not in UNIT_OF:
        return typed_reading(typed, metric)
    unit = UNIT_OF[metric.id]
    if typed.how == "sensor" and typed.u is None and convertible(unit, typed.unit):
        values = typed.trials or (typed.value or 0.0,)
        u = device_u(metric.id, convert(fsum(values) / len(values), typed.unit, unit), errors)
        typed = typed.model_copy(update={"u": convert(u, unit, typed.unit) if u else None})
    return typed_reading(typed, metric).model_copy(update={"of_shots": OfShots(club=club)})


def _by_shots(found: Mapping[str, Reading]) -> bool:
    """Whether the ratio of the speeds comes from a table, shot by shot."""
    ratio = found.get("speed-ratio")
    return ratio is not None and ratio.of_shots is not None and ratio.of_shots.table


def from_stills(
    stills: Sequence[Still],
    sizes: Mapping[str, tuple[int, int]],
    plays: Side,
    marking: MarkingError,
    metrics: Mapping[str, Metric],
) -> tuple[tuple[Reading, ...], tuple[Missing, ...]]:
    """What the marks on stills give by themselves, and what they could not give."""
    # numpy is needed here alone, and most lessons that are only checked have no need of it
    from reportgen.measuring.blur import Noise
    from reportgen.measuring.stills import measure

    marked = [still for still in stills if still.marks or still.stick]
    return measure(marked, metrics, plays, sizes, noise=Noise(**dict(marking)))


def _add(found: dict[str, Reading], reading: Reading) -> None:
    first = found.get(reading.metric)
    if first is None:
        found[reading.metric] = reading
        return
    first = found[reading.metric] = first.model_copy(update={"also": (*first.also, reading)})
    if abs(first.value - reading.value) > 1.96 * hypot(first.u, reading.u):
        other = Remark(code="ways differ", how=reading.how, figures={"value": reading.value})
        found[reading.metric] = _with(first, other)


def _with(reading: Reading, remark: Remark) -> Reading:
    return reading.model_copy(update={"remarks": (*reading.remarks, remark)})


def _tempo(tempo: Tempo, metric: str) -> Reading:
    ratio, u = tempo_ratio(tempo.start, tempo.top, tempo.impact)
    remark = frame_rate(tempo.start, tempo.top, tempo.impact, tempo.fps)
    return Reading(metric=metric, value=ratio, u=u, how="still", remarks=(remark,), parts=Parts(clock=u))


def _ratio(ball: Reading, club: Reading, metrics: Mapping[str, Metric]) -> Reading:
    """The ratio of the two speeds, swing by swing where both were read on the same number of swings."""
    to_club = convert(1.0, metrics["ball-speed"].unit, metrics["clubhead-speed"].unit)
    ratio, u = speed_ratio(ball.value * to_club, ball.u * to_club, club.value, club.u)
    taken = {"metric": "speed-ratio", "how": "sensor", "of_shots": club.of_shots}
    if len(ball.swings) != len(club.swings) or len(ball.swings) < 2:
        return Reading(**taken, value=ratio, u=u, parts=Parts(visit=u))
    ratios = tuple(b * to_club / c for b, c in zip(ball.swings, club.swings, strict=True))
    mean, sd = mean_and_sd(ratios)
    u_mean = sd / sqrt(len(ratios))
    device = mean * hypot(_of_device(ball) / ball.value, _of_device(club) / club.value)
    u = hypot(device, u_mean)
    parts = Parts(visit=device, swing=u_mean)
    return Reading(**taken, value=mean, u=u, dof=dof_of(u, u_mean, len(ratios)), swings=ratios, parts=parts)


def _of_device(reading: Reading) -> float:
    """The part of a typed or exported value's uncertainty that is the device's."""
    return hypot(reading.parts.habit, reading.parts.visit) if reading.parts else reading.u
