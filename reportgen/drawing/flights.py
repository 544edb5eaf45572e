"""Flights from above as the player sees them from behind the ball: where each starts and to where it curves, thin, and
the mean of all, thick. It is drawn wider than it is, so that a curve is seen."""

from math import radians, tan

from reportgen.drawing.landed import TRAIL, WIDTH, sides_below
from reportgen.drawing.plate import Plate, Point
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import EDGE, HAIR, INK, LINE, MUTED, NAME, SMALL, THICK
from reportgen.records.patterns import Flight, Flights, ShotsOfDay
from reportgen.records.told_shots import ToldShots
from reportgen.records.words import Side
from reportgen.saying.shot_charts import day_label, label_of, of_flights, widened_label

BOTTOM, TALL, TOP = 18.0, 120.0, 34.0
HALF = WIDTH / 2 - 6
WIDEST = 4
"""So many times as wide as it is at most."""


def flights(shots: ToldShots, of: ShotsOfDay, plays: Side) -> Drawing:
    """The flights of one of the two days, 2.3 inch wide; both days have one scale."""
    return to_drawing(flights_plate(shots, of, plays), of_flights(shots, of, _scales(shots)[1]))


def flights_plate(shots: ToldShots, of: ShotsOfDay, plays: Side) -> Plate:
    """The plate of `flights`."""
    scale, times = _scales(shots)
    plate = Plate.blank(WIDTH, BOTTOM + TALL + TOP)
    ball = (WIDTH / 2, BOTTOM)
    plate.line([ball, (ball[0], BOTTOM + TALL + 2)], MUTED, HAIR)
    plate.arrow_head(ball[0], BOTTOM + TALL + 6, MUTED, "top")
    plate.label((ball[0], BOTTOM + TALL + 10), label_of("target"), SMALL, align="center")
    plate.label((0, plate.height - 8), day_label(shots, of), NAME, INK, weight="semibold")
    if times > 1:
        plate.label((WIDTH, plate.height - 8), widened_label(times), SMALL, align="right")
    across = TRAIL[plays] * scale * times
    if of.flights is not None:
        for one in of.flights.each:
            plate.curve(_way(one, ball, across, scale), EDGE, HAIR)
        middle = _way(_mean(of.flights), ball, across, scale)
        plate.curve(middle, INK, THICK)
        plate.rings([middle[-1]], 5, INK, HAIR, fill=INK)
    plate.rings([ball], 6, INK, LINE)
    sides_below(plate, 0, plays)
    return plate


def _scales(shots: ToldShots) -> tuple[float, int]:
    """Points a metre along the target line, and how many times as wide it is drawn."""
    flown = [day.flights for day in (shots.now, shots.before) if day and day.flights]
    each = [one for of in flown for one in (*of.each, _mean(of))]
    longest = max(one.carry for one in each)
    widest = max(1.0, *(abs(side) for one in each for side in (one.side, _straight(one) / 2)))
    scale = min(TALL / max(longest, 1.0), HALF / widest)
    return scale, max(1, min(WIDEST, int(HALF / (widest * scale))))


def _straight(of: Flight) -> float:
    """How far from the target line the shot would land without its curve, in m."""
    return of.carry * tan(radians(max(-80.0, min(80.0, of.start))))


def _way(of: Flight, ball: Point, across: float, scale: float) -> list[Point]:
    """From the ball along the start line, bent evenly to the landing place: a parabola, as a cubic curve."""
    x, y = ball
    end = (x + across * of.side, y + scale * of.carry)
    bend = (x + across * _straight(of) / 2, y + scale * of.carry / 2)
    first, second = (
        (place[0] + 2 / 3 * (bend[0] - place[0]), place[1] + 2 / 3 * (bend[1] - place[1])) for place in (ball, end)
    )
    return [ball, first, second, end]


def _mean(of: Flights) -> Flight:
    """The mean start and curve as one flight, over the mean carry of those that are drawn."""
    carry = sum(one.carry for one in of.each) / len(of.each)
    straight = Flight(start=of.start.mean, side=0.0, carry=carry)
    return straight.model_copy(update={"side": _straight(straight) + of.curve.mean})
