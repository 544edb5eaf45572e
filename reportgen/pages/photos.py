"""Pictures as pages need them: upright, no larger than they are shown, without what a camera wrote into them."""

from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from pathlib import Path

LONGEST_SIDE = 1200
"""Pixels: a picture stands at most 300 CSS pixels wide and 400 high, and screens draw up to three for one."""


@dataclass(frozen=True)
class Photo:
    """A picture as it is published: its file name, its bytes, and its size in pixels."""

    file: str
    data: bytes
    width: int
    height: int


def photo(source: Path) -> Photo:
    """The picture in `source`, turned upright by its EXIF note and stripped of all notes (place and time among them).

    Its name comes from its content, so that it says nothing and stays the same.
    """
    from PIL import Image, ImageOps

    with Image.open(source, formats=("PNG", "JPEG")) as opened:
        drawn = opened.format == "PNG"
        if not drawn:
            opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        upright = ImageOps.exif_transpose(opened)
        picture = upright.convert("RGB")
    picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    out = BytesIO()
    if drawn and picture.getcolors(4096) is not None:
        picture.quantize(64).save(out, "PNG", optimize=True)
    else:
        drawn = False
        picture.save(out, "JPEG", quality=82, optimize=True)
    data = out.getvalue()
    suffix = "png" if drawn else "jpg"
    return Photo(f"{sha256(data).hexdigest()[:16]}.{suffix}", data, picture.width, picture.height)
