"""What stands, lies or hangs about the player in a figure of a drill."""

from collections.abc import Callable
from typing import NamedTuple

from reportgen.drawing.figure_view import SCALE, View
from reportgen.drawing.plate import Look, Plate, Point
from reportgen.drawing.style import INK, MUTED, PAPER, RULE
from reportgen.posing.solving import Posed
from reportgen.posing.vectors import UP, Vec
from reportgen.records.drill_figures import FigureThing

TALL_WALL, TALL_MIRROR, WIDE_MIRROR = 1.85, 1.85, 1.2
SEAT, SEAT_WIDE, BACK = 0.45, 0.40, 0.86
"""A chair, in metres: how high its seat is, how wide, and how high its back."""
_THIN, _THICK = 1.2, 2.2
_CENTIMETRE = 0.01


class Placed(NamedTuple):
    """Something to draw: how near it is, and what draws it."""

    near: float
    draw: Callable[[Plate], None]


_FAR, _GROUND = -50.0, -40.0


def placed(thing: FigureThing, posed: Posed, view: View) -> Placed:
    """One thing, ready to be drawn in its turn."""
    if thing.what in ("wall", "mirror"):
        return Placed(_FAR, lambda plate: _upright(plate, view, thing))
    at = _place(thing, posed)
    if thing.what == "chair":
        under = view.seen == "above" or posed.setting.seat_height is not None
        return Placed(view.near(at) - (2 if under else 0), lambda plate: _chair(plate, view, at, thing))
    if thing.what in ("ball", "tee") and view.seen != "above":
        return Placed(
            view.near(at) + (0.2 if thing.what == "ball" else 0.1), lambda plate: _small(plate, view, at, thing)
        )
    return Placed(_GROUND, lambda plate: _small(plate, view, at, thing))


def _place(thing: FigureThing, posed: Posed) -> Vec:
    usual = posed.ball if thing.what in ("ball", "tee") else Vec(0, 0, 0)
    x = usual.x if thing.toward is None else thing.toward * _CENTIMETRE
    y = posed.ball.y if thing.ahead is None else thing.ahead * _CENTIMETRE
    return Vec(x, y, thing.up * _CENTIMETRE)


def _line(plate: Plate, view: View, ends: list[Vec], width: float = _THIN, colour: str = INK) -> None:
    plate.line([view.at(end) for end in ends], colour, width, cap="round")


def _flat(plate: Plate, view: View, middle: Vec, half: tuple[float, float], high: float, look: Look) -> None:
    """A box on the ground, of which one side is seen, or its top."""
    (x, y), (across, deep) = view.at(middle), half
    wide = across if view.seen != "down-the-line" else deep
    low, top = (y - deep * SCALE, y + deep * SCALE) if view.seen == "above" else (y, y + high * SCALE)
    plate.polygon(
        [(x - wide * SCALE, low), (x + wide * SCALE, low), (x + wide * SCALE, top), (x - wide * SCALE, top)], look
    )


def _small(plate: Plate, view: View, at: Vec, thing: FigureThing) -> None:
    """What lies on the ground, and a strip on a mirror; small things are drawn larger than they are."""
    what, outlined = thing.what, Look(fill=PAPER, edge=INK, width=_THIN)
    if what == "ball":
        plate.rings([view.at(Vec(at.x, at.y, at.z if view.seen == "above" else at.z + 0.035))], 5, INK, _THIN)
    elif what == "tee":
        foot = Vec(at.x, at.y, 0)
        _line(plate, view, [foot, foot + Vec(0, 0, 0.05)], _THICK)
        if view.seen == "above":
            plate.rings([view.at(at)], 3.4, INK, 0, fill=INK)
    elif what == "coin":
        half = (0.035, 0.035)
        if view.seen == "above":
            plate.rings([view.at(at)], 5, INK, 0, fill=INK)
        else:
            _flat(plate, view, at - Vec(0, 0, 0.022), half, 0.022, Look(fill=INK))
    elif what == "hole":
        _hole(plate, view, at)
    elif what == "towel":
        _flat(plate, view, at, ((thing.long or 34) / 200, 0.10), 0.035, outlined)
    elif what == "scales":
        _flat(plate, view, at - Vec(0, 0, 0.06), (0.14, 0.17), 0.06, outlined)
    elif what == "mark":
        aside = Vec((thing.long or 20) / 200, 0, 0)
        _line(plate, view, [at - aside, at + aside], 3)
    else:
        _lying(plate, view, at, thing)


