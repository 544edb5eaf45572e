"""Pictures of a minor leave the academy with a guardian's leave alone, and never with what a camera wrote into them."""

from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from tests.publishing.small import reportgen, small_academy

WREN = "wren-castellow"
LOUD = (255, 0, 255)
"""A colour that no page, drawing or figure of ours has."""

GPS, ORIENTATION, MAKER = 0x8825, 0x0112, 0x010F


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """Wren's one lesson with pictures, each of them loud and with a camera's notes in it."""
    academy = small_academy(tmp_path / "academy", WREN, lessons=3)
    for sheet in (academy / "students" / WREN / "lessons").iterdir():
        if "stills:" not in sheet.read_text(encoding="utf-8"):
            sheet.unlink()
    stills = list((academy / "students" / WREN / "stills").iterdir())
    assert len(stills) == 6
    for still in stills:
        with Image.open(still) as drawn:
            loud = Image.new("RGB", drawn.size, LOUD)
        notes = Image.Exif()
        notes[MAKER], notes[ORIENTATION] = "a camera", 1
        notes.get_ifd(GPS).update({1: "N", 2: (38.0, 42.0, 0.0), 3: "W", 4: (9.0, 8.0, 0.0)})
        loud.save(still, "JPEG", quality=95, exif=notes)
        with Image.open(still) as saved:
            assert saved.getexif().get_ifd(GPS)
    _add_a_swing(academy)
    return academy


def _add_a_swing(academy: Path) -> None:
    """A swing of four loud frames, with a camera's notes too."""
    folder, notes = academy / "students" / WREN / "swings", Image.Exif()
    folder.mkdir()
    notes[MAKER] = "a camera"
    Image.new("RGB", (200, 240), LOUD).save(folder / "fo.jpg", quality=95, exif=notes)
    (sheet,) = (academy / "students" / WREN / "lessons").iterdir()
    row = "file: ../swings/fo.jpg, view: face-on, columns: 2, frame: [100, 120], times: [0, 1, 2, 3]"
    with sheet.open("a", encoding="utf-8") as file:
        file.write(f"swings:\n  - {{{row}, checkpoints: {{setup: 0, top: 1, impact: 3}}}}\n")


def _give_leave(academy: Path, written: str) -> None:
    student = academy / "students" / WREN / "student.yaml"
    student.write_text(student.read_text(encoding="utf-8") + f"pictures: {written}\n", encoding="utf-8")


def _published(academy: Path) -> Path:
    site = academy.parent / "site"
    assert reportgen("publish", academy, "--to", site).exit_code == 0
    return site


def _pictures(site: Path) -> list[Path]:
    return [file for file in sorted(site.rglob("*")) if file.suffix in {".png", ".jpg", ".jpeg"}]


def _in_recaps(site: Path) -> Iterator[pikepdf.Stream]:
    for file in site.rglob("*.pdf"):
        with pikepdf.open(file) as pdf:
            things = [item for item in pdf.objects if isinstance(item, pikepdf.Stream)]
            yield from (item for item in things if item.get("/Subtype") == "/Image")


def _loud_part(file: Path) -> float:
    with Image.open(file) as picture:
        colours = picture.convert("RGB").get_flattened_data()
    near = [max(abs(a - b) for a, b in zip(colour, LOUD, strict=True)) < 40 for colour in colours]
    return sum(near) / len(near)


TAKEN_BACK = "{given_by: Sabela Castellow, given_on: 2026-10-01, withdrawn_on: 2026-11-20}"


@pytest.mark.parametrize("leave", [None, TAKEN_BACK], ids=["never given", "taken back"])
def test_without_leave_no_picture_goes_out(academy: Path, leave: str | None) -> None:
    if leave is not None:
        _give_leave(academy, leave)
    site = _published(academy)
    assert _pictures(site) == []
    assert list(_in_recaps(site)) == []


def test_with_leave_they_go_out_without_the_cameras_notes(academy: Path) -> None:
    _give_leave(academy, "{given_by: Sabela Castellow, given_on: 2026-10-24}")
    site = _published(academy)
    shown = _pictures(site)
    assert len(shown) >= 2
    assert [file.parent.name.partition("-")[0] for file in shown].count("swing") == 1
    assert all(_loud_part(file) > 0.5 for file in shown)
    assert list(_in_recaps(site))
    for file in shown:
        with Image.open(file) as picture:
            assert not picture.getexif()
        assert b"a camera" not in file.read_bytes()
