"""The look of every chart: colours, the label face, the mark of each verdict, and a plate to draw on in points."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import cos, radians, sin
from typing import TYPE_CHECKING, Literal

from reportgen.drawing.letters import Weight, text_row, text_width
from reportgen.drawing.outlines import Outline, Point, Row
from reportgen.records.words import Verdict

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.path import Path

PAPER = "#fffdf8"
INK = "#22302f"
MUTED = "#5a6866"
RULE = "#cfcabb"
RANGE = "#dde7d9"
EDGE = "#7d9a82"
OUT = "#9c3a1f"
CLOSE = "#7a5c00"

COLOURS: dict[Verdict, str] = {
    "in range": INK,
    "above range": OUT,
    "below range": OUT,
    "too close to call": CLOSE,
    "no range": INK,
}

Cap = Literal["butt", "round"]
Side = Literal["left", "right", "top", "bottom"]

_K = 0.5522847498
_QUARTERS: tuple[tuple[Point, Point, Point], ...] = (
    ((1, _K), (_K, 1), (0, 1)),
    ((-_K, 1), (-1, _K), (-1, 0)),
    ((-1, -_K), (-_K, -1), (0, -1)),
    ((_K, -1), (1, -_K), (1, 0)),
)
_DISC = Outline((("m", ((1, 0),)), *(("c", quarter) for quarter in _QUARTERS), ("z", ())))
"""A circle of radius 1 as four Bézier curves, right to 0.03 %."""

_MARKS: dict[Verdict, Outline] = {
    "in range": _DISC.moved(0, 0, 3.5),
    "above range": Outline.polygon([(-4.1, -3.3), (4.1, -3.3), (0, 4.2)]),
    "below range": Outline.polygon([(-4.1, 3.3), (4.1, 3.3), (0, -4.2)]),
    "too close to call": Outline.polygon([(-4.2, 0), (0, 4.2), (4.2, 0), (0, -4.2)]),
    "no range": _DISC.moved(0, 0, 2.2),
}
_ARROWS: dict[Side, Outline] = {
    "right": Outline.polygon([(-4.2, -2.6), (0, 0), (-4.2, 2.6)]),
    "left": Outline.polygon([(4.2, -2.6), (0, 0), (4.2, 2.6)]),
    "top": Outline.polygon([(-2.6, -4.2), (0, 0), (2.6, -4.2)]),
    "bottom": Outline.polygon([(-2.6, 4.2), (0, 0), (2.6, 4.2)]),
}


def arc(x: float, y: float, inner: float, outer: float, first: float, last: float) -> Outline:
    """The part of a ring about (x, y) from angle `first` to `last`, degrees counter-clockwise."""
    steps = 1 + int(abs(last - first) / 4)
    angles = [radians(first + (last - first) * step / steps) for step in range(steps + 1)]
    ways = [(outer, angle) for angle in angles] + [(inner, angle) for angle in angles[::-1]]
    return Outline.polygon([(x + away * cos(angle), y + away * sin(angle)) for away, angle in ways])


@lru_cache(maxsize=256)
def _marks(verdict: Verdict, scale: float) -> Outline:
    return _MARKS[verdict].moved(0, 0, scale)


def _as_path(outline: Outline | Row, x: float, y: float) -> "Path":
    """An outline, its (0, 0) at (x, y), as the painter knows it."""
    from matplotlib.path import Path

    codes = {"m": Path.MOVETO, "l": Path.LINETO, "q": Path.CURVE3, "c": Path.CURVE4, "z": Path.CLOSEPOLY}
    drawn: list[tuple[Point, int]] = []
    start = (0.0, 0.0)
    for name, places in outline.moved(x, y).commands:
        start = places[0] if name == "m" else start
        drawn += [(place, int(codes[name])) for place in places or (start,)]
    return Path([place for place, _ in drawn], [code for _, code in drawn])


@dataclass(frozen=True)
class Shape:
    """An outline with its colours: its (0, 0) lies at (x, y) on the plate; widths and dashes in points.

    Letters, marks and arrow heads of one kind share their outline, so that it is put into words once.
    """

    outline: Outline | Row
    x: float
    y: float
    fill: str
    edge: str
    width: float
    alpha: float | None
    dashes: tuple[float, ...] | None
    cap: Cap
    gid: str | None


@dataclass(frozen=True)
class Plate:
    """A blank picture. All is placed in points from the lower left corner, and covers what was drawn before it.

    It has no axes, and letters are outlines like everything else: the machinery of axes, ticks and text objects would
    be nearly all the cost of so small a chart. `gid` of a label is its text, `gid` of a mark its verdict.
    """

    width: float
    height: float
    shapes: list[Shape]

    @classmethod
    def blank(cls, width: float, height: float) -> "Plate":
        """An empty plate of that size in points."""
        return cls(width, height, [])

    @property
    def figure(self) -> "Figure":
        """The plate as a figure, to be painted in pixels."""
        from matplotlib.figure import Figure
        from matplotlib.patches import PathPatch
        from matplotlib.transforms import Affine2D

        figure = Figure(figsize=(self.width / 72, self.height / 72), frameon=False)
        points = Affine2D().scale(1 / 72) + figure.dpi_scale_trans
        for shape in self.shapes:
            figure.add_artist(
                PathPatch(
                    _as_path(shape.outline, shape.x, shape.y),
                    facecolor=shape.fill,
                    edgecolor=shape.edge,
                    linewidth=shape.width,
                    linestyle="-" if shape.dashes is None else (0, tuple(d / shape.width for d in shape.dashes)),
                    capstyle=shape.cap,
                    joinstyle="round",
                    alpha=shape.alpha,
                    gid=shape.gid,
                    transform=points,
                )
            )
        return figure

    def shape(
        self,
        outline: Outline | Row,
        x: float = 0,
        y: float = 0,
        *,
        fill: str = "none",
        edge: str = "none",
        width: float = 0,
        alpha: float | None = None,
        dashes: tuple[float, ...] | None = None,
        cap: Cap = "butt",
        gid: str | None = None,
    ) -> None:
        """A filled or outlined shape, its (0, 0) at (x, y)."""
        self.shapes.append(Shape(outline, x, y, fill, edge, width, alpha, dashes, cap, gid))

    def line(
        self,
        places: Sequence[Point],
        colour: str,
        width: float,
        *,
        dashes: tuple[float, ...] | None = None,
        cap: Cap = "butt",
    ) -> None:
        """A line through the places, `width` points wide."""
        self.shape(Outline.line(places), edge=colour, width=width, dashes=dashes, cap=cap)

    def box(self, left: float, bottom: float, right: float, top: float, fill: str, alpha: float | None = None) -> None:
        """A filled rectangle."""
        corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
        self.shape(Outline.polygon(corners), fill=fill, alpha=alpha)

    def fading_box(
        self, left: float, bottom: float, right: float, top: float, fill: str, *, over: float, toward: set[Side]
    ) -> None:
        """A rectangle that fades over `over` points on the sides named, to say that it goes on there."""
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
                alpha=None if step == steps else 1 / (steps + 1 - step),
            )

    def mark(self, x: float, y: float, verdict: Verdict, scale: float = 1) -> None:
        """The mark of a verdict: filled disc, triangle up, triangle down, open diamond; a dot for no range."""
        outline, colour = _marks(verdict, scale), COLOURS[verdict]
        if verdict == "too close to call":
            self.shape(outline, x, y, fill=PAPER, edge=colour, width=1.5, gid=verdict)
        else:
            self.shape(outline, x, y, fill=colour, edge=PAPER, width=0.8, gid=verdict)

    def rings(self, places: Iterable[Point], size: float, colour: str, width: float, fill: str = PAPER) -> None:
        """Circles `size` points across at the places."""
        outline = Outline.of(_DISC.moved(x, y, size / 2) for x, y in places)
        self.shape(outline, fill=fill, edge=colour, width=width)

    def arrow_head(self, x: float, y: float, colour: str, toward: Side) -> None:
        """A small arrow head with its point at (x, y)."""
        self.shape(_ARROWS[toward], x, y, fill=colour)

    def label(
        self,
        x: float,
        baseline: float,
        text: str,
        size: float,
        colour: str = MUTED,
        *,
        weight: Weight = "regular",
        align: Literal["left", "center", "right"] = "left",
    ) -> None:
        """One line of text; it moves sideways as far as it must to stay on the plate."""
        width = text_width(text, size, weight)
        left = x - {"left": 0.0, "center": 0.5, "right": 1.0}[align] * width
        left = max(0.5, min(left, self.width - width - 0.5))
        self.shape(text_row(text, size, weight), left, baseline, fill=colour, gid=text)