def _lying(plate: Plate, view: View, at: Vec, thing: FigureThing) -> None:
    """A stick or a line on the ground; seen end-on it is a dot or a stroke."""
    half = (thing.long or 100) / 2 * _CENTIMETRE
    along = Vec(0, half, 0) if thing.across else Vec(half, 0, 0)
    end_on = (view.seen == "face-on" and thing.across) or (view.seen == "down-the-line" and not thing.across)
    width, colour = (_THICK + 0.6, INK) if thing.what == "stick" else (_THIN, MUTED)
    if end_on and thing.what == "stick":
        plate.rings([view.at(at + Vec(0, 0, 0.02))], 3.4, INK, 0, fill=INK)
    elif end_on:
        x, y = view.at(at)
        plate.line([(x, y - 7), (x, y + 3)], INK, _THICK, cap="round")
    else:
        _line(plate, view, [at - along, at + along], width, colour)


def _hole(plate: Plate, view: View, at: Vec) -> None:
    if view.seen == "above":
        plate.rings([view.at(at)], 9, INK, _THIN, fill=MUTED)
        return
    x, y = view.at(at)
    side = 1 if view.plays == "right" else -1
    plate.line([(x - 5, y), (x + 5, y)], INK, 3)
    plate.line([(x, y), (x, y + 42)], INK, _THIN)
    plate.polygon([(x, y + 42), (x - 15 * side, y + 37), (x, y + 31)], Look(fill=MUTED))


def _chair(plate: Plate, view: View, at: Vec, thing: FigureThing) -> None:
    """Four legs, a seat, and a back on one side."""
    half, side = SEAT_WIDE / 2, thing.side or "behind"
    corners = [Vec(at.x + x * half, at.y + y * half, 0) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    backs = {"behind": (0, 1), "lead": (1, 2), "ahead": (2, 3), "trail": (3, 0)}[side]
    ends = [corners[n] for n in backs]
    seat = [corner + UP * SEAT for corner in corners]
    rails = [[end + UP * height for end in ends] for height in (BACK, 0.66)]
    posts = [[end + UP * SEAT, end + UP * BACK] for end in ends]
    lines = [*rails, *posts, *([corner, corner + UP * SEAT] for corner in corners)]
    plate.polygon([view.at(corner) for corner in seat], Look(fill=PAPER, edge=MUTED, width=_THICK))
    # What is seen behind each other is drawn once, and what is seen end-on not at all.
    seen = dict.fromkeys(tuple(sorted((round(x, 2), round(y, 2)) for x, y in map(view.at, line))) for line in lines)
    for line in seen:
        if line[0] != line[1]:
            plate.line(line, MUTED, _THICK, cap="round")


def _upright(plate: Plate, view: View, thing: FigureThing) -> None:
    """A wall or a mirror: seen from its edge a line, with a pale strip behind a wall; from the front a pale frame."""
    away, mirror = (thing.away or 0) * _CENTIMETRE, thing.what == "mirror"
    along_x = thing.side in ("ahead", "behind")
    sign = 1 if thing.side in ("ahead", "lead") else -1
    on_edge = view.seen == "above" or (view.seen == "down-the-line") == along_x
    low, top = 0.0, TALL_MIRROR if mirror else TALL_WALL
    if not on_edge:
        half = WIDE_MIRROR / 2
        corners = [(-half, low), (half, low), (half, top), (-half, top)]
        spots = [view.at(Vec(a, 0, b) if along_x else Vec(0, a, b)) for a, b in corners]
        plate.polygon(spots, Look(edge=RULE, width=3 if mirror else 1.2))
        return
    if view.seen == "above":
        low, top = -0.5, 0.5
    place = Vec(0, sign * away, 0) if along_x else Vec(sign * away, 0, 0)
    up = Vec(0, 0, 1) if view.seen != "above" else Vec(1, 0, 0) if along_x else Vec(0, 1, 0)
    foot, head = view.at(place + up * low), view.at(place + up * top)
    plate.line([foot, head], INK, _THICK, cap="round")
    outside = view.at(place * 1.001 + (Vec(0, sign, 0) if along_x else Vec(sign, 0, 0)) * 0.05)
    beyond = (outside[0] - view.at(place)[0], outside[1] - view.at(place)[1])
    _behind(plate, foot, head, beyond, mirror=mirror)


def _behind(plate: Plate, foot: Point, head: Point, beyond: Point, *, mirror: bool) -> None:
    """A pale strip behind a wall; behind a mirror a second thin line."""
    share, width, colour = (0.8, 0.8, INK) if mirror else (1.0, 6.5, RULE)
    plate.line([(x + share * beyond[0], y + share * beyond[1]) for x, y in (foot, head)], colour, width)
