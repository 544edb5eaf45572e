"""The label face: its files, and how wide a line of text is in it."""

from functools import lru_cache
from pathlib import Path
from typing import Literal

import font_source_sans_pro
import uharfbuzz

Weight = Literal["regular", "semibold"]

_FILES = Path(font_source_sans_pro.__file__).parent / "files"
_FACES: dict[Weight, Path] = {
    "regular": _FILES / "SourceSansPro-Regular.ttf",
    "semibold": _FILES / "SourceSansPro-Semibold.ttf",
}


def face_path(weight: Weight) -> Path:
    """The file of the label face."""
    return _FACES[weight]


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, weight: Weight = "regular") -> float:
    """Width of one line of text in points, set in pairs as browsers set it."""
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.direction, buffer.language = "ltr", "en"
    buffer.guess_segment_properties()
    font = _font(weight)
    uharfbuzz.shape(font, buffer)
    across = float(sum(place.x_advance for place in buffer.glyph_positions or ()))
    return across * size / float(font.face.upem)


@lru_cache
def _font(weight: Weight) -> uharfbuzz.Font:
    return uharfbuzz.Font(uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(_FACES[weight]))))
