"""A plate to draw a chart on, in points from its lower left corner: shapes and lines of text."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import Literal

from reportgen.drawing.hulls import Arc, Spot, outline
from reportgen.drawing.letters import Weight, text_width
from reportgen.drawing.style import COLOURS, CORNERS, DISCS, MUTED, PAPER
from reportgen.records.words import Verdict

Point = tuple[float, float]
Cap = Literal["butt", "round"]
Side = Literal["left", "right", "top", "bottom"]
Align = Literal["left", "center", "right"]

_ARROWS: dict[Side, tuple[Point, ...]] = {
    "right": ((-4.2, -2.6), (0, 0), (-4.2, 2.6)),
    "left": ((4.2, -2.6), (0, 0), (4.2, 2.6)),
    "top": ((-2.6, -4.2), (0, 0), (2.6, -4.2)),
    "bottom": ((-2.6, 4.2), (0, 0), (2.6, 4.2)),
}


@dataclass(frozen=True)
class Look:
    """Colours of a shape, the width of its edge and the dashes of it in points; `alpha` is its opacity."""

    fill: str = "none"
    edge: str = "none"
    width: float = 0
    alpha: float = 1
    dashes: tuple[float, ...] = ()
    cap: Cap = "butt"


@dataclass(frozen=True)
class Way:
    """A line through places, closed or open. `curved`: after the first place come threes, the two handles and the end
    of a cubic Bézier curve."""

    places: tuple[Point, ...]
    look: Look
    closed: bool = False
    curved: bool = False
    verdict: Verdict | None = None
    """Of which verdict it is the mark."""


@dataclass(frozen=True)
class Disc:
    """A circle."""

    centre: Point
    radius: float
    look: Look
    verdict: Verdict | None = None
    """Of which verdict it is the mark."""


@dataclass(frozen=True)
class Blob:
    """Outlines of discs that overlap, drawn as one shape with one edge round all of them."""

    outlines: tuple[tuple[Arc, ...], ...]
    look: Look


@dataclass(frozen=True)
class Label:
    """One line of text in the label face; `x` is where it begins, its middle or its end."""

    x: float
    baseline: float
    text: str
    size: float
    colour: str
    weight: Weight
    align: Align


def ring_part(x: float, y: float, inner: float, outer: float, first: float, last: float) -> tuple[Point, ...]:
    """The corners of the part of a ring about (x, y) from angle `first` to `last`, degrees counter-clockwise."""
    steps = 1 + int(abs(last - first) / 4)
    angles = [radians(first + (last - first) * step / steps) for step in range(steps + 1)]
    ways = [(outer, angle) for angle in angles] + [(inner, angle) for angle in angles[::-1]]
    return tuple((x + away * cos(angle), y + away * sin(angle)) for away, angle in ways)


@dataclass(frozen=True)
class Plate:
    """A picture of that size in points, and what is on it, each part over those before it."""

    width: float
    height: float
    drawn: list[Way | Disc | Blob | Label]

    @classmethod
    def blank(cls, width: float, height: float) -> "Plate":
        """An empty plate."""
        return cls(width, height, [])

    def line(
        self, places: Iterable[Point], colour: str, width: float, *, dashes: tuple[float, ...] = (), cap: Cap = "butt"
    ) -> None:
        """A line through the places, `width` points wide."""
        self.drawn.append(Way(tuple(places), Look(edge=colour, width=width, dashes=dashes, cap=cap)))

    def polygon(self, corners: Iterable[Point], look: Look) -> None:
        """A closed shape."""
        self.drawn.append(Way(tuple(corners), look, closed=True))

    def curve(self, places: Iterable[Point], colour: str, width: float) -> None:
        """A line of cubic Bézier curves: where it begins, then two handles and the end of each."""
        self.drawn.append(Way(tuple(places), Look(edge=colour, width=width), curved=True))

    def box(self, left: float, bottom: float, right: float, top: float, fill: str, alpha: float = 1) -> None:
        """A filled rectangle."""
        self.polygon([(left, bottom), (right, bottom), (right, top), (left, top)], Look(fill=fill, alpha=alpha))

    def fading_box(self, box: tuple[float, float, float, float], fill: str, *, over: float, toward: set[Side]) -> None:
        """A rectangle (left, bottom, right, top) that fades over `over` points on the sides named, to say that it goes
        on there."""
        left, bottom, right, top = box
        steps = 8 if toward else 0
        # Each box reaches one step less far than the one below it, so that no seam shows between them.
        for step in range(steps + 1):
            short = over * step / max(steps, 1)
            self.box(
                left + short * ("left" in toward),
                bottom + short * ("bottom" in toward),
                right - short * ("right" in toward),
                top - short * ("top" in toward),
                fill,
                alpha=1 if step == steps else 1 / (steps + 1 - step),
            )

    def mark(self, x: float, y: float, verdict: Verdict, scale: float = 1) -> None:
        """The mark of a verdict: filled disc, triangle up, triangle down, open diamond; a dot for not judged."""
        colour = COLOURS[verdict]
        look = Look(PAPER, colour, 1.5) if verdict == "too close to call" else Look(colour, PAPER, 0.8)
        if verdict in DISCS:
            self.drawn.append(Disc((x, y), DISCS[verdict] * scale, look, verdict))
            return
        corners = tuple((x + across * scale, y + up * scale) for across, up in CORNERS[verdict])
        self.drawn.append(Way(corners, look, closed=True, verdict=verdict))

    def blob(self, hulls: Iterable[Iterable[Spot]], look: Look) -> None:
        """The convex outlines of some discs each, as one shape. Where there are several, their edge goes below all, so
        that no part of it is seen inside."""
        outlines = tuple(tuple(outline(tuple(hull))) for hull in hulls)
        if len(outlines) > 1 and look.edge != "none":
            self.drawn.append(Blob(outlines, replace(look, fill="none", width=2 * look.width)))
            look = Look(fill=look.fill)
        self.drawn.append(Blob(outlines, look))

    def rings(self, places: Iterable[Point], size: float, colour: str, width: float, fill: str = PAPER) -> None:
        """Circles `size` points across at the places."""
        self.drawn.extend(Disc(place, size / 2, Look(fill, colour, width)) for place in places)

    def arrow_head(self, x: float, y: float, colour: str, toward: Side) -> None:
        """A small arrow head with its point at (x, y)."""
        self.polygon([(x + across, y + up) for across, up in _ARROWS[toward]], Look(fill=colour))

    def label(
        self,
        at: tuple[float, float],
        text: str,
        size: float,
        colour: str = MUTED,
        *,
        weight: Weight = "regular",
        align: Align = "left",
    ) -> None:
        """One line of text, by its x and its baseline; where it would leave the plate it stands at its edge."""
        x, baseline = at
        width = text_width(text, size, weight)
        left = x - _SHARES[align] * width
        if left < _EDGE:
            x, align = _EDGE, "left"
        elif left + width > self.width - _EDGE:
            x, align = self.width - _EDGE, "right"
        self.drawn.append(Label(x, baseline, text, size, colour, weight, align))


_SHARES: dict[Align, float] = {"left": 0.0, "center": 0.5, "right": 1.0}
_EDGE = 0.5


def beginning(label: Label) -> float:
    """Where a line of text begins, in points from the left edge of its plate."""
    return label.x - _SHARES[label.align] * text_width(label.text, label.size, label.weight)
