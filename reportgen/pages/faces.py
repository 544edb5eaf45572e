"""The two text faces, cut down to the signs that European languages need, as WOFF2 for pages and as files for PDF."""

from functools import cache
from importlib import import_module
from io import BytesIO
from pathlib import Path

_SIGNS = (
    *range(0x20, 0x7F), *range(0xA0, 0x180), 0x192, 0x218, 0x219, 0x21A, 0x21B, *range(0x2C6, 0x2DE),
    *range(0x2010, 0x2027), 0x202F, 0x2030, 0x2032, 0x2033, 0x2039, 0x203A, 0x2044, 0x20AC, 0x2122,
    *range(0x2190, 0x2194), 0x2212, 0x2215, 0x221A, 0x2248, 0x2260, 0x2264, 0x2265,
    0x25A0, 0x25B2, 0x25B6, 0x25BC, 0x25C6, 0x25C7, 0x25CB, 0x25CF,
)  # fmt: skip

FACES = {
    "text-regular": ("font_source_serif_pro", "SourceSerifPro-Regular"),
    "text-italic": ("font_source_serif_pro", "SourceSerifPro-It"),
    "text-semibold": ("font_source_serif_pro", "SourceSerifPro-Semibold"),
    "label-regular": ("font_source_sans_pro", "SourceSansPro-Regular"),
    "label-semibold": ("font_source_sans_pro", "SourceSansPro-Semibold"),
}
"""File stem in the published site -> package and file of the face (both under the SIL Open Font License)."""


def face_file(name: str) -> Path:
    """The TrueType file of a face of FACES."""
    package, stem = FACES[name]
    return Path(str(import_module(package).__file__)).parent / "files" / f"{stem}.ttf"


@cache
def woff2(name: str) -> bytes:
    """A face as WOFF2 with the signs of European languages and all its features; the same bytes each time.

    HarfBuzz cuts it down in some milliseconds; the cutter of the library that packs it takes most of a second.
    """
    import uharfbuzz
    from fontTools.ttLib import TTFont

    wanted = uharfbuzz.SubsetInput()
    wanted.unicode_set.update(_SIGNS)
    wanted.layout_feature_tag_set.clear()
    wanted.layout_feature_tag_set.invert()
    wanted.flags = uharfbuzz.SubsetFlags.NO_HINTING
    cut = uharfbuzz.subset(uharfbuzz.Face(face_file(name).read_bytes()), wanted)
    font = TTFont(BytesIO(cut.blob.data), recalcTimestamp=False)
    font.flavor = "woff2"
    out = BytesIO()
    font.save(out)
    return out.getvalue()
