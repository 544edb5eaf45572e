"""Stills as pages need them: upright, cut to the player, at one scale, with the lines that belong to the findings."""

from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import NamedTuple

from PIL import Image

from reportgen.drawing.strokes import draw_strokes
from reportgen.drawing.style import PAPER
from reportgen.records.report import Shot
from reportgen.sheets.pictures import BrokenPictureError, opened_picture, orientation, strictly

LONGEST_SIDE = 1200
"""Pixels of a picture without a scale: it stands at most 300 CSS pixels wide, and screens draw up to three for one."""

PX_PER_M = 380.0
"""The scale of every picture that has one, so that two side by side can be held against each other."""

_MOST = (0.82, 0.98, 0.82, 1.24)
"""Metres kept at most around the middle between the hips, to the left, above, to the right and below: they take in the
player and a club at any checkpoint."""

_LEAST = 0.1
"""Metres across and up below which nothing can be seen of a player."""

_UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What makes a picture upright, by how it lies (EXIF 2.3, tag 274)."""


@dataclass(frozen=True)
class Photo:
    """A picture as it is published: its file name, bytes and pixels."""

    file: str
    data: bytes
    width: int
    height: int


class Reach(NamedTuple):
    """What is kept of a picture around the middle between the hips, in metres each way."""

    left: float
    above: float
    right: float
    below: float


def reach_of(shot: Shot) -> Reach | None:
    """What a picture shows around the player, up to what a page needs; None where it has no hips, or no scale or one
    by which hardly anything of a player would be in it."""
    if not shot.px_per_m or shot.centre is None:
        return None
    (x, y), (width, height) = shot.centre, shot.size
    there = (pixels / shot.px_per_m for pixels in (x, y, width - x, height - y))
    return _enough(Reach(*(max(0.0, min(kept, most)) for kept, most in zip(there, _MOST, strict=True))))


def in_both(one: Shot, other: Shot) -> Reach | None:
    """What both pictures show around the player, so that they come out of one size, with the hips in one place."""
    first, second = reach_of(one), reach_of(other)
    if first is None or second is None:
        return None
    return _enough(Reach(*map(min, first, second)))


def _enough(reach: Reach) -> Reach | None:
    return reach if min(reach.left + reach.right, reach.above + reach.below) > _LEAST else None


def photo_name(source: Path, shot: Shot, reach: Reach | None = None) -> str:
    """The name of what `photo` makes of the same, without its suffix. It is made from everything that the photo is made
    from, so it says nothing, and is known before there is a photo."""
    # What is said beside a picture does not change it: a later lesson shows it again under other words.
    seen = shot.model_copy(update={"file": "", "caption": "", "alt": ""}).model_dump_json()
    return sha256(f"{sha256(source.read_bytes()).hexdigest()} {seen} {reach}".encode()).hexdigest()[:16]


def photo(source: Path, shot: Shot, reach: Reach | None = None) -> Photo:
    """The picture in `source` with the strokes of `shot`.

    Turned upright by its EXIF note and stripped of all notes, place and time among them. With a scale it is cut to the
    player (to `reach`, where it is given) and brought to PX_PER_M; without one it is made no longer than LONGEST_SIDE.
    Raises BrokenPictureError, OSError.
    """
    picture, drawn = _unpacked(source)
    kept = reach or reach_of(shot)
    left, top, right, bottom = _window(shot, picture.size, kept)
    factor = _factor(shot, (right - left, bottom - top), kept is not None)
    size = (max(1, round((right - left) * factor)), max(1, round((bottom - top) * factor)))
    shown = picture.resize(size, Image.Resampling.LANCZOS, box=(left, top, right, bottom), reducing_gap=3.0)
    data, suffix = _encoded(draw_strokes(shown, shot.strokes, (left, top), factor), drawn)
    return Photo(f"{photo_name(source, shot, reach)}.{suffix}", data, *size)


def _unpacked(source: Path) -> tuple[Image.Image, bool]:
    """The picture, upright and without notes, and whether it is a drawing."""
    try:
        with strictly(), opened_picture(source) as opened:
            upright = _UPRIGHT.get(orientation(opened))
            return _plain(opened if upright is None else opened.transpose(upright)), opened.format == "PNG"
    except Exception as error:
        if isinstance(error, OSError) and error.errno is not None:
            raise  # the disk's, not the picture's
        raise BrokenPictureError(source) from error


def made_before(name: str, pictures: Mapping[str, bytes]) -> Photo | None:
    """The photo of that name among the `pictures` that were made before, by file name."""
    for file in (f"{name}.jpg", f"{name}.png"):
        if file in pictures:
            with opened_picture(BytesIO(pictures[file])) as opened:
                return Photo(file, pictures[file], *opened.size)
    return None


def _plain(picture: Image.Image) -> Image.Image:
    """The picture without notes, on paper where it lets something through."""
    if picture.has_transparency_data:
        seen = picture.convert("RGBA")
        plain = Image.alpha_composite(Image.new("RGBA", seen.size, PAPER), seen).convert("RGB")
    else:
        plain = picture.convert("RGB")
    plain.info.clear()  # a comment or profile in it would be written out again
    return plain


def _window(shot: Shot, size: tuple[int, int], reach: Reach | None) -> tuple[float, float, float, float]:
    """What is kept of the picture, in its pixels: left, top, right, bottom."""
    if reach is None or shot.px_per_m is None or shot.centre is None:
        return 0.0, 0.0, float(size[0]), float(size[1])
    (x, y), (left, above, right, below) = shot.centre, (metres * shot.px_per_m for metres in reach)
    return max(0.0, x - left), max(0.0, y - above), min(size[0], x + right), min(size[1], y + below)


def _factor(shot: Shot, kept: tuple[float, float], to_scale: bool) -> float:
    limit = LONGEST_SIDE / max(kept)
    return min(PX_PER_M / shot.px_per_m if to_scale and shot.px_per_m else 1.0, limit)


def _encoded(picture: Image.Image, drawn: bool) -> tuple[bytes, str]:
    """PNG for a drawing of few colours, JPEG for a photograph."""
    out = BytesIO()
    if drawn and picture.getcolors(6000) is not None:
        picture.quantize(96, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
        return out.getvalue(), "png"
    picture.save(out, "JPEG", quality=82, optimize=True)
    return out.getvalue(), "jpg"
