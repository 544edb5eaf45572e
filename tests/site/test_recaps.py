"""Every recap PDF of the published demo: two pages, readable by everybody, and saying what the lesson's report says."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import pikepdf
import pytest

from reportgen.records.told import ToldLesson
from tests.site.published import Site, pdf_text, plain, students
from tests.site.test_pages import NOTICE

Reports = Mapping[str, tuple[ToldLesson, ...]]


def _recaps(site: Site, reports: Reports, student: str) -> Iterator[tuple[ToldLesson, Path]]:
    for report in reports[student]:
        yield report, site.areas[student] / report.lesson / "recap.pdf"


@pytest.mark.parametrize("student", students())
def test_a_recap_is_built_for_every_reader(site: Site, reports: Reports, student: str) -> None:
    for report, file in _recaps(site, reports, student):
        with pikepdf.open(file) as pdf:
            assert 1 <= len(pdf.pages) <= 2, file
            assert str(pdf.Root.Lang) == "en", file
            assert bool(pdf.Root.MarkInfo.Marked), file
            assert "/StructTreeRoot" in pdf.Root, file
            with pdf.open_metadata() as meta:
                assert meta.get("pdfuaid:part") == "1", file
                assert report.person.first_name in meta["dc:title"], file
            with pdf.open_outline() as outline:
                assert outline.root, file
                assert "For everybody" in [item.title for item in outline.root[0].children], file
            assert list(_faces_left_out(pdf)) == [], file


def _faces_left_out(pdf: pikepdf.Pdf) -> Iterator[str]:
    """The fonts that a reader would have to have."""
    for item in pdf.objects:
        if not isinstance(item, pikepdf.Dictionary) or item.get("/Type") != "/Font":
            continue
        if item.get("/Subtype") in ("/Type0", "/Type3"):
            continue
        descriptor = item.get("/FontDescriptor", {})
        if not {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor.keys()):
            yield str(item.get("/BaseFont"))


@pytest.mark.parametrize("student", students())
def test_a_recap_says_what_the_lesson_came_to(site: Site, reports: Reports, student: str) -> None:
    for report, file in _recaps(site, reports, student):
        text = _words(pdf_text(file))
        wanted = [NOTICE, *(p.headline for p in report.priorities), *(f.short for f in report.findings if f.listed)]
        wanted += [given.title for given in report.drills]
        assert [words for words in wanted if _words(words) not in text] == [], file


def _words(text: str) -> str:
    """A text as it is read across line ends: hyphens at their ends belong to the word."""
    return re.sub(r"- (?=\w)", "-", plain(text))


@pytest.mark.parametrize("student", students())
def test_pictures_stand_before_the_rows_of_numbers_and_all_rows_take_half_a_page(
    site: Site, reports: Reports, student: str
) -> None:
    for report, file in _recaps(site, reports, student):
        places = _places(file)
        if report.findings:
            top, end = places["The numbers"], places["Changes" if "Changes" in places else "For everybody"]
            assert end - top <= 0.5, file
            assert places.get("Pictures", top) <= top, file


def test_the_pictures_that_a_letter_speaks_of_are_in_the_recap(site: Site) -> None:
    file = site.areas["duarte-pemberlow"] / "2026-11-19" / "recap.pdf"
    before = plain(pdf_text(file)).split("The numbers")[0]
    assert "Look at the two impact pictures" in before
    assert "This time. The hips have waited." in before


def _places(file: Path) -> dict[str, float]:
    """Where each heading of a recap begins, in printed pages from its beginning: what the margins take is no page."""
    top, bottom = (mm / 25.4 * 72 for mm in (16, 17))
    with pikepdf.open(file) as pdf, pdf.open_outline() as outline:
        pages = [page.obj.objgen for page in pdf.pages]
        places = {}
        for item in outline.root[0].children:
            page, _, _, y, *_ = item.destination  # type: ignore[misc, union-attr]
            height = float(page.MediaBox[3])
            places[item.title] = pages.index(page.objgen) + (height - top - float(y)) / (height - top - bottom)
    return places


@pytest.mark.parametrize("student", students())
def test_every_page_of_a_recap_has_its_number(site: Site, reports: Reports, student: str) -> None:
    for _, file in _recaps(site, reports, student):
        *pages, after = pdf_text(file).split("\f")
        assert after == ""
        for number, page in enumerate(pages, 1):
            assert f"{number}/{len(pages)}" in plain(page), file


def test_after_a_stop_nothing_tells_her_to_practise(site: Site, reports: Reports) -> None:
    latest = reports["bettina-halloran"][-1]
    assert latest.stopped
    area = site.areas["bettina-halloran"]
    links = site.page("upload", "library", "index.html").all("a")
    titles = {plain("".join(a.itertext())) for a in links if str(a.get("href")).endswith(".html")}
    assert len(titles) > 20
    places = {
        "recap.pdf": plain(pdf_text(area / latest.lesson / "recap.pdf")),
        **{
            str(page): site.page(*(area / page).relative_to(site.folder).parts).text
            for page in ("index.html", "drills/index.html", f"{latest.lesson}/index.html")
        },
    }
    for place, text in places.items():
        assert [title for title in titles if title in text] == [], place
        assert "Your week" not in text, place
    assert "Stop, and see someone first" in places["recap.pdf"]


def test_a_recap_with_little_to_say_ends_on_its_first_page(site: Site, reports: Reports) -> None:
    (file,) = (recap for _, recap in _recaps(site, reports, "petra-lumsgate"))
    with pikepdf.open(file) as pdf:
        assert len(pdf.pages) == 1
    assert "is on its page" not in plain(pdf_text(file))  # nothing was left out for it
