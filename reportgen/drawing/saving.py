"""From a drawn plate to SVG text, PDF operators or PNG bytes: small, the same every time, and readable without eyes."""

import io
from dataclasses import dataclass, field
from html import escape

from reportgen.drawing.outlines import hundredths
from reportgen.drawing.style import PAPER, Plate, Shape


@dataclass(frozen=True)
class Drawing:
    """A chart as a stand-alone SVG document, with full sentences (`alt`) that say what it shows; size in points."""

    svg: str
    alt: str
    width_pt: float
    height_pt: float
    plate: Plate = field(repr=False, compare=False)


def to_drawing(plate: Plate, alt: str) -> Drawing:
    """The plate as SVG, with `alt` as its title."""
    return Drawing(to_svg(plate, alt), alt, plate.width, plate.height, plate)


def to_svg(plate: Plate, alt: str) -> str:
    """The plate as SVG text, fit for a file of its own and for the inside of a page.

    It is a list of paths without any id, so that pictures on one page cannot take each other's parts. Colours stand in
    attributes, not in `style`: a page can change them (for a dark scheme) and may forbid inline style. Places are in
    hundredths of a point.
    """
    paths = "".join(_svg_path(shape, round(plate.height * 100)) for shape in plate.shapes)
    size = f'width="{plate.width:g}pt" height="{plate.height:g}pt" viewBox="0 0 {plate.width:g} {plate.height:g}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size} stroke-linejoin="round">'
        f"<title>{escape(alt, quote=False)}</title>{paths}</svg>\n"
    )


def to_pdf_operators(plate: Plate) -> list[tuple[float, str]]:
    """The plate as PDF content: pairs of the opacity of fills and the operators that are painted with it.

    The unit is a hundredth of a point, the origin the plate's upper left corner, the second coordinate downward.
    """
    parts: list[tuple[float, list[str]]] = []
    for shape in plate.shapes:
        opacity = 1.0 if shape.alpha is None else shape.alpha
        if not parts or parts[-1][0] != opacity:
            parts.append((opacity, []))
        parts[-1][1].append(_pdf_path(shape, round(plate.height * 100)))
    return [(opacity, "\n".join(painted)) for opacity, painted in parts]


def to_png(plate: Plate, pixels_per_point: float = 2) -> bytes:
    """The plate as PNG on paper colour, for readers that show no SVG and may be dark around it."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    written = io.BytesIO()
    figure = plate.figure
    figure.set_frameon(True)
    figure.set_facecolor(PAPER)
    figure.set_dpi(72 * pixels_per_point)
    FigureCanvasAgg(figure).print_png(written, metadata={"Software": None})  # type: ignore[no-untyped-call]
    return written.getvalue()


def _svg_path(shape: Shape, height: int) -> str:
    (x, y), way = shape.outline.svg_way
    x, y = x + round(shape.x * 100), y + height - round(shape.y * 100)
    begin = f"m{hundredths(x)} {hundredths(y)}".replace(" -", "-")
    looks = f'fill="{shape.fill}"'
    if shape.alpha is not None:
        looks += f' opacity="{shape.alpha:.6g}"'
    if shape.dashes is not None:
        looks += f' stroke-dasharray="{",".join(f"{dash:g}" for dash in shape.dashes)}"'
    if shape.edge != "none":
        looks += f' stroke="{shape.edge}"'
        if shape.width != 1:
            looks += f' stroke-width="{shape.width:g}"'
        if shape.cap != "butt":
            looks += f' stroke-linecap="{shape.cap}"'
    return f'<path d="{begin}{way}" {looks}/>'


def _pdf_path(shape: Shape, height: int) -> str:
    painted = {(True, False): "f", (False, True): "S", (True, True): "B"}[shape.fill != "none", shape.edge != "none"]
    looks = []
    if shape.fill != "none":
        looks.append(f"{_rgb(shape.fill)} rg")
    if shape.edge != "none":
        dashes = " ".join(f"{dash * 100:g}" for dash in shape.dashes or ())
        cap = {"butt": 0, "round": 1}[shape.cap]
        looks.append(f"{_rgb(shape.edge)} RG {shape.width * 100:g} w {cap} J 1 j [{dashes}] 0 d")
    place = f"1 0 0 1 {round(shape.x * 100)} {height - round(shape.y * 100)} cm"
    return "\n".join(["q", *looks, place, shape.outline.pdf_way, painted, "Q"])


def _rgb(colour: str) -> str:
    """`#dde7d9` as PDF says it."""
    return " ".join(f"{int(colour[at : at + 2], 16) / 255:.4g}" for at in (1, 3, 5))
