"""Progress: one metric over the lessons, on its band, with dates to scale; the mark is where the player is now."""

from collections.abc import Callable

from reportgen.drawing.labels import short_amount
from reportgen.drawing.letters import text_width
from reportgen.drawing.over_time import along, date_row, join
from reportgen.drawing.placing import spread
from reportgen.drawing.plate import Plate, Side
from reportgen.drawing.saving import Drawing, to_drawing, to_png
from reportgen.drawing.style import COLOURS, EDGE, HAIR, LINE, MUTED, NAME, RANGE, SMALL, THICK
from reportgen.records.report import Point
from reportgen.records.told import ToldSeries
from reportgen.saying.charts import date_labels, label_of, limit_label, limits_of, of_series_with_notes

NOTES_KEY = 6.0
"""What the small squares below the lessons say, and the room for one before the word."""

Scale = Callable[[float], float]


def progress(series: ToldSeries, *, small: bool = False) -> Drawing:
    """The chart of one series as SVG, 6.1 × 1.75 inch, or 3 × 1 inch where `small`."""
    return to_drawing(progress_plate(series, small), of_series_with_notes(series))


def progress_png(series: ToldSeries, *, small: bool = False) -> bytes:
    """The chart of one series as PNG."""
    return to_png(progress_plate(series, small))


def progress_plate(series: ToldSeries, small: bool) -> Plate:
    """The chart of one series as drawn."""
    plate = Plate.blank(216, 72) if small else Plate.blank(439.2, 126)
    bottom, top = SMALL + 8, plate.height - (5 if small else 7)
    y = _heights(series, bottom, top)
    inset = 6 if small else 14
    left, right = _sides(series, plate.width, inset, small)
    xs = along([point.date for point in series.points], left + inset, right - inset, 4 if small else 6)

    _band(plate, series, y, (left, bottom, right, top))
    _limit_labels(plate, series, y, left - 5, (bottom, top))
    _lessons(plate, series.points, xs, y, (bottom, top), small)
    date_row(plate, date_labels(series), xs)
    _notes(plate, series, xs, right + 8)
    _right_labels(plate, series, y, right + 8, small)
    return plate


def _heights(series: ToldSeries, bottom: float, top: float) -> Scale:
    """Value to height. Long intervals may take twice as much room again as values and band; what is longer is cut."""
    limits = limits_of(series)
    values = [*(point.value for point in series.points), series.points[-1].level.value]
    low, high = min(values + limits), max(values + limits)
    ends = [end for point in series.points[:-1] for end in point.interval] + [*series.points[-1].level.interval]
    spare = (high - low) or max(ends) - min(ends) or 1.0
    first, last = max(min(ends), low - spare), min(max(ends), high + spare)
    low, high = min(low, first), max(high, last)
    room = 0.07 * (high - low)
    if series.band is not None:
        # A band without a limit on one side needs ground on that side to be seen at all.
        low -= 0.3 * (high - low) if series.band.low is None else 0
        high += 0.3 * (high - low) if series.band.high is None else 0
    low, high = low - room, high + room
    return lambda value: bottom + (top - bottom) * (value - low) / (high - low)


def _sides(series: ToldSeries, width: float, inset: float, small: bool) -> tuple[float, float]:
    today = series.points[-1].level.value
    limits = limits_of(series)
    on_the_left = max((text_width(limit_label(series, limit, today), SMALL) for limit in limits), default=0.0)
    first_date = text_width(date_labels(series)[0], SMALL) / 2
    on_the_right = text_width(_value_label(series), NAME, "semibold")
    if not small:
        on_the_right = max(on_the_right, text_width(_band_name(series), SMALL))
    if any(point.noted for point in series.points):
        key = NOTES_KEY + text_width(label_of("notes"), SMALL)
        on_the_right = max(on_the_right, _beside_date(series, inset) + key)
    left = max(on_the_left + 6 if limits else 1.0, first_date + 1 - inset)
    return left, width - on_the_right - 10


def _value_label(series: ToldSeries) -> str:
    return short_amount(series, series.sign_beside, series.points[-1].level.value, NAME, 9 * SMALL)


def _band_name(series: ToldSeries) -> str:
    if not limits_of(series):
        return ""
    return label_of("for comparison" if series.band and series.band.context else "your range")


