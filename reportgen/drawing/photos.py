"""Stills as pages need them: upright, cut to the player, at one scale, with the lines that belong to the findings."""

from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import file_digest, sha256
from io import BytesIO
from pathlib import Path
from typing import NamedTuple

from PIL import Image

from reportgen.drawing.strokes import draw_strokes
from reportgen.drawing.unpacking import Box, unpacked
from reportgen.records.told import ToldStill
from reportgen.sheets.picture_files import opened_picture, picture_size

LONGEST_SIDE = 1200
"""Pixels of a picture without a scale: it stands at most 300 CSS pixels wide, and screens draw up to three for one."""

LONGEST_DRILL = 800
"""The same of a picture of a drill, which stands beside two others."""

PX_PER_M = 380.0
"""The scale of every picture that has one, so that two side by side can be held against each other."""

_MOST = (0.82, 0.98, 0.82, 1.24)
"""Metres kept at most around the middle between the hips, to the left, above, to the right and below: they take in the
player and a club at any checkpoint."""

_QUALITY = 72
"""Of a JPEG: at twice the pixels that a page needs nobody sees more, and all pictures of a lesson stay light."""

_LEAST = 0.1
"""Metres across and up below which nothing can be seen of a player."""


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


def reach_of(still: ToldStill) -> Reach | None:
    """What a picture shows around the player, up to what a page needs; None where it has no hips, or no scale or one
    by which hardly anything of a player would be in it."""
    if not still.px_per_m or still.centre is None:
        return None
    (x, y), (width, height) = still.centre, still.size
    there = (pixels / still.px_per_m for pixels in (x, y, width - x, height - y))
    return _enough(Reach(*(max(0.0, min(kept, most)) for kept, most in zip(there, _MOST, strict=True))))


def in_both(one: ToldStill, other: ToldStill) -> Reach | None:
    """What both pictures show around the player, so that they come out of one size, with the hips in one place."""
    first, second = reach_of(one), reach_of(other)
    if first is None or second is None:
        return None
    return _enough(Reach(*map(min, first, second)))


def _enough(reach: Reach) -> Reach | None:
    return reach if min(reach.left + reach.right, reach.above + reach.below) > _LEAST else None


def photo_name(source: Path, still: ToldStill, reach: Reach | None = None) -> str:
    """The name of what `photo` makes of the same, without its suffix. It is made from everything that the photo is made
    from, so it says nothing, and is known before there is a photo."""
    # What is said beside a picture does not change it: a later lesson shows it again under other words.
    strokes = [(stroke.kind, stroke.points, stroke.says, stroke.verdict) for stroke in still.strokes]
    seen = (still.size, still.px_per_m, still.centre, strokes)
    with source.open("rb") as file:
        content = file_digest(file, "sha256").hexdigest()
    return sha256(f"{content} {seen} {reach}".encode()).hexdigest()[:16]


def photo(source: Path, still: ToldStill, reach: Reach | None = None) -> Photo:
    """The picture in `source` with the strokes of `still`.

    Turned upright by its EXIF note and stripped of all notes, place and time among them. With a scale it is cut to the
    player (to `reach`, where it is given) and brought to PX_PER_M; without one it is made no longer than LONGEST_SIDE.
    Raises BrokenPictureError, OSError.
    """
    kept = reach or reach_of(still)
    part = _part(still, kept)
    wide, high = part.right - part.left, part.bottom - part.top
    factor = _factor(still, (wide, high), kept is not None)
    size = (max(1, round(wide * factor)), max(1, round(high * factor)))
    shown, drawn = unpacked(source, part, size)
    data, suffix = _encoded(draw_strokes(shown, still.strokes, (part.left, part.top), factor), drawn)
    return Photo(f"{photo_name(source, still, reach)}.{suffix}", data, *size)


def drill_photo(source: Path) -> Photo:
    """The whole picture of a drill in `source`, upright and stripped of all notes, no longer than LONGEST_DRILL. Its
    name is made from what it holds. Raises BrokenPictureError, OSError."""
    width, height = picture_size(source)
    factor = min(1.0, LONGEST_DRILL / max(width, height))
    size = (max(1, round(width * factor)), max(1, round(height * factor)))
    shown, drawn = unpacked(source, Box(0.0, 0.0, float(width), float(height)), size)
    data, suffix = _encoded(shown, drawn)
    return Photo(f"{sha256(data).hexdigest()[:16]}.{suffix}", data, *size)


def made_before(name: str, pictures: Mapping[str, bytes]) -> Photo | None:
    """The photo of that name among the `pictures` that were made before, by file name."""
    for file in (f"{name}.jpg", f"{name}.png"):
        if file in pictures:
            with opened_picture(BytesIO(pictures[file])) as opened:
                return Photo(file, pictures[file], *opened.size)
    return None


def _part(still: ToldStill, reach: Reach | None) -> Box:
    """What is kept of the picture."""
    width, height = still.size
    if reach is None or still.px_per_m is None or still.centre is None:
        return Box(0.0, 0.0, float(width), float(height))
    (x, y), (left, above, right, below) = still.centre, (metres * still.px_per_m for metres in reach)
    return Box(max(0.0, x - left), max(0.0, y - above), min(width, x + right), min(height, y + below))


def _factor(still: ToldStill, kept: tuple[float, float], to_scale: bool) -> float:
    limit = LONGEST_SIDE / max(kept)
    return min(PX_PER_M / still.px_per_m if to_scale and still.px_per_m else 1.0, limit)


def _encoded(picture: Image.Image, drawn: bool) -> tuple[bytes, str]:
    """PNG for a drawing of few colours, JPEG for a photograph."""
    out = BytesIO()
    if drawn and picture.getcolors(6000) is not None:
        picture.quantize(96, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
        return out.getvalue(), "png"
    picture.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue(), "jpg"
