"""The five faces of the pages, cut from the whole ones -> `themes/faces/`.

    python -m tests.pages.cut_faces

writes `<name>.woff2` for each of FACES, the same bytes each time, and the licence beside them. A face holds the signs
of European languages and all its features; a letter that it lacks comes from the reader's own faces.
"""

import sys
from io import BytesIO

import uharfbuzz
from fontTools.ttLib import TTFont

from reportgen.pages.faces import FACES, SHIPPED, face_file

SIGNS = (
    *range(0x20, 0x7F), *range(0xA0, 0x180), 0x192, 0x218, 0x219, 0x21A, 0x21B, *range(0x2C6, 0x2DE),
    *range(0x2010, 0x2027), 0x202F, 0x2030, 0x2032, 0x2033, 0x2039, 0x203A, 0x2044, 0x20AC, 0x2122,
    *range(0x2190, 0x2194), 0x2212, 0x2215, 0x221A, 0x2248, 0x2260, 0x2264, 0x2265,
    0x25A0, 0x25B2, 0x25B6, 0x25BC, 0x25C6, 0x25C7, 0x25CB, 0x25CF,
)  # fmt: skip

OUR_NAMES = {
    "Source Serif Pro": "Lesson Text", "SourceSerifPro": "LessonText",
    "Source Sans Pro": "Lesson Label", "SourceSansPro": "LessonLabel",
}  # fmt: skip
"""The licence reserves the name of the whole faces for the whole faces (condition 3)."""
FAMILY, FULL, UNIQUE, POSTSCRIPT = 1, 4, 3, 6
"""Names of a face by their numbers in its `name` table (OpenType)."""


def cut(name: str) -> bytes:
    """A face of FACES as WOFF2, without hints, with the SIGNS."""
    wanted = uharfbuzz.SubsetInput()
    wanted.unicode_set.update(SIGNS)
    wanted.layout_feature_tag_set.clear()
    wanted.layout_feature_tag_set.invert()
    wanted.flags = uharfbuzz.SubsetFlags.NO_HINTING
    smaller = uharfbuzz.subset(uharfbuzz.Face(face_file(name).read_bytes()), wanted)
    font = TTFont(BytesIO(smaller.blob.data), recalcTimestamp=False)
    for record in font["name"].names:
        if record.nameID in (FAMILY, FULL, UNIQUE, POSTSCRIPT):
            record.string = _renamed(str(record))
    font.flavor = "woff2"
    out = BytesIO()
    font.save(out)
    return out.getvalue()


def _renamed(text: str) -> str:
    for theirs, ours in OUR_NAMES.items():
        text = text.replace(theirs, ours)
    return text


def licence() -> str:
    """The SIL Open Font License as it came with the whole faces, with the notices of both."""
    texts = [
        (face_file(name).parent / "LICENSE.txt").read_text(encoding="utf-8")
        for name in ("text-regular", "label-regular")
    ]
    notices, terms = zip(*(text.split("\n", 1) for text in texts), strict=True)
    if len(set(terms)) != 1:
        raise ValueError("the two families no longer have the same licence")
    return "\n".join(notices) + "\n" + terms[0]


def main() -> None:
    """Write the faces and their licence."""
    SHIPPED.mkdir(parents=True, exist_ok=True)
    for name in FACES:
        made = cut(name)
        (SHIPPED / f"{name}.woff2").write_bytes(made)
        sys.stdout.write(f"{name}: {len(made)} bytes\n")
    (SHIPPED / "OFL.txt").write_text(licence(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
