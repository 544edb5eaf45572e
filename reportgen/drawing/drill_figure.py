"""The figures of a drill: the player as a few outlines, things about them, and one accent where the feel is."""

from functools import lru_cache
from math import hypot

from reportgen.drawing.figure_things import Placed, placed
from reportgen.drawing.figure_view import SCALE, View, draw_member, extent, moved
from reportgen.drawing.plate import Disc, Look, Plate, Point
from reportgen.drawing.player import Member, Shape, arms, club_and_hands, legs, trunk_and_head
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import FEEL, MUTED, PAPER, RULE
from reportgen.posing.arms import STATURE, frame_of
from reportgen.posing.body import ahead_of
from reportgen.posing.solving import Posed, posed
from reportgen.posing.vectors import TARGET, Vec, between
from reportgen.records.drill_figures import DrillFigure, Part
from reportgen.records.told_practice import ToldFigure
from reportgen.records.words import Side

MARGIN = 6.0
_RING: dict[Part, float] = {"head": 0.075, "chest": 0.07, "seat": 0.06, "club": 0.05}
_USUAL_RING = 0.052
"""Radius of the ring round a part, as a part of stature."""
_ARROW, _HEAD = 0.17, 5.0
"""How long an arrow is in metres, and its head in points."""


@lru_cache(maxsize=256)
def drill_figures(told: tuple[ToldFigure, ...], plays: Side) -> tuple[Drawing, ...]:
    """Each of the figures of a drill that are drawn, for a right- or left-handed player. They are as high as each
    other, and their ground is on one line. Raises PoseError where no body can stand so. The library's pages, its cards
    and students' pages show the same ones."""
    plates = [figure_plate(one.figure, plays) for one in told]
    reaches = [extent(plate) for plate in plates]
    sides = [reach for one, reach in zip(told, reaches, strict=True) if one.figure.seen != "above"]
    ground, top = min((r[1] for r in sides), default=0.0), max((r[3] for r in sides), default=0.0)
    high = max([top - ground, *(reach[3] - reach[1] for reach in reaches)])
    made = []
    for one, plate, (left, low, right, up) in zip(told, plates, reaches, strict=True):
        # What is seen from above has no ground to stand on and is in the middle.
        below = low - (high - (up - low)) / 2 if one.figure.seen == "above" else ground
        framed = moved(plate, MARGIN - left, MARGIN - below, right - left + 2 * MARGIN, high + 2 * MARGIN)
        made.append(to_drawing(framed, one.alt))
    return tuple(made)


def figure_plate(figure: DrillFigure, plays: Side) -> Plate:
    """A figure as drawn, about the middle of the stance; the plate has no size yet. Raises PoseError."""
    view, found, plate = View(figure.seen, plays), posed(figure), Plate.blank(0, 0)
    ready = [_as_placed(member, view) for member in _members(found)]
    ready += [placed(thing, found, view) for thing in figure.things]
    _ground(plate, view, found)
    for one in sorted(ready, key=lambda one: one.near):
        one.draw(plate)
    for part in figure.feel:
        _feel(plate, view, found, part, wrong=figure.mistake is not None)
    for move in figure.moves:
        _arrow(plate, view, place_of(move.part, found), move.to)
    return plate


def _as_placed(member: Member, view: View) -> Placed:
    return Placed(view.nearness(member.at), lambda plate: draw_member(plate, view, member))


def _members(found: Posed) -> list[Member]:
    body, h = found.body, STATURE
    members = [*legs(body, h), *arms(body, h), *trunk_and_head(body, h, found.looks_at), *_held(found)]
    for side, at in (("lead", found.setting.lead_hand), ("trail", found.setting.trail_hand)):
        if at != "club" or "clubhead" not in body:
            members.append(_hand(body, side))
    return members


def _hand(body: dict[str, Vec], side: str) -> Member:
    elbow, wrist = body[f"{side}-elbow"], body[f"{side}-wrist"]
    palm = wrist + (wrist - elbow).unit * (0.022 * STATURE)
    near = (wrist + (wrist - elbow) * 0.1,)
    tone: Shape = Shape(
        "lead-arm" if side == "lead" else "trail-arm", (((wrist, 0.015 * STATURE), (palm, 0.019 * STATURE)),)
    )
    return Member(near, (tone,))


def _held(found: Posed) -> list[Member]:
    """The club, or what is held across."""
    body, setting = found.body, found.setting
    if "clubhead" in body:
        club, hands = club_and_hands(body, STATURE)
        return [club, hands] if (setting.lead_hand, setting.trail_hand) == ("club", "club") else [club]
    lead, trail = body["lead-wrist"], body["trail-wrist"]
    across = (lead - trail).unit
    if setting.holds == "towel":
        roll = Shape("skin", (((lead + across * 0.09, 0.035), (trail - across * 0.09, 0.035)),))
        return [Member((between(lead, trail) + Vec(0, 0.02, 0),), (roll,))]
    if setting.holds == "stick":
        stick = Shape("club", (((lead + across * 0.25, 0.012), (trail - across * 0.25, 0.012)),))
        return [Member((between(lead, trail) + ahead_of(setting.belt) * 0.04,), (stick,))]
    if setting.holds in ("iron", "wedge", "putter"):
        return [_club_on_the_back(found)]
    return []


