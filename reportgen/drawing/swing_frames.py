"""Frames of a swing as pages need them: the packed picture without notes, a frame of it alone, and the lines of a
frame as SVG."""

from dataclasses import dataclass
from hashlib import sha256
from html import escape
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageOps

from reportgen.drawing.letters import text_width
from reportgen.drawing.photos import Photo
from reportgen.drawing.placing import Box, free_place
from reportgen.drawing.strokes import draw_strokes
from reportgen.records.pictures import DrawnSwing
from reportgen.records.told_swings import ToldStroke, ToldSwingMoment
from reportgen.sheets.picture_files import PACKED, BrokenPictureError, opened_picture, strictly

SMALLEST, LETTERS = 160.0, 13.0
"""CSS pixels of a frame's width where it is shown smallest, beside another on a phone, and of its letters."""
_TONES = {"in range": "in", "above range": "out", "below range": "out", "too close to call": "close"}
_NOTES = ("exif", "xmp", "comment", "photoshop", "XML:com.adobe.xmp")


@dataclass(frozen=True)
class PackedPicture:
    """The picture of all frames as it is published: file name, bytes, and pixels."""

    file: str
    data: bytes
    width: int
    height: int


def packed_picture(source: Path) -> PackedPicture:
    """The frames in `source` as they lie there, without a camera's notes; what has none is not packed again. The name
    is made from what it holds. Raises BrokenPictureError, OSError."""
    data = source.read_bytes()
    try:
        with strictly(), opened_picture(source, PACKED) as opened:
            ending, size = ("webp" if opened.format == "WEBP" else "jpg"), opened.size
            if opened.getexif() or any(note in opened.info for note in _NOTES):
                bare, out = ImageOps.exif_transpose(opened).convert("RGB"), BytesIO()
                bare.info.clear()
                bare.save(out, opened.format, quality=82)
                data = out.getvalue()
    except Exception as error:
        raise _unless_the_disk(error, source) from error
    return PackedPicture(f"{sha256(data).hexdigest()[:16]}.{ending}", data, *size)


def frame_photos(source: Path, swing: DrawnSwing, wanted: tuple[ToldSwingMoment, ...], high: int) -> tuple[Photo, ...]:
    """The frames of some moments, each a picture of its own that is `high` pixels high, with its lines and without
    their values. Raises BrokenPictureError, OSError."""
    width, height = swing.size
    size = max(1, round(width * high / height)), high
    try:
        with strictly(), opened_picture(source, PACKED) as opened:
            whole = opened.convert("RGB")
    except Exception as error:
        raise _unless_the_disk(error, source) from error
    made = []
    for moment in wanted:
        left, top = moment.frame % swing.columns * width, moment.frame // swing.columns * height
        frame = whole.crop((left, top, left + width, top + height)).resize(size, Image.Resampling.LANCZOS)
        bare = [stroke.model_copy(update={"says": None}) for stroke in moment.strokes]
        out = BytesIO()
        draw_strokes(frame, bare, (0, 0), high / height).save(out, "JPEG", quality=74, optimize=True)
        made.append(Photo(f"{sha256(out.getvalue()).hexdigest()[:16]}.jpg", out.getvalue(), *size))
    return tuple(made)


def frame_lines(moment: ToldSwingMoment, size: tuple[int, int]) -> str:
    """The lines of a moment with their values as SVG inside a frame of `size`; every value has room at the smallest
    width at which frames are shown, and lies on no line. Nothing where there are none."""
    drawn = [_line(stroke) for stroke in sorted(moment.strokes, key=lambda one: one.kind not in ("before", "plumb"))]
    taken: list[Box] = []
    for stroke in moment.strokes:
        drawn.append(_value(stroke, moment.strokes, taken, size))
    return "".join(drawn)


def _line(stroke: ToldStroke) -> str:
    points = " ".join(f"{x:g},{y:g}" for x, y in stroke.points)
    if stroke.kind in ("before", "plumb"):
        return f'<polyline class="rim thin" points="{points}"/><polyline class="ref" points="{points}"/>'
    ends = "".join(f'<circle class="{_tone(stroke)}" cx="{x:g}" cy="{y:g}" r="5"/>' for x, y in stroke.points)
    line = f'<polyline class="rim" points="{points}"/><polyline class="line {_tone(stroke)}" points="{points}"/>'
    return (line if len(stroke.points) > 1 else "") + ends


def _value(stroke: ToldStroke, strokes: tuple[ToldStroke, ...], taken: list[Box], size: tuple[int, int]) -> str:
    if not stroke.says:
        return ""
    unit = size[0] / SMALLEST
    room = (text_width(stroke.says, LETTERS, "semibold") + 4) * unit, 1.3 * LETTERS * unit
    box = free_place(room, stroke.points, [one.points for one in strokes], taken, size, 4 * unit)
    if box is None:
        return ""
    taken.append(box)
    middle = sum(x for x, _ in stroke.points) / len(stroke.points)
    at_start = (box[0] + box[2]) / 2 >= middle
    x, anchor = (box[0], "start") if at_start else (box[2], "end")
    y = (box[1] + box[3]) / 2
    at = f'x="{x:.0f}" y="{y:.0f}" text-anchor="{anchor}" dominant-baseline="central"'
    said = escape(stroke.says)
    return f'<text class="halo" {at} aria-hidden="true">{said}</text><text class="{_tone(stroke)}" {at}>{said}</text>'


def _tone(stroke: ToldStroke) -> str:
    return _TONES.get(stroke.verdict, "in")


def _unless_the_disk(error: Exception, source: Path) -> Exception:
    """What to raise: an error of the disk as it is, anything else as a broken picture."""
    return error if isinstance(error, OSError) and error.errno is not None else BrokenPictureError(source)
