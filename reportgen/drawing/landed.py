"""Where shots landed, seen from above as the player sees it from behind the ball: the target line up the middle, a dot
for each shot, and from eight shots on the line that holds 8 of the next 10, and the centre with how sure it is."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import cos, hypot, pi, radians, sin

from reportgen.drawing.plate import Plate, Point
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import EDGE, HAIR, INK, LINE, MUTED, NAME, PAPER, RULE, SMALL, THICK
from reportgen.records.patterns import ShotsOfDay
from reportgen.records.shot_findings import Ellipse, Pattern
from reportgen.records.told_shots import ToldShots
from reportgen.records.words import Side
from reportgen.saying.shot_charts import carry_labels, day_label, label_of, of_landed

WIDTH = 168.0
"""Points."""
TOP, BOTTOM, LEFT, RIGHT = 22.0, 14.0, 38.0, 4.0
"""What stands about the ground that is shown: the day and the target, the sides, the carries."""
TALLEST, LOWEST = 140.0, 70.0
LEAST = 8.0
"""At least so many metres to either side are shown."""
ROOM = 1.06
TRAIL: dict[Side, int] = {"right": 1, "left": -1}
"""On which side of a drawing the trail side is: to the right for who plays right-handed."""


@dataclass(frozen=True)
class Ground:
    """What is shown: so many metres to either side of the target line, and the carries from `low` to `high`."""

    half: float
    low: float
    high: float

    @property
    def scale(self) -> float:
        """Points a metre, along and across alike."""
        return min((WIDTH - LEFT - RIGHT) / (2 * self.half), TALLEST / (self.high - self.low))


def landed(shots: ToldShots, of: ShotsOfDay, plays: Side) -> Drawing:
    """The landing places of one of the two days, 2.3 inch wide; both days have one scale."""
    return to_drawing(landed_plate(shots, of, plays), of_landed(shots, of))


def landed_plate(shots: ToldShots, of: ShotsOfDay, plays: Side) -> Plate:
    """The plate of `landed`."""
    ground = ground_of([day for day in (shots.now, shots.before) if day])
    tall = max(LOWEST, (ground.high - ground.low) * ground.scale)
    plate = Plate.blank(WIDTH, TOP + tall + BOTTOM)
    middle = LEFT + (WIDTH - LEFT - RIGHT) / 2

    def at(side: float, carry: float) -> Point:
        return middle + TRAIL[plays] * side * ground.scale, BOTTOM + (carry - ground.low) * ground.scale

    _ground(plate, (at(0, ground.low), (middle, BOTTOM + tall)), plays)
    plate.label((0, plate.height - 8), day_label(shots, of), NAME, INK, weight="semibold")
    for carry, said in carry_labels(ground.low, ground.high, shots.unit):
        y = at(0, carry)[1]
        plate.line([(LEFT - 5, y), (LEFT - 1, y)], RULE, HAIR)
        plate.label((LEFT - 7, y - 2.6), said, SMALL, align="right")
    found = of.pattern
    if found is not None and found.next_shot is not None:
        plate.line([at(*place) for place in outline(found.next_shot)], MUTED, LINE, dashes=(4, 3))
    dots = [at(one.side, one.carry) for one in of.landed if not one.mishit]
    plate.rings(dots, 5, PAPER, 0.6, fill=EDGE)
    plate.rings([at(one.side, one.carry) for one in of.landed if one.mishit], 4.6, INK, LINE)
    if found is not None and found.next_shot is not None:
        _centre(plate, found, at)
    return plate


def ground_of(days: Iterable[ShotsOfDay]) -> Ground:
    """The ground that holds every shot of all days, and the ellipses."""
    days = list(days)
    ellipses = [day.pattern.next_shot for day in days if day.pattern and day.pattern.next_shot]
    places = [(one.side, one.carry) for day in days for one in day.landed]
    places += [place for one in ellipses for place in outline(one)]
    carries = [carry for _, carry in places]
    half = ROOM * max(LEAST, *(abs(side) for side, _ in places))
    low, high = min(carries), max(carries)
    room = max((ROOM - 1) * (high - low), LEAST / 2)
    return Ground(half, low - room, high + room)


def outline(of: Ellipse, steps: int = 60) -> list[tuple[float, float]]:
    """(side, carry) along an ellipse, closed."""
    tilt = radians(of.tilt)
    found = []
    for step in range(steps + 1):
        turn = 2 * pi * step / steps
        along, across = of.long * cos(turn), of.short * sin(turn)
        found.append(
            (of.side + along * sin(tilt) + across * cos(tilt), of.carry + along * cos(tilt) - across * sin(tilt))
        )
    return found


def _ground(plate: Plate, line: tuple[Point, Point], plays: Side) -> None:
    """The target line with its arrow, and what the two sides are called."""
    (x, low), (_, high) = line
    plate.line([(x, low), (x, high - 3)], MUTED, HAIR)
    plate.arrow_head(x, high + 1, MUTED, "top")
    plate.label((x, high + 5), label_of("target"), SMALL, align="center")
    sides_below(plate, LEFT, plays)


def sides_below(plate: Plate, left: float, plays: Side) -> None:
    """What the two sides are called, at the foot of a drawing."""
    names = (label_of("lead side"), label_of("trail side"))
    first, last = names if plays == "right" else names[::-1]
    plate.label((left, 2.5), first, SMALL)
    plate.label((plate.width, 2.5), last, SMALL, align="right")


def _centre(plate: Plate, of: Pattern, at: Callable[[float, float], Point]) -> None:
    """The mean as a cross, as wide and as long as its interval."""
    for ends in _cross(of):
        first, last = (at(*end) for end in ends)
        if hypot(last[0] - first[0], last[1] - first[1]) > 0:
            plate.line([first, last], INK, THICK, cap="round")


def _cross(of: Pattern) -> list[tuple[Point, Point]]:
    side, carry = of.side, of.carry
    arms = []
    if side.interval is not None:
        arms.append(((side.interval[0], carry.mean), (side.interval[1], carry.mean)))
    if carry.interval is not None:
        arms.append(((side.mean, carry.interval[0]), (side.mean, carry.interval[1])))
    return arms