def _club_on_the_back(found: Posed) -> Member:
    """A club that lies along the spine: it touches seat and head, and goes on beyond both."""
    body, (_, _, ahead) = found.body, frame_of(found.body)
    hips = between(body["lead-hip"], body["trail-hip"])
    seat, head = hips - ahead * (0.080 * STATURE), body["head"] - ahead * (0.060 * STATURE)
    low, high = between(seat, head, -0.3), between(seat, head, 1.35)
    return Member((between(low, high) - TARGET * 0.03,), (Shape("club", (((low, 0.011), (high, 0.011)),)),))


def _ground(plate: Plate, view: View, found: Posed) -> None:
    """The ground as a line, with an arrow head at the target's end; from above it is the target line."""
    if view.seen == "down-the-line":
        plate.line([view.at(Vec(0, y, 0)) for y in (-0.55, 0.75)], RULE, 1.2, cap="round")
        return
    y = found.ball.y if view.seen == "above" else 0.0
    ends = [view.at(Vec(x, y, 0)) for x in (-0.7, 0.7)]
    plate.line(ends, RULE, 1.2, cap="round")
    (x, at), side = ends[1], "right" if view.plays == "right" else "left"
    plate.arrow_head(x + (4 if side == "right" else -4), at, MUTED, side)  # type: ignore[arg-type]


def place_of(part: Part, found: Posed) -> Vec:
    """Where a part of the body is that is felt or moves."""
    body, h = found.body, STATURE
    _, _, ahead = frame_of(body)
    middle = between(body["lead-hip"], body["trail-hip"])
    whole: dict[Part, Vec] = {
        "head": body["head"],
        "chest": between(middle, body["neck"], 0.72) + ahead * (0.05 * h),
        "belt": middle,
        "seat": body["seat"],
        "hands": between(body["lead-wrist"], body["trail-wrist"]),
        "club": body.get("clubhead", body["lead-wrist"]),
    }
    if part in whole:
        return whole[part]
    side, of = part.split("-")
    hip, knee = body[f"{side}-hip"], body[f"{side}-knee"]
    places = {
        "shoulder": body[f"{side}-shoulder"],
        "hip": hip,
        "pocket": body[f"{side}-buttock"],
        "thigh": between(hip, knee),
        "knee": knee,
        "heel": body[f"{side}-heel"],
        "foot": body[f"{side}-ball-of-foot"],
        "toes": body[f"{side}-toe"],
    }
    return places[of]


def _feel(plate: Plate, view: View, found: Posed, part: Part, *, wrong: bool) -> None:
    """A ring round a part, with a rim of paper, so that it is seen on what is filled; dashed where it shows what goes
    wrong."""
    ring = Look(edge=FEEL, width=2, dashes=(3.2, 2.6) if wrong else ())
    for look in (Look(edge=PAPER, width=3.8), ring):
        if part == "belt":
            hips = [(*view.at(found.body[f"{side}-hip"]), 0.055 * STATURE * SCALE) for side in ("lead", "trail")]
            plate.blob([hips], look)
        else:
            radius = _RING.get(part, _USUAL_RING) * STATURE * SCALE
            plate.drawn.append(Disc(view.at(place_of(part, found)), radius, look))


def _arrow(plate: Plate, view: View, start: Vec, to: str) -> None:
    """An arrow from a part of the body; what goes toward the eye or away from it has none."""
    ways = {
        "target": (1, 0, 0),
        "away": (-1, 0, 0),
        "ball": (0, 1, 0),
        "back": (0, -1, 0),
        "up": (0, 0, 1),
        "down": (0, 0, -1),
    }
    way = Vec(*ways[to])
    first, last = view.at(start + way * 0.10), view.at(start + way * (0.10 + _ARROW))
    across, up = last[0] - first[0], last[1] - first[1]
    long = hypot(across, up)
    if long < 1:
        return
    ux, uy = across / long, up / long
    shaft = [first, (last[0] - ux * 3, last[1] - uy * 3)]
    plate.line(shaft, PAPER, 4.2)
    plate.line(shaft, FEEL, 2.2)
    plate.polygon(_head(last, ux, uy), Look(fill=FEEL, edge=PAPER, width=0.8))


def _head(tip: Point, ux: float, uy: float) -> list[Point]:
    back = (tip[0] - ux * _HEAD, tip[1] - uy * _HEAD)
    return [tip, (back[0] - uy * 3.2, back[1] + ux * 3.2), (back[0] + uy * 3.2, back[1] - ux * 3.2)]
