"""The two text faces: as WOFF2 with the signs of European languages for pages, and whole for PDF."""

from importlib import import_module
from pathlib import Path

from reportgen.sheets.shipped import shipped

FACES = {
    "text-regular": ("font_source_serif_pro", "SourceSerifPro-Regular"),
    "text-italic": ("font_source_serif_pro", "SourceSerifPro-It"),
    "text-semibold": ("font_source_serif_pro", "SourceSerifPro-Semibold"),
    "label-regular": ("font_source_sans_pro", "SourceSansPro-Regular"),
    "label-semibold": ("font_source_sans_pro", "SourceSansPro-Semibold"),
}
"""File stem in the published site -> package and file of the whole face (both under the SIL Open Font License)."""

SHIPPED = shipped("themes") / "faces"
"""The faces of the pages, as `tests/pages/cut_faces.py` made them."""


def face_file(name: str) -> Path:
    """The TrueType file of a face of FACES."""
    package, stem = FACES[name]
    return Path(str(import_module(package).__file__)).parent / "files" / f"{stem}.ttf"


def woff2(name: str) -> bytes:
    """A face of FACES as WOFF2."""
    return (SHIPPED / f"{name}.woff2").read_bytes()
