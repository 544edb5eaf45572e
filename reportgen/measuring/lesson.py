"""All readings of a lesson: typed in, exported by a sensor, from marked stills, and what follows from these."""

from collections.abc import Mapping, Sequence
from math import hypot

from reportgen.languages.speaking import later, say
from reportgen.measuring.speeds import speed_ratio, speed_ratio_warning
from reportgen.measuring.timing import tempo_note, tempo_ratio
from reportgen.measuring.typed import typed_reading
from reportgen.records.academy import MarkingError
from reportgen.records.content import Metric
from reportgen.records.lesson import Lesson, Still, Tempo
from reportgen.records.report import Missing, Reading
from reportgen.records.units import convert
from reportgen.records.wording import amount
from reportgen.records.words import How, Side
from reportgen.sheets.attached import Attached

_DIFFERS: dict[How, str] = {
    "still": later("The marked pictures give {value}: more apart than our measuring explains."),
    "sensor": later("The sensor gives {value}: more apart than our measuring explains."),
    "by-eye": later("By eye it was {value}: more apart than our measuring explains."),
}


def readings_of(
    lesson: Lesson, attached: Attached, plays: Side, marking: MarkingError, metrics: Mapping[str, Metric]
) -> tuple[tuple[Reading, ...], tuple[Missing, ...]]:
    """The readings of a lesson free of problems, one a metric, and what its stills could not give.

    Of a metric that comes by more than one way the typed reading wins, then the sensor's, then the stills'; where they
    differ by more than both uncertainties explain, the reading says so.
    """
    found: dict[str, Reading] = {}
    for typed in (*lesson.readings, *attached.exported):
        _add(found, typed_reading(typed, metrics[typed.metric]), metrics)
    missing: tuple[Missing, ...] = ()
    marked = [still for still in lesson.stills if still.marks]
    if marked:
        measured, missing = _from_stills(marked, attached, plays, marking, metrics)
        for reading in measured:
            _add(found, reading, metrics)
    if lesson.tempo is not None and "tempo-ratio" in metrics:
        _add(found, _tempo(lesson.tempo), metrics)
    if {"ball-speed", "clubhead-speed"} <= found.keys() and "speed-ratio" in metrics:
        _add(found, _ratio(found["ball-speed"], found["clubhead-speed"], metrics), metrics)
    if (ratio := found.get("speed-ratio")) is not None and (warning := speed_ratio_warning(ratio.value)) is not None:
        found["speed-ratio"] = _noted(ratio, warning)
    return tuple(found.values()), tuple(gap for gap in missing if gap.metric not in found)


def _from_stills(
    stills: Sequence[Still], attached: Attached, plays: Side, marking: MarkingError, metrics: Mapping[str, Metric]
) -> tuple[tuple[Reading, ...], tuple[Missing, ...]]:
    # numpy is needed here alone, and most lessons that are only checked have no need of it
    from reportgen.measuring.sights import Noise
    from reportgen.measuring.stills import measure

    noise = Noise(marking.click_px, marking.landmark_mm, marking.scale_px)
    return measure(stills, metrics, plays, attached.sizes, noise=noise)


def _add(found: dict[str, Reading], reading: Reading, metrics: Mapping[str, Metric]) -> None:
    first = found.get(reading.metric)
    if first is None:
        found[reading.metric] = reading
        return
    first = found[reading.metric] = first.model_copy(update={"also": (*first.also, reading)})
    if abs(first.value - reading.value) > 1.96 * hypot(first.u, reading.u):
        metric = metrics[reading.metric]
        other = amount(reading.value, metric.unit, metric.decimals, metric.sign)
        says = say(_DIFFERS[reading.how], value=other)
        found[reading.metric] = _noted(first, says)


def _noted(reading: Reading, says: str) -> Reading:
    return reading.model_copy(update={"note": f"{reading.note} {says}" if reading.note else says})


def _tempo(tempo: Tempo) -> Reading:
    ratio, u = tempo_ratio(tempo.start, tempo.top, tempo.impact)
    note = tempo_note(tempo.start, tempo.top, tempo.impact, tempo.fps)
    return Reading(metric="tempo-ratio", value=ratio, u=u, how="still", note=note)


def _ratio(ball: Reading, club: Reading, metrics: Mapping[str, Metric]) -> Reading:
    to_club = convert(1.0, metrics["ball-speed"].unit, metrics["clubhead-speed"].unit)
    ratio, u = speed_ratio(ball.value * to_club, ball.u * to_club, club.value, club.u)
    return Reading(metric="speed-ratio", value=ratio, u=u, how="sensor")
