"""From a drawn plate to SVG that stands inside a page, or to pixels for mails: the same each time, and with words for
whoever does not see it."""

import io
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from reportgen.drawing.hulls import Arc
from reportgen.drawing.letters import face_path
from reportgen.drawing.plate import Align, Blob, Disc, Label, Look, Plate, Point, Way, beginning, ring_part
from reportgen.drawing.style import PAPER

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.patches import Patch
    from matplotlib.path import Path

FACE = "Label"
"""What styles of pages and recaps call the label face."""

_ANCHORS: dict[Align, str] = {"left": "", "center": ' text-anchor="middle"', "right": ' text-anchor="end"'}


@dataclass(frozen=True)
class Drawing:
    """A chart as SVG, with full sentences (`alt`) that say what it shows; size in points."""

    svg: str
    alt: str
    width_pt: float
    height_pt: float


def to_drawing(plate: Plate, alt: str) -> Drawing:
    """The plate as SVG, with `alt` as its title."""
    return Drawing(to_svg(plate, alt), alt, plate.width, plate.height)


def to_svg(plate: Plate, alt: str) -> str:
    """The plate as SVG text for the inside of a page, its letters in the page's own face.

    Places count from the left, also on a page that is read from the right. It has no id, so that pictures on one page
    cannot take each other's parts. Looks stand in attributes, not in `style`: a page can change them (for a dark
    scheme) and may forbid inline style.
    """
    parts = "".join(_svg_of(part, plate.height) for part in plate.drawn)
    size = f'width="{_number(plate.width)}pt" height="{_number(plate.height)}pt"'
    box = f'viewBox="0 0 {_number(plate.width)} {_number(plate.height)}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size} {box} font-family="{FACE}" '
        f'direction="ltr" stroke-linejoin="round"><title>{escape(alt, quote=False)}</title>{parts}</svg>\n'
    )


def _svg_of(part: Way | Disc | Blob | Label, height: float) -> str:
    if isinstance(part, Label):
        place = f'x="{_number(part.x)}" y="{_number(height - part.baseline)}"{_ANCHORS[part.align]}'
        weight = ' font-weight="600"' if part.weight == "semibold" else ""
        looks = f'font-size="{_number(part.size)}" fill="{part.colour}"{weight}'
        return f"<text {place} {looks}>{escape(part.text, quote=False)}</text>"
    if isinstance(part, Disc):
        x, y = part.centre
        place = f'cx="{_number(x)}" cy="{_number(height - y)}" r="{_number(part.radius)}"'
        return f"<circle {place} {_svg_look(part.look)}/>"
    if isinstance(part, Blob):
        return f'<path d="{"".join(_svg_arcs(arcs, height) for arcs in part.outlines)}" {_svg_look(part.look)}/>'
    first, *rest = (f"{_number(x)} {_number(height - y)}" for x, y in part.places)
    way = f"M{first}{'C' if part.curved else 'L'}{' '.join(rest)}{'Z' if part.closed else ''}"
    return f'<path d="{way}" {_svg_look(part.look)}/>'


def _svg_arcs(arcs: tuple[Arc, ...], height: float) -> str:
    """Each place as the way from the one before, in tenths of a point: that is short, and enough for a rounded limb."""
    x, y = (round(at, 1) for at in (arcs[0].start[0], height - arcs[0].start[1]))
    way = [f"M{_tenths(x)} {_tenths(y)}"]
    for number, arc in enumerate(arcs):
        for place, sign in (
            (arc.start, "l"),
            (arc.end, f"a{_tenths(arc.radius)} {_tenths(arc.radius)} 0 {arc.large:d}0"),
        ):
            across, down = round(place[0] - x, 1), round(height - place[1] - y, 1)
            if number == 0 and sign == "l":
                continue
            x, y = x + across, y + down
            way.append(f"{sign}{_tenths(across)}{'' if down < 0 else ' '}{_tenths(down)}")
    return "".join([*way, "z"])


def _tenths(value: float) -> str:
    """A length to a tenth of a point, as short as can be."""
    text = f"{round(value, 1) + 0.0:.1f}".rstrip("0").rstrip(".")
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text


def _svg_look(look: Look) -> str:
    looks = [f'fill="{look.fill}"']
    if look.alpha != 1:
        looks.append(f'opacity="{look.alpha:.4g}"')
    if look.edge != "none":
        looks += [f'stroke="{look.edge}"', f'stroke-width="{_number(look.width)}"']
    if look.dashes:
        looks.append(f'stroke-dasharray="{" ".join(map(_number, look.dashes))}"')
    if look.cap != "butt":
        looks.append(f'stroke-linecap="{look.cap}"')
    return " ".join(looks)


def _number(value: float) -> str:
    """A length in points, to a hundredth, and never a negative zero."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def to_figure(plate: Plate) -> "Figure":
    """The plate as a figure of matplotlib, an artist for each part of it."""
    from matplotlib.figure import Figure
    from matplotlib.transforms import Affine2D

    figure = Figure(figsize=(plate.width / 72, plate.height / 72), facecolor=PAPER)
    points = Affine2D().scale(1 / 72) + figure.dpi_scale_trans
    for part in plate.drawn:
        artist = _artist(part)
        artist.set_transform(points)
        figure.add_artist(artist)
    return figure


def _artist(part: Way | Disc | Blob | Label) -> "Patch":
    from matplotlib.font_manager import FontProperties
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path
    from matplotlib.textpath import TextPath

    if isinstance(part, Label):
        face = FontProperties(fname=str(face_path(part.weight)))
        letters = TextPath((beginning(part), part.baseline), part.text, size=part.size, prop=face)
        return PathPatch(letters, facecolor=part.colour, edgecolor="none", gid=part.text)
    if isinstance(part, Disc):
        outline = Path.circle(part.centre, part.radius)
    elif isinstance(part, Blob):
        outline = Path.make_compound_path(*(_path(_corners(arcs), False, True) for arcs in part.outlines))
    else:
        outline = _path(part.places, part.curved, part.closed)
    look = part.look
    return PathPatch(
        outline,
        facecolor=look.fill,
        edgecolor=look.edge,
        linewidth=look.width,
        linestyle=(0, tuple(dash / look.width for dash in look.dashes)) if look.dashes else "-",
        capstyle=look.cap,
        joinstyle="round",
        alpha=look.alpha,
        gid=None if isinstance(part, Blob) else part.verdict,
    )


def _corners(arcs: tuple[Arc, ...]) -> tuple[Point, ...]:
    """Places along an outline, a few degrees from each other."""
    rims = [ring_part(*arc.centre, arc.radius, arc.radius, *arc.turns) for arc in arcs]
    return tuple(place for rim in rims for place in rim[: len(rim) // 2])


def _path(places: tuple[Point, ...], curved: bool, closed: bool) -> "Path":
    from matplotlib.path import Path

    codes = [Path.MOVETO, *([Path.CURVE4 if curved else Path.LINETO] * (len(places) - 1))]
    return Path([*places, places[0]], [*codes, Path.CLOSEPOLY]) if closed else Path(places, codes)


def to_png(plate: Plate, pixels_per_point: float = 2) -> bytes:
    """The plate as PNG on paper colour, for readers that show no SVG and may be dark around it."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    written = io.BytesIO()
    figure = to_figure(plate)
    figure.set_dpi(72 * pixels_per_point)
    FigureCanvasAgg(figure).print_png(written, metadata={"Software": None})  # type: ignore[no-untyped-call]
    return written.getvalue()
