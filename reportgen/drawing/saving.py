"""From a drawn plate to SVG text or PNG bytes: small, the same every time, and readable without eyes."""

import io
import re
from dataclasses import dataclass
from functools import lru_cache
from xml.sax.saxutils import escape

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_svg import FigureCanvasSVG

from reportgen.drawing.style import PAPER, Plate

_PATH = re.compile(r'<path d="([^"]*)"[^>]*?(?: style="([^"]*)")?/>')
_PLACES_OF = {"M": 1, "L": 1, "Q": 2, "C": 3}
"""How many places each command of a path takes."""


@dataclass(frozen=True)
class Drawing:
    """A chart as a stand-alone SVG document, with full sentences (`alt`) that say what it shows; size in points."""

    svg: str
    alt: str
    width_pt: float
    height_pt: float


def to_drawing(plate: Plate, alt: str) -> Drawing:
    """The plate as SVG, with `alt` as its title."""
    return Drawing(to_svg(plate, alt), alt, plate.width, plate.height)


def to_svg(plate: Plate, alt: str) -> str:
    """The plate as SVG text, fit for a file of its own and for the inside of a page.

    It is a list of paths without any id, so that pictures on one page cannot take each other's parts. Colours stand in
    attributes, not in `style`: a page can change them (for a dark scheme) and may forbid inline style.
    """
    written = io.StringIO()
    FigureCanvasSVG(plate.figure).print_svg(written)  # type: ignore[no-untyped-call]
    # Only its paths are taken over; nothing else that it writes shows, and all that differs from run to run is there.
    paths = "".join(_as_attributes(*found) for found in _PATH.findall(written.getvalue()))
    size = f'width="{plate.width:g}pt" height="{plate.height:g}pt" viewBox="0 0 {plate.width:g} {plate.height:g}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size} stroke-linejoin="round">'
        f"<title>{escape(alt)}</title>{paths}</svg>\n"
    )


def to_png(plate: Plate, pixels_per_point: float = 2) -> bytes:
    """The plate as PNG on paper colour, for readers that show no SVG and may be dark around it."""
    written = io.BytesIO()
    figure = plate.figure
    figure.set_frameon(True)
    figure.set_facecolor(PAPER)
    figure.set_dpi(72 * pixels_per_point)
    FigureCanvasAgg(figure).print_png(written, metadata={"Software": None})  # type: ignore[no-untyped-call]
    figure.set_frameon(False)
    return written.getvalue()


def _as_attributes(outline: str, style: str) -> str:
    pairs = (part.split(":", 1) for part in style.split(";") if "stroke-linejoin" not in part)
    return (
        f'<path d="{_relative(outline)}"'
        + "".join(f' {name.strip()}="{value.strip()}"' for name, value in pairs)
        + "/>"
    )


def _relative(outline: str) -> str:
    """The same outline in hundredths of a point and counted from the place before: half as long.

    Every place is rounded on its own before the differences are taken, so no error adds up.
    """
    written: list[str] = []
    tokens = iter(outline.split())
    x = y = start_x = start_y = 0
    for command in tokens:
        if command == "z":
            written.append("z")
            x, y = start_x, start_y
            continue
        steps: list[str] = []
        next_x, next_y = x, y
        for _ in range(_PLACES_OF[command]):
            next_x, next_y = round(float(next(tokens)) * 100), round(float(next(tokens)) * 100)
            steps += (_hundredths(next_x - x), _hundredths(next_y - y))
        # A minus sign parts two numbers as well as a space does.
        written.append(command.lower() + " ".join(steps).replace(" -", "-"))
        x, y = next_x, next_y
        if command == "M":
            start_x, start_y = x, y
    return "".join(written)


@lru_cache(maxsize=8192)
def _hundredths(count: int) -> str:
    """`-27` as `-.27`, `150` as `1.5`."""
    text = f"{abs(count) / 100:.2f}".rstrip("0").rstrip(".").removeprefix("0") or "0"
    return text if count >= 0 else f"-{text}"