def _band(plate: Plate, series: ToldSeries, y: Scale, area: tuple[float, float, float, float]) -> None:
    if series.band is None or not limits_of(series):
        return
    left, bottom, right, top = area
    low, high = series.band.low, series.band.high
    lower, upper = bottom if low is None else y(low), top if high is None else y(high)
    if series.band.context:
        for x in (left, right):
            plate.line([(x, lower), (x, upper)], EDGE, HAIR)
    else:
        sides: tuple[tuple[Side, float | None], ...] = (("bottom", low), ("top", high))
        open_sides = {side for side, limit in sides if limit is None}
        plate.fading_box((left, lower, right, upper), RANGE, over=min(16, 0.7 * (upper - lower)), toward=open_sides)
    for limit in limits_of(series):
        plate.line([(left, y(limit)), (right, y(limit))], EDGE, HAIR)


def _limit_labels(plate: Plate, series: ToldSeries, y: Scale, x: float, between: tuple[float, float]) -> None:
    limits = limits_of(series)
    heights = spread([y(v) for v in limits], [SMALL * 1.15] * len(limits), between[0] - 4, between[1] + 5)
    for limit, height in zip(limits, heights, strict=True):
        label = limit_label(series, limit, series.points[-1].level.value)
        plate.label((x, height - 0.33 * SMALL), label, SMALL, align="right")


def _lessons(
    plate: Plate,
    points: tuple[Point, ...],
    xs: list[float],
    y: Scale,
    between: tuple[float, float],
    small: bool,
) -> None:
    many = small or len(points) > 24
    bottom, top = between
    for x, point in zip(xs, points, strict=True):
        last = point is points[-1]
        colour = COLOURS[point.verdict] if last else MUTED
        low, high = map(y, point.level.interval if last else point.interval)
        ends = [(x, max(low, bottom)), (x, min(high, top))]
        plate.line(ends, colour, THICK if last else HAIR if many else LINE, cap="round")
        if low < bottom:
            plate.arrow_head(x, bottom - 2, colour, "bottom")
        if high > top:
            plate.arrow_head(x, top + 2, colour, "top")
    places = [(x, y(point.value)) for x, point in zip(xs, points, strict=True)]
    join(plate, [point.date for point in points], places)
    if len(points) > 1:
        plate.rings(places, 3 if many else 4.6, MUTED, HAIR)
    plate.mark(places[-1][0], y(points[-1].level.value), points[-1].verdict, 0.85 if small else 1)


def _notes(plate: Plate, series: ToldSeries, xs: list[float], right: float) -> None:
    """A small square under each lesson that has the instructor's notes, and once what it means, beside the dates."""
    noted = [x for x, point in zip(xs, series.points, strict=True) if point.noted]
    if not noted:
        return
    key = right + _beside_date(series, right - 8 - xs[-1])
    for x, y in [*((x, SMALL + 4) for x in noted), (key + 1.5, 3 + 0.25 * SMALL)]:
        plate.box(x - 1.3, y - 1.3, x + 1.3, y + 1.3, MUTED)
    plate.label((key + NOTES_KEY, 3.0), label_of("notes"), SMALL)


def _beside_date(series: ToldSeries, inset: float) -> float:
    """How far the last date, centred `inset` from the end of the band, pushes aside what begins 8 points after it."""
    return max(0.0, text_width(date_labels(series)[-1], SMALL) / 2 - inset - 2)


def _right_labels(plate: Plate, series: ToldSeries, y: Scale, x: float, small: bool) -> None:
    today = series.points[-1]
    name = _band_name(series)
    value = _value_label(series)
    wanted, sizes = [y(today.level.value)], [SMALL + 5]
    if name and not small:
        limits = limits_of(series)
        wanted.append(sum(y(limit) for limit in limits) / len(limits))
        sizes.append(SMALL + 5)
    heights = spread(wanted, sizes, SMALL + 4, plate.height - 1)
    plate.label((x, heights[0] - 0.33 * SMALL), value, NAME, COLOURS[today.verdict], weight="semibold")
    if len(heights) == 2:
        plate.label((x, heights[1] - 0.33 * SMALL), name, SMALL)
