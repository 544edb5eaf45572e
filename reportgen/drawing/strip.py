"""The strip: where the player is on the band, how sure we are of it, and this lesson's value alone."""

from dataclasses import dataclass

from reportgen.drawing.labels import short_amount
from reportgen.drawing.plate import Plate, Side
from reportgen.drawing.saving import Drawing, to_drawing, to_png
from reportgen.drawing.style import COLOURS, EDGE, HAIR, LINE, MUTED, NAME, RANGE, RULE, SMALL, THICK
from reportgen.records.told import ToldFinding
from reportgen.saying.charts import limit_label, limits_of, of_finding

WIDTH, HEIGHT = 226.8, 42.0
LEFT, RIGHT = 6.0, WIDTH - 6.0
AXIS = 18.6
BAR = (AXIS - 6.4, AXIS + 6.4)
GAP = 9.0

BAND_SHARE = 0.28
"""The least part of the strip that the band takes, however far from it the value lies."""


def strip(finding: ToldFinding) -> Drawing:
    """The strip of one finding as SVG, 3.15 × 0.58 inch."""
    return to_drawing(strip_plate(finding), of_finding(finding))


def strip_png(finding: ToldFinding) -> bytes:
    """The strip of one finding as PNG."""
    return to_png(strip_plate(finding))


@dataclass(frozen=True)
class Stretch:
    """A part of the strip, `left` to `right` in points, that shows the values `low` to `high`."""

    low: float
    high: float
    left: float
    right: float

    def at(self, value: float) -> float:
        """The place of `value`; values outside land on the nearer end."""
        share = (value - self.low) / (self.high - self.low)
        return self.left + (self.right - self.left) * max(0.0, min(1.0, share))


def stretches(finding: ToldFinding) -> list[Stretch]:
    """The scale of a strip: one stretch, or two of the same scale with a break between them.

    Everything is shown where the band then keeps its share. Otherwise the ends of the interval and this lesson's value
    give way first. Where even the level lies too far away, it gets a stretch of its own behind a break.
    """
    low, high = (None, None) if finding.band is None else (finding.band.low, finding.band.high)
    stands = finding.level.value
    shown = [stands, *finding.level.interval, *([finding.value] if finding.level.lessons > 1 else [])]
    if low is None or high is None:
        return [_open_ended(low, high, min(shown), max(shown))]

    size = high - low
    widest = size / BAND_SHARE
    first, last = min(shown), max(shown)
    room = 0.08 * (max(last, high) - min(first, low))
    left, right = min(low - 0.28 * size, first - room), max(high + 0.28 * size, last + room)
    if right - left <= widest:
        return [Stretch(left, right, LEFT, RIGHT)]

    needed_left, needed_right = min(low, stands) - 0.07 * widest, max(high, stands) + 0.07 * widest
    spare = widest - (needed_right - needed_left)
    if spare >= 0:
        more_left, more_right = max(0.0, needed_left - left), max(0.0, right - needed_right)
        start = needed_left - spare * (more_left / (more_left + more_right) if more_left + more_right else 0.5)
        return [Stretch(start, start + widest, LEFT, RIGHT)]
    return _broken(low, high, stands)


def _open_ended(low: float | None, high: float | None, first: float, last: float) -> Stretch:
    if low is None and high is None:
        room = 0.35 * (last - first) or 1.0
        return Stretch(first - room, last + room, LEFT, RIGHT)
    limit: float = low if high is None else high  # type: ignore[assignment]
    first, last = min(first, limit), max(last, limit)
    room = 0.12 * (last - first) or 1.0
    left, right = first - room, last + room
    inside = BAND_SHARE / (1 - BAND_SHARE)
    if low is None:
        right = max(right, limit + 0.3 * (limit - left))
        left = min(left, limit - inside * (right - limit))
    else:
        left = min(left, limit - 0.3 * (right - limit))
        right = max(right, limit + inside * (limit - left))
    return Stretch(left, right, LEFT, RIGHT)


def _broken(low: float, high: float, value: float) -> list[Stretch]:
    size = high - low
    scale = BAND_SHARE * (RIGHT - LEFT) / size
    near, away = 0.6 * (RIGHT - LEFT), 0.4 * (RIGHT - LEFT) - GAP
    half = away / scale / 2
    if value > high:
        start = low - 0.3 * size
        return [
            Stretch(start, start + near / scale, LEFT, LEFT + near),
            Stretch(value - half, value + half, RIGHT - away, RIGHT),
        ]
    end = high + 0.3 * size
    return [
        Stretch(value - half, value + half, LEFT, LEFT + away),
        Stretch(end - near / scale, end, RIGHT - near, RIGHT),
    ]


