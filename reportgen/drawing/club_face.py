"""Where the face met the ball, on the outline of a club as a teacher draws one on a board: the face seen from the
front, the heel on the player's side."""

from collections.abc import Iterable
from math import cos, pi, sin, sqrt

from reportgen.drawing.landed import TRAIL, WIDTH
from reportgen.drawing.plate import Plate, Point
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import EDGE, HAIR, INK, LINE, MUTED, NAME, PAPER, RULE, SMALL, THICK
from reportgen.records.patterns import Mean, ShotsOfDay, Struck
from reportgen.records.shots import FACE, FacePlace
from reportgen.records.told_shots import ToldShots, ToldStrike
from reportgen.records.words import Side, club_family
from reportgen.saying.shot_charts import day_label, label_of, of_strike, of_struck
from reportgen.saying.wording import short_day

HEIGHT, MIDDLE = 112.0, 50.0
"""Points: the height of a plate, and how high the middle of the face is."""
SCALE = 1.35
"""Points a millimetre; less where a shot was further out than the outline."""
REACH = (60.0, 31.0)
"""Millimetres to either side, and down from the middle, that fit at that scale."""

_IRON: tuple[Point, ...] = (
    (-41, -17), (-22, -23), (14, -24), (32, -20), (45, -16), (47, 22), (37, 31), (29, 36), (6, 27), (-35, 12),
    (-41, 11), (-43, 20), (-45, 36),
)  # fmt: skip
_WOOD: tuple[Point, ...] = (
    (-45, -10), (-36, -27), (30, -29), (48, -15), (60, -4), (54, 20), (34, 27), (8, 34), (-28, 30), (-43, 15),
    (-45, 20), (-47, 28), (-48, 36),
)  # fmt: skip
"""Outlines (own) in mm about the middle of the face, toe to the right: sole, toe, crown and the near side of the shaft
as Bézier curves."""
_SHAFT: dict[bool, tuple[Point, ...]] = {
    True: ((-45, -10), (-49, -2), (-53, 16), (-55, 36)),
    False: ((-41, -17), (-49, -12), (-52, 10), (-53, 36)),
}
"""The far side of the shaft, of woods and of others."""
_PLACES: dict[FacePlace, Point] = {
    "heel": (-25, -3),
    "middle": (0, 0),
    "toe": (26, 2),
    "high": (0, 14),
    "low": (0, -15),
}
"""Where counted strikes stand, in mm."""
_CROWD = 6.5
"""The radius of the crowd of one place, in mm."""
CROWDED = 60
"""Dots of one place at most; the number beside them counts all."""


def struck(shots: ToldShots, of: ShotsOfDay, plays: Side) -> Drawing:
    """The measured places of one of the two days, 2.3 inch wide; both days have one scale."""
    return to_drawing(struck_plate(shots, of, plays), of_struck(shots, of))


def struck_plate(shots: ToldShots, of: ShotsOfDay, plays: Side) -> Plate:
    """The plate of `struck`: a dot for each shot, and the mean with how sure it is."""
    found = [day.struck for day in (shots.now, shots.before) if day and day.struck]
    scale = _scale(place for one in found for place in one.places)
    plate = _face(shots.club, plays, scale, day_label(shots, of))
    if of.struck is not None:
        places = [_at(place, plays, scale) for place in of.struck.places]
        plate.rings(places, 5.4, PAPER, 0.6, fill=EDGE)
        for ends in _cross(of.struck):
            plate.line([_at(end, plays, scale) for end in ends], INK, THICK, cap="round")
    return plate


def strike(of: ToldStrike, plays: Side, *, before: bool = False) -> Drawing:
    """Counted strikes on the face, 2.3 inch wide; those of the date before where asked for."""
    places = of.before if before and of.before is not None else of.places
    title = short_day(of.before_on) if before and of.before_on is not None else label_of("now")
    return to_drawing(strike_plate(of.club, places, plays, title), of_strike(of, places))


def strike_plate(club: str, places: dict[FacePlace, int], plays: Side, title: str) -> Plate:
    """The plate of `strike`: as many dots at each place as shots met it, and their number."""
    plate = _face(club, plays, SCALE, title)
    for place in FACE:
        count = places[place]
        if not count:
            continue
        dots, size = _crowd(_at(_PLACES[place], plays, SCALE), min(count, CROWDED))
        plate.rings(dots, size, PAPER, 0.5, fill=INK)
        right = max(x for x, _ in dots) + size / 2
        plate.label((right + 2, dots[0][1] - 3), str(count), NAME, INK, weight="semibold")
    return plate


def _crowd(middle: Point, count: int) -> tuple[list[Point], float]:
    """So many dots about a place, each turned from the one before by the golden angle as seeds are, and their size."""
    size = min(5.0, 1.45 * _CROWD * SCALE / sqrt(count))
    ways = [(0.65 * size * sqrt(number + 0.5), number * pi * (3 - sqrt(5))) for number in range(count)]
    return [(middle[0] + away * cos(turn), middle[1] + away * sin(turn)) for away, turn in ways], size


def _scale(places: Iterable[Point]) -> float:
    """The scale at which the outline and every place fit."""
    fits = SCALE
    for across, up in places:
        fits = min(fits, (WIDTH / 2 - 4) / max(abs(across), 1.0), (MIDDLE - 14) / max(abs(up), 1.0))
    return fits


def _at(place: Point, plays: Side, scale: float) -> Point:
    """The toe of a right-handed club is to the left, seen from the front."""
    across, up = place
    return WIDTH / 2 - TRAIL[plays] * across * scale, MIDDLE + up * scale


def _face(club: str, plays: Side, scale: float, title: str) -> Plate:
    plate = Plate.blank(WIDTH, HEIGHT)
    wood = club_family(club) in ("driver", "wood", "hybrid")
    for line in (_WOOD if wood else _IRON, _SHAFT[wood]):
        plate.curve([_at(place, plays, scale) for place in line], MUTED, LINE)
    for across, up in (((-6, 0), (6, 0)), ((0, -6), (0, 6))):
        plate.line([_at(across, plays, scale), _at(up, plays, scale)], RULE, HAIR)
    plate.label((0, HEIGHT - 8), title, NAME, INK, weight="semibold")
    for word, place in (("heel", -30.0), ("toe", 30.0)):
        plate.label((_at((place, 0), plays, scale)[0], 2.5), label_of(word), SMALL, align="center")
    return plate


def _cross(of: Struck) -> list[tuple[Point, Point]]:
    """The mean as a cross, as wide and as high as its interval."""
    across, up = of.across, of.up or Mean(mean=0.0, interval=(0.0, 0.0), shots=of.across.shots)
    arms = [((across.interval[0], up.mean), (across.interval[1], up.mean))]
    return [*arms, ((across.mean, up.interval[0]), (across.mean, up.interval[1]))] if of.up else arms
