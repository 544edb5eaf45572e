"""What the published demo keeps to itself: other students, minors' surnames, pictures without leave, the secret."""

import re
from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import yaml
from PIL import Image

from tests.site.published import ACADEMY, Site, students, text_of

WITHOUT_LEAVE = "wren-castellow"
LAST_LESSON = date(2026, 11, 24)


def _names(written: dict[str, Any]) -> set[str]:
    first, *_, last = written["name"].split()
    return {written["name"], first, last, written.get("called", first)}


def _minors() -> list[str]:
    return [name for name, s in students().items() if (LAST_LESSON - s["born"]).days < 18 * 365]


def _told(names: Iterable[str], text: str) -> list[str]:
    """Those of the names that stand in the text as words of their own, however they are written."""
    found = re.findall(rf"(?<!\w)(?:{'|'.join(map(re.escape, names))})(?!\w)", text, re.IGNORECASE)
    return sorted(set(found))


def _area_texts(site: Site, student: str) -> Iterator[tuple[Path, str]]:
    for file in site.files(site.areas[student]):
        yield file, f"{file.relative_to(site.areas[student])}\n{text_of(file)}"


@pytest.mark.parametrize("student", students())
def test_no_page_of_a_student_tells_of_another(site: Site, student: str) -> None:
    mine = _names(students()[student])
    others = {
        *(name for other, s in students().items() if other != student for name in _names(s) - mine),
        *(other for other in students() if other != student),
        *(area.name for other, area in site.areas.items() if other != student),
    }
    for file, text in _area_texts(site, student):
        assert _told(others, text) == [], file


def test_the_library_names_no_student(site: Site) -> None:
    names = {name for s in students().values() for name in _names(s)} | set(students())
    for file in site.files(site.folder / "upload" / "library"):
        assert _told(names, text_of(file)) == [], file


def test_the_demo_has_minors() -> None:
    assert _minors() == ["miro-tavenhall", WITHOUT_LEAVE]


@pytest.mark.parametrize("student", _minors())
def test_a_minor_is_named_by_first_name_alone(site: Site, student: str) -> None:
    surname = students()[student]["name"].split()[-1]
    for file, text in _area_texts(site, student):
        assert _told([surname], text) == [], file


def test_what_only_the_instructor_may_know_is_not_in_upload(site: Site) -> None:
    private = []
    for written in students().values():
        born = written["born"]
        private += [str(born), f"{born.day} {born:%B %Y}", *written.get("mail", ())]
        private += [written["about"]] if "about" in written else []
        private += [m for m in (written.get("guardian", {}).get("mail"),) if m]
    for file in site.files(site.folder / "upload"):
        text = text_of(file)
        assert [word for word in private if word in text] == [], file


def test_the_secret_is_nowhere(site: Site) -> None:
    secret = yaml.safe_load((ACADEMY / "academy.yaml").read_text(encoding="utf-8"))["secret"].encode()
    assert [file for file in site.files() if secret in file.read_bytes()] == []


def test_the_addresses_of_students_say_nothing(site: Site) -> None:
    tokens = [area.name for area in site.areas.values()]
    assert len(set(tokens)) == len(tokens)
    assert all(re.fullmatch("[a-z2-7]{26}", token) for token in tokens)


def _pictures(folder: Path) -> list[Path]:
    return [file for file in sorted(folder.rglob("*")) if file.suffix in {".png", ".jpg", ".jpeg", ".webp", ".gif"}]


def test_pictures_with_leave_are_shown(site: Site) -> None:
    for student in ("duarte-pemberlow", "miro-tavenhall", "rosalind-okevre"):
        assert _pictures(site.areas[student]), student


def test_a_minor_without_leave_has_no_picture(site: Site) -> None:
    assert list((ACADEMY / "students" / WITHOUT_LEAVE / "stills").iterdir())
    assert _pictures(site.areas[WITHOUT_LEAVE]) == []


def test_her_recaps_hold_no_picture_of_her(site: Site) -> None:
    for file in site.areas[WITHOUT_LEAVE].rglob("recap.pdf"):
        with pikepdf.open(file) as pdf:
            things = [item for item in pdf.objects if isinstance(item, pikepdf.Stream)]
            assert [item for item in things if item.get("/Subtype") == "/Image"] == [], file


def test_pictures_carry_no_notes_of_a_camera(site: Site) -> None:
    for file in _pictures(site.folder):
        with Image.open(file) as picture:
            assert not picture.getexif(), file
            assert not {"exif", "xmp", "comment", "photoshop", "XML:com.adobe.xmp"} & set(picture.info), file
