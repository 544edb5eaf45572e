"""A part of a picture file -> its pixels at the size that is published. A photograph is brought to size while it is
read, and of no picture more is unpacked or copied than that takes: a large one must not fill the memory."""

from math import ceil, floor
from pathlib import Path
from typing import NamedTuple

from PIL import Image

from reportgen.drawing.style import PAPER
from reportgen.sheets.picture_files import BrokenPictureError, opened_picture, orientation, strictly

_SPARE = 1.5
"""A photograph is read at no less than so many times the published size. The decoder averages what it brings together
(ITU-T T.81 leaves out the higher terms of each block of 8 × 8), and the last step to the size is one of Lanczos."""

_AROUND = 5
"""Pixels of the published picture around the part that is cut out: the last step looks at three on each side."""

_ROWS = 256
"""How many rows are laid on paper at once."""

UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What makes a picture upright, by how it lies (EXIF 2.3, tag 274)."""
_ON_ITS_SIDE = (5, 6, 7, 8)


class Box(NamedTuple):
    """A part of a picture, in pixels from its left top corner."""

    left: float
    top: float
    right: float
    bottom: float


def unpacked(source: Path, part: Box, size: tuple[int, int]) -> tuple[Image.Image, bool]:
    """The `part` of the picture in `source` (in pixels of the upright picture) at `size`, upright and without notes,
    and whether it is a drawing. Raises BrokenPictureError, OSError."""
    try:
        with strictly(), opened_picture(source) as opened:
            lies = orientation(opened)
            shown = _at_size(opened, _as_stored(part, lies, opened.size), size[::-1] if lies in _ON_ITS_SIDE else size)
            drawn = opened.format == "PNG"
    except Exception as error:
        if isinstance(error, OSError) and error.errno is not None:
            raise  # the disk's, not the picture's
        raise BrokenPictureError(source) from error
    return shown.transpose(UPRIGHT[lies]) if lies in UPRIGHT else shown, drawn


def _as_stored(part: Box, lies: int, stored: tuple[int, int]) -> Box:
    """The part in pixels of the picture as the file has it, `stored` wide and high."""
    width, height = stored
    left, top, right, bottom = part
    if lies in _ON_ITS_SIDE:
        left, top, right, bottom = top, left, bottom, right
    if lies in (2, 3, 7, 8):
        left, right = width - right, width - left
    if lies in (3, 4, 6, 7):
        top, bottom = height - bottom, height - top
    return Box(left, top, right, bottom)


def _at_size(opened: Image.Image, part: Box, size: tuple[int, int]) -> Image.Image:
    across, down = (part.right - part.left) / size[0], (part.bottom - part.top) / size[1]
    whole = opened.size
    opened.draft(opened.mode, (ceil(whole[0] / across * _SPARE), ceil(whole[1] / down * _SPARE)))
    smaller = round(whole[0] / opened.width)
    part = Box(*(value / smaller for value in part))
    margin = (ceil(across / smaller * _AROUND), ceil(down / smaller * _AROUND))
    left, top = max(0, floor(part.left) - margin[0]), max(0, floor(part.top) - margin[1])
    right, bottom = min(opened.width, ceil(part.right) + margin[0]), min(opened.height, ceil(part.bottom) + margin[1])
    cut = opened if (left, top, right, bottom) == (0, 0, *opened.size) else opened.crop((left, top, right, bottom))
    box = (part.left - left, part.top - top, min(part.right - left, cut.width), min(part.bottom - top, cut.height))
    shown = plain(cut).resize(size, Image.Resampling.LANCZOS, box=box, reducing_gap=3.0)
    shown.info.clear()  # a comment or profile in it would be written out again
    return shown


def plain(picture: Image.Image) -> Image.Image:
    """The picture in three colours of 8 bits, on paper where it lets something through."""
    if picture.mode.startswith("I"):  # grey of 16 bits, whose upper half would all become white
        picture = picture.point(lambda level: level * (255 / 65535)).convert("L")
        picture.info.pop("transparency", None)
    if picture.has_transparency_data:
        return _on_paper(picture)
    return picture if picture.mode == "RGB" else picture.convert("RGB")


def _on_paper(picture: Image.Image) -> Image.Image:
    plain = Image.new("RGB", picture.size)
    for top in range(0, picture.height, _ROWS):
        seen = picture.crop((0, top, picture.width, min(top + _ROWS, picture.height))).convert("RGBA")
        plain.paste(Image.alpha_composite(Image.new("RGBA", seen.size, PAPER), seen).convert("RGB"), (0, top))
    return plain
