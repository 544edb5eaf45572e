"""The shipped faces of the pages set a text exactly as the whole faces do, and are what their script makes."""

from io import BytesIO

import pytest
import uharfbuzz
from fontTools.ttLib import TTFont

from reportgen.pages.faces import FACES, SHIPPED, face_file, woff2
from tests.pages.cut_faces import OUR_NAMES, cut, licence

TEXTS = (
    "Rückschwung, geöffnet um 45° ± 3°",
    "Ça m’œuvre: naïf, Łódź, Žižkov, İstanbul, smørrebrød",
    "final office affluent fjord Tee To AVAST",
    "0123456789 1/2 −6.5 ≈ 7 ≤ 8 → 9 % € ■▲◆○●",
)
FEATURES = (
    {},
    {"onum": True},
    {"tnum": True, "lnum": True},
    {"frac": True},
    {"smcp": True, "c2sc": True},
    {"sups": True},
)


def font(data: bytes) -> uharfbuzz.Font:
    return uharfbuzz.Font(uharfbuzz.Face(data))


def unpacked(name: str) -> bytes:
    packed = TTFont(BytesIO(woff2(name)))
    packed.flavor = None
    out = BytesIO()
    packed.save(out)
    return out.getvalue()


def letters(with_font: uharfbuzz.Font, text: str, features: dict[str, bool]) -> list[object]:
    """What is drawn where, whatever numbers the letters have in the file."""
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    uharfbuzz.shape(with_font, buffer, features)
    found: list[object] = []
    for info, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        drawn: list[object] = []
        with_font.draw_glyph(info.codepoint, PEN, drawn)
        found.append((drawn, place.x_advance, place.x_offset, place.y_offset))
    return found


PEN = uharfbuzz.DrawFuncs()
PEN.set_move_to_func(lambda x, y, drawn: drawn.append(("move", x, y)))
PEN.set_line_to_func(lambda x, y, drawn: drawn.append(("line", x, y)))
PEN.set_quadratic_to_func(lambda *points: points[-1].append(("curve", *points[:-1])))
PEN.set_cubic_to_func(lambda *points: points[-1].append(("cubic", *points[:-1])))
PEN.set_close_path_func(lambda drawn: drawn.append(("close",)))


@pytest.mark.parametrize("features", FEATURES, ids=lambda features: "+".join(features) or "plain")
@pytest.mark.parametrize("name", FACES)
def test_a_cut_face_sets_letters_as_the_whole_one_does(name: str, features: dict[str, bool]) -> None:
    whole, cut = font(face_file(name).read_bytes()), font(unpacked(name))
    for text in TEXTS:
        text = "".join(sign for sign in text if whole.get_nominal_glyph(ord(sign)))  # a browser takes another face else
        assert letters(cut, text, features) == letters(whole, text, features)


def test_the_features_that_are_asked_for_change_what_is_set() -> None:
    whole = font(face_file("text-regular").read_bytes())
    plain = letters(whole, TEXTS[3], {})
    assert any(letters(whole, TEXTS[3], features) != plain for features in FEATURES)


@pytest.mark.parametrize("name", FACES)
def test_a_cut_face_is_small(name: str) -> None:
    assert len(woff2(name)) < 40_000 < face_file(name).stat().st_size


@pytest.mark.parametrize("name", FACES)
def test_a_shipped_face_is_the_one_that_the_script_makes(name: str) -> None:
    assert woff2(name) == cut(name), "python -m tests.pages.cut_faces makes them anew"


def test_nothing_else_lies_beside_the_faces_but_their_licence() -> None:
    assert {file.name for file in SHIPPED.iterdir()} == {"OFL.txt", *(f"{name}.woff2" for name in FACES)}
    assert (SHIPPED / "OFL.txt").read_text(encoding="utf-8") == licence()


@pytest.mark.parametrize("name", FACES)
def test_a_cut_face_keeps_its_notice_and_leaves_the_reserved_name_to_the_whole_one(name: str) -> None:
    names = {record.nameID: str(record) for record in TTFont(BytesIO(woff2(name)))["name"].names}
    assert "Reserved Font Name" in names[0]
    assert not any(theirs in names[number] for number in (1, 3, 4, 6) for theirs in OUR_NAMES)
