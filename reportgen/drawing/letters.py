"""The label face: how wide a line of text is, and its outline."""

from functools import lru_cache
from pathlib import Path
from typing import Literal

import font_source_sans_pro
import uharfbuzz

from reportgen.drawing.outlines import Command, Outline, Point, Row

Weight = Literal["regular", "semibold"]

_FILES = Path(font_source_sans_pro.__file__).parent / "files"
_FACES: dict[Weight, Path] = {
    "regular": _FILES / "SourceSansPro-Regular.ttf",
    "semibold": _FILES / "SourceSansPro-Semibold.ttf",
}


def face_path(weight: Weight) -> Path:
    """The file of the label face."""
    return _FACES[weight]


def text_width(text: str, size: float, weight: Weight = "regular") -> float:
    """Width of one line of text in points."""
    _, across = _set(text, weight)
    return across * _points_per_unit(size, weight)


@lru_cache(maxsize=1024)
def text_row(text: str, size: float, weight: Weight) -> Row:
    """The outlines of one line of text that starts at (0, 0), in points; what leaves no mark is left out."""
    placed, _ = _set(text, weight)
    scale = _points_per_unit(size, weight)
    letters = ((_letter(glyph, size, weight), (x * scale, y * scale)) for glyph, x, y in placed)
    return Row(tuple((letter, place) for letter, place in letters if letter.commands))


@lru_cache(maxsize=2048)
def _set(text: str, weight: Weight) -> tuple[list[tuple[int, float, float]], float]:
    """The letters of a line with their places, and its width, in units of the face: set in pairs and joined as the face
    wants it, the same in every locale."""
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.direction, buffer.language = "ltr", "en"
    buffer.guess_segment_properties()
    uharfbuzz.shape(_font(weight), buffer)
    placed, across = [], 0.0
    for info, place in zip(buffer.glyph_infos, buffer.glyph_positions or (), strict=True):
        placed.append((info.codepoint, across + place.x_offset, float(place.y_offset)))
        across += place.x_advance
    return placed, across


@lru_cache(maxsize=2048)
def _letter(glyph: int, size: float, weight: Weight) -> Outline:
    pen = _Pen()
    _font(weight).draw_glyph_with_pen(glyph, pen)
    return Outline(tuple(pen.commands)).moved(0, 0, _points_per_unit(size, weight))


@lru_cache
def _font(weight: Weight) -> uharfbuzz.Font:
    return uharfbuzz.Font(uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(_FACES[weight]))))


def _points_per_unit(size: float, weight: Weight) -> float:
    units: int = _font(weight).face.upem
    return size / units


class _Pen:
    """What a glyph is drawn with; the names of the methods are the library's."""

    def __init__(self) -> None:
        self.commands: list[Command] = []

    def moveTo(self, place: Point) -> None:  # noqa: N802
        self.commands.append(("m", (place,)))

    def lineTo(self, place: Point) -> None:  # noqa: N802
        self.commands.append(("l", (place,)))

    def qCurveTo(self, *places: Point) -> None:  # noqa: N802
        self.commands.append(("q", places))

    def curveTo(self, *places: Point) -> None:  # noqa: N802
        self.commands.append(("c", places))

    def closePath(self) -> None:  # noqa: N802
        self.commands.append(("z", ()))