def strip_plate(finding: ToldFinding) -> Plate:
    """The strip of one finding as drawn."""
    plate = Plate.blank(WIDTH, HEIGHT)
    scale = stretches(finding)
    for part in scale:
        plate.line([(part.left, AXIS), (part.right, AXIS)], RULE, HAIR, cap="round")
    _band(plate, finding, scale)
    if len(scale) == 2:
        _break(plate, scale[0].right, scale[1].left)
    _interval(plate, finding, scale)
    stands = finding.level.value
    x = next(part.at(stands) for part in scale if part.low <= stands <= part.high)
    if finding.level.lessons > 1:
        _ring(plate, scale, finding.value, x)
    plate.mark(x, AXIS, finding.verdict)
    colour = COLOURS[finding.verdict]
    plate.label(
        (x, 31.2),
        short_amount(finding, finding.sign_beside, stands, NAME, WIDTH - 2),
        NAME,
        colour,
        weight="semibold",
        align="center",
    )
    return plate


def _band(plate: Plate, finding: ToldFinding, scale: list[Stretch]) -> None:
    """The band with its limits: a pale bar, or an outline where it only stands beside the value and judges nothing."""
    band, limits = finding.band, limits_of(finding)
    if band is None or not limits:
        return
    part = next(p for p in scale if p.low <= limits[0] and limits[-1] <= p.high)
    left = part.left if band.low is None else part.at(band.low)
    right = part.right if band.high is None else part.at(band.high)
    bottom, top = BAR
    if band.context:
        for y in BAR:
            plate.line([(left, y), (right, y)], EDGE, HAIR)
    else:
        sides: tuple[tuple[Side, float | None], ...] = (("left", band.low), ("right", band.high))
        open_sides = {side for side, limit in sides if limit is None}
        plate.fading_box((left, bottom, right, top), RANGE, over=min(30, 0.7 * (right - left)), toward=open_sides)
    for limit in limits:
        x = part.at(limit)
        plate.line([(x, bottom - 1.2), (x, top + 1.2)], EDGE, HAIR if band.context else LINE)
        plate.label((x, 2.2), limit_label(finding, limit, finding.level.value), SMALL, align="center")


def _break(plate: Plate, left: float, right: float) -> None:
    """Two slanted strokes: a part of the scale is left out here."""
    for x in (left + 0.2 * GAP, right - 0.2 * GAP):
        plate.line([(x - 1.6, AXIS - 4.2), (x + 1.6, AXIS + 4.2)], MUTED, HAIR, cap="round")


def _interval(plate: Plate, finding: ToldFinding, scale: list[Stretch]) -> None:
    """The line of the 95 % interval, with an arrow head at an end of the strip beyond which it runs on."""
    low, high = finding.level.interval
    colour = COLOURS[finding.verdict]
    for part in scale:
        if high < part.low or low > part.high:
            continue
        left, right = part.at(low), part.at(high)
        if low < part.low and part is scale[0]:
            plate.arrow_head(left - 2, AXIS, colour, "left")
            left += 2
        if high > part.high and part is scale[-1]:
            plate.arrow_head(right + 2, AXIS, colour, "right")
            right -= 2
        plate.line([(left, AXIS), (right, AXIS)], colour, THICK, cap="round")


def _ring(plate: Plate, scale: list[Stretch], today: float, mark_x: float) -> None:
    """This lesson's value; in the break where it is left out, at the end with an arrow where it lies beyond."""
    part = next((p for p in scale if p.low <= today <= p.high), None)
    if part is not None:
        x = part.at(today)
    elif today < scale[0].low:
        x = LEFT + 8
        plate.arrow_head(LEFT - 2, AXIS, MUTED, "left")
    elif today > scale[-1].high:
        x = RIGHT - 8
        plate.arrow_head(RIGHT + 2, AXIS, MUTED, "right")
    else:
        x = (scale[0].right + scale[-1].left) / 2
    # Where the two values nearly agree the ring goes round the mark; a ring of the usual size would hide under it.
    if abs(x - mark_x) < 4:
        plate.rings([(x, AXIS)], 13, MUTED, LINE, fill="none")
    else:
        plate.rings([(x, AXIS)], 5.6, MUTED, LINE)
