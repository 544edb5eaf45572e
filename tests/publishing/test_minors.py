"""What is published of players under 18: the whole tree of a small academy, searched."""

import re
from datetime import date
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import yaml

from tests.publishing.small import MIRO, area_of, reportgen, sheets, small_academy
from tests.site.published import SVG, Page, pdf_text, plain

WREN = "wren-castellow"
PICTURES = {".png", ".jpg", ".jpeg", ".webp", ".gif", ".avif"}


@pytest.fixture(scope="module")
def academy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Miro, whose father gave leave for pictures, and Wren, for whom nobody did; each with a lesson that has stills."""
    academy = small_academy(tmp_path_factory.mktemp("minors") / "academy", MIRO, WREN, lessons=6)
    for sheet in (*sheets(academy, MIRO), *sheets(academy, WREN)):
        if "stills:" not in sheet.read_text(encoding="utf-8"):
            sheet.unlink()
    assert [len(sheets(academy, name)) for name in (MIRO, WREN)] == [1, 1]
    return academy


@pytest.fixture(scope="module")
def site(academy: Path) -> Path:
    assert reportgen("publish", academy, "--to", academy.parent / "site").exit_code == 0
    return academy.parent / "site"


def _student(academy: Path, name: str) -> dict[str, Any]:
    written: dict[str, Any] = yaml.safe_load((academy / "students" / name / "student.yaml").read_text(encoding="utf-8"))
    return written


def _texts(folder: Path) -> dict[Path, str]:
    """Every text that a reader sees, with the words for titles, alternatives and metadata."""
    pages = {page: f"{Page(page).text}\n{' '.join(_attributes(page))}" for page in folder.rglob("*.html")}
    recaps = {recap: plain(pdf_text(recap)) + _metadata(recap) for recap in folder.rglob("*.pdf")}
    return {**pages, **recaps}


def _attributes(page: Path) -> list[str]:
    return [
        value for e in Page(page).root.iter() for name, value in e.attrib.items() if name in ("alt", "content", "title")
    ]


def _metadata(recap: Path) -> str:
    with pikepdf.open(recap) as pdf, pdf.open_metadata() as meta:
        return " ".join([str(meta), *(str(value) for value in (pdf.trailer.get("/Info") or {}).values())])


def _pictures(folder: Path) -> list[Path]:
    return [file for file in folder.rglob("*") if file.suffix.lower() in PICTURES]


def _pictures_in_recaps(folder: Path) -> int:
    count = 0
    for recap in folder.rglob("*.pdf"):
        with pikepdf.open(recap) as pdf:
            count += sum(isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image" for o in pdf.objects)
    return count


@pytest.mark.parametrize("name", [MIRO, WREN])
def test_nothing_that_goes_online_has_the_full_name_or_the_birth_date(academy: Path, site: Path, name: str) -> None:
    written = _student(academy, name)
    born: date = written["born"]
    private = [
        written["name"], written["name"].split()[-1], str(born), f"{born.day} {born:%B %Y}", f"{born:%d.%m.%Y}",
        f"{born:%d/%m/%Y}", written["guardian"]["name"], *written["mail"],
    ]  # fmt: skip
    texts = _texts(site / "upload")
    assert len(texts) > 10
    assert {file: word for file, text in texts.items() for word in private if word.lower() in text.lower()} == {}
    assert [file for file in (site / "upload").rglob("*") if name in str(file)] == []


@pytest.mark.parametrize("name", [MIRO, WREN])
def test_nothing_that_goes_online_has_a_measurement_of_the_body(academy: Path, site: Path, name: str) -> None:
    figures = {
        figure
        for measured in _student(academy, name)["growth"]
        for key, written in measured.items()
        if key != "date"
        for figure in (written, written.split()[0])
    }
    assert len(figures) >= 10
    for file, text in _texts(site / "upload").items():
        found = [figure for figure in figures if re.search(rf"(?<![\d.]){re.escape(figure)}(?![\d])", text)]
        assert found == [], file


def test_nothing_that_goes_online_tells_where_a_minor_will_be(academy: Path, site: Path) -> None:
    assert "place: Behind the barn" in sheets(academy, MIRO)[-1].read_text(encoding="utf-8")
    area = area_of(site, "Miro")
    told = {**_texts(area), **{file: file.read_text(encoding="utf-8") for file in area.rglob("*.ics")}}
    assert [file.name for file, text in told.items() if "28 November 2026" in text or "20261128" in text] != []
    assert [file for file, text in told.items() if "barn" in text] == []


def test_the_stage_of_growth_is_said_in_words(site: Path) -> None:
    assert "you are in your growth spurt, or near it" in Page(area_of(site, "Miro") / "safety.html").text
    assert "your growth spurt is behind you" in Page(area_of(site, "Wren") / "safety.html").text


def test_a_minor_without_leave_has_no_picture_anywhere(site: Path) -> None:
    area = area_of(site, "Wren")
    assert _pictures(area) == []
    assert _pictures_in_recaps(area) == 0
    assert Page(area / "index.html").all("video") == []
    (lesson,) = area.glob("2026-*/index.html")
    assert "only with a guardian’s permission" in Page(lesson).text


def test_with_leave_the_pictures_are_there_until_it_is_taken_back(academy: Path, site: Path) -> None:
    area = area_of(site, "Miro")
    assert _pictures(area)
    assert _pictures_in_recaps(area) > 0

    file = academy / "students" / MIRO / "student.yaml"
    given = file.read_text(encoding="utf-8")
    taken_back = re.sub(r"(pictures: \{.*)\}", r"\1, withdrawn_on: 2026-11-20}", given)
    assert taken_back != given
    file.write_text(taken_back, encoding="utf-8")
    try:
        assert reportgen("publish", academy, "--to", site).exit_code == 0
        assert _pictures(site) == []
        assert _pictures_in_recaps(site) == 0
        (lesson,) = area.glob("2026-*/index.html")
        assert "permission to show pictures was taken back" in Page(lesson).text
        assert Page(lesson).all(SVG) != []  # the charts are still there
        assert [img.get("src") for img in Page(lesson).all("img") if Path(str(img.get("src"))).suffix in PICTURES] == []
    finally:
        file.write_text(given, encoding="utf-8")
        assert reportgen("publish", academy, "--to", site).exit_code == 0


def test_leave_says_by_whom_and_when(academy: Path, tmp_path: Path) -> None:
    own = small_academy(tmp_path / "academy", MIRO, lessons=1)
    file = own / "students" / MIRO / "student.yaml"
    for lost, told in (("given_by", "pictures: given_by is missing"), ("given_on", "pictures: given_on is missing")):
        written = re.sub(rf"{lost}: [^,}}]*,? ?", "", _pictures_line(academy))
        file.write_text(file.read_text(encoding="utf-8").replace(_pictures_line(own), written), encoding="utf-8")
        assert told in reportgen("check", own).output
        file.write_text((academy / "students" / MIRO / "student.yaml").read_text(encoding="utf-8"), encoding="utf-8")


def _pictures_line(academy: Path) -> str:
    text = (academy / "students" / MIRO / "student.yaml").read_text(encoding="utf-8")
    return next(line for line in text.splitlines() if line.startswith("pictures:"))
