"""Space -> paper, for the figures of drills: seen without perspective from one of three sides."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from reportgen.drawing.plate import Blob, Disc, Look, Plate, Point, Way
from reportgen.drawing.player import Member, Shape, Tone
from reportgen.drawing.style import INK, MUTED, PAPER, RULE
from reportgen.posing.vectors import Vec
from reportgen.records.drill_figures import Seen
from reportgen.records.words import Side

SCALE = 76.0
"""Points a metre."""
EDGE_WIDTH = 1.1

LEAD, CLOTH = MUTED, "#efeadb"
TONES: dict[Tone, str] = {
    "lead-leg": LEAD, "lead-arm": LEAD, "lead-sleeve": LEAD, "lead-shoe": LEAD,
    "trail-leg": PAPER, "trail-arm": PAPER, "trail-sleeve": PAPER, "trail-shoe": PAPER,
    "shirt": CLOTH, "belt": CLOTH, "skin": PAPER, "hands": PAPER, "cap": RULE, "club": INK,
}  # fmt: skip
"""The lead side is filled and the trail side an outline, so that they are told apart without any colour."""


@dataclass(frozen=True)
class View:
    """From where it is seen, and for whom: a left-handed player is mirrored."""

    seen: Seen
    plays: Side

    def at(self, point: Vec) -> Point:
        """The place of a point, in points; the middle of the stance is at nought."""
        aside = point.y if self.seen == "down-the-line" else point.x
        up = -point.y if self.seen == "above" else point.z
        return SCALE * aside * (1 if self.plays == "right" else -1), SCALE * up

    def near(self, point: Vec) -> float:
        """How near to the eye a point is: what is nearer hides what is further."""
        return {"face-on": point.y, "down-the-line": -point.x, "above": point.z}[self.seen]

    def nearness(self, points: Iterable[Vec]) -> float:
        """The mean of some points."""
        near = [self.near(point) for point in points]
        return sum(near) / len(near)


def draw_shape(plate: Plate, view: View, shape: Shape) -> None:
    """A shape of the player."""
    hulls = [[(*view.at(point), radius * SCALE) for point, radius in hull] for hull in shape.hulls]
    tone = TONES[shape.tone]
    plate.blob(hulls, Look(fill=tone) if shape.tone == "club" else Look(fill=tone, edge=INK, width=EDGE_WIDTH))


def draw_member(plate: Plate, view: View, member: Member) -> None:
    """The shapes of a part of the player."""
    for shape in member.shapes:
        draw_shape(plate, view, shape)


def extent(plate: Plate) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of what is drawn, with its edges."""
    xs: list[float] = []
    ys: list[float] = []
    for part in plate.drawn:
        wide = 0.0 if not isinstance(part, Way | Disc | Blob) else part.look.width / 2
        for (x, y), r in _spots(part):
            xs += [x - r - wide, x + r + wide]
            ys += [y - r - wide, y + r + wide]
    return min(xs), min(ys), max(xs), max(ys)


def _spots(part: object) -> list[tuple[Point, float]]:
    if isinstance(part, Way):
        return [(place, 0.0) for place in part.places]
    if isinstance(part, Disc):
        return [(part.centre, part.radius)]
    if isinstance(part, Blob):
        return [(arc.centre, arc.radius) for arcs in part.outlines for arc in arcs]
    return []


def moved(plate: Plate, right: float, up: float, width: float, height: float) -> Plate:
    """What is on the plate, moved, on a plate of another size."""

    def to(place: Point) -> Point:
        return place[0] + right, place[1] + up

    made = Plate.blank(width, height)
    for part in plate.drawn:
        if isinstance(part, Way):
            made.drawn.append(replace(part, places=tuple(map(to, part.places))))
        elif isinstance(part, Disc):
            made.drawn.append(replace(part, centre=to(part.centre)))
        elif isinstance(part, Blob):
            arcs = tuple(
                tuple(arc._replace(centre=to(arc.centre), start=to(arc.start), end=to(arc.end)) for arc in outline)
                for outline in part.outlines
            )
            made.drawn.append(replace(part, outlines=arcs))
    return made
