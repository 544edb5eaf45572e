"""Lines and values on a picture, drawn to read on bright and dark ones: each with a rim in the colour of the paper."""

from collections.abc import Sequence
from functools import lru_cache
from math import hypot

from PIL import Image, ImageDraw, ImageFont

from reportgen.drawing.letters import face_path
from reportgen.drawing.placing import Box, free_place
from reportgen.drawing.style import COLOURS, MUTED, PAPER
from reportgen.records.base import Pixel
from reportgen.records.told_swings import ToldStroke

_FINE = 3
"""Drawn so many times larger and scaled down, for smooth edges."""
_WIDTH, _RIM, _THIN = 4.6, 2.4, 2.4
_LETTERS = 25
_GAP = 6.0


def draw_strokes(picture: Image.Image, strokes: Sequence[ToldStroke], origin: Pixel, factor: float) -> Image.Image:
    """The picture with its strokes; `origin` is its left top corner in the strokes' pixels, `factor` the scale."""
    if not strokes:
        return picture
    sheet = Image.new("RGBA", (picture.width * _FINE, picture.height * _FINE), (0, 0, 0, 0))
    pen = ImageDraw.Draw(sheet)

    def placed(stroke: ToldStroke) -> list[Pixel]:
        return [((x - origin[0]) * factor, (y - origin[1]) * factor) for x, y in stroke.points]

    references = [s for s in strokes if s.kind in ("before", "plumb")]
    for stroke in references:
        _dashed(pen, placed(stroke))
    for stroke in strokes:
        if stroke not in references:
            _line(pen, placed(stroke), COLOURS[stroke.verdict])
    taken: list[Box] = []
    for stroke in strokes:
        if stroke.says:
            lines = [placed(other) for other in strokes]
            _label(pen, stroke.says, placed(stroke), COLOURS[stroke.verdict], picture.size, taken, lines)
    shown = picture.convert("RGBA")
    shown.alpha_composite(sheet.resize(picture.size, Image.Resampling.BOX))
    return shown.convert("RGB")


def _line(pen: ImageDraw.ImageDraw, points: list[Pixel], colour: str) -> None:
    fine = [(x * _FINE, y * _FINE) for x, y in points]
    for fill, more in ((PAPER, _RIM), (colour, 0.0)):
        width = round((_WIDTH + 2 * more) * _FINE)
        if len(fine) > 1:
            pen.line(fine, fill=fill, width=width, joint="curve")
        for x, y in fine:
            radius = (_WIDTH * 1.25 + more) * _FINE
            pen.ellipse((x - radius, y - radius, x + radius, y + radius), fill=fill)


def _dashed(pen: ImageDraw.ImageDraw, points: list[Pixel], dash: float = 11.0) -> None:
    (x0, y0), (x1, y1) = points[0], points[-1]
    length = hypot(x1 - x0, y1 - y0) or 1.0
    at = 0.0
    while at < length:
        ends = [at / length, min(at + dash, length) / length]
        piece = [((x0 + (x1 - x0) * t) * _FINE, (y0 + (y1 - y0) * t) * _FINE) for t in ends]
        for fill, more in ((PAPER, 1.2), (MUTED, 0.0)):
            pen.line(piece, fill=fill, width=round((_THIN + 2 * more) * _FINE))
        at += dash * 1.8


def _label(
    pen: ImageDraw.ImageDraw,
    text: str,
    points: list[Pixel],
    colour: str,
    size: tuple[int, int],
    taken: list[Box],
    lines: Sequence[Sequence[Pixel]],
) -> None:
    """The value on a slip of paper as near to its line as may be: inside the picture, over no line and no other slip.
    Where there is no such place it stands in the corner."""
    face = _face(_LETTERS * _FINE)
    left, top, right, bottom = (edge / _FINE for edge in pen.textbbox((0, 0), text, font=face))
    width, height = right - left + 2 * _GAP, bottom - top + 2 * _GAP
    found = free_place((width, height), points, lines, taken, size, _GAP + _WIDTH)
    box = found or (2.0, 2.0, 2 + width, 2 + height)
    taken.append(box)
    pen.rounded_rectangle([edge * _FINE for edge in box], radius=3 * _FINE, fill=PAPER)
    pen.text(((box[0] + _GAP - left) * _FINE, (box[1] + _GAP - top) * _FINE), text, font=face, fill=colour)


@lru_cache
def _face(size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(face_path("semibold")), size)
