"""The recap read back as a reader of the screen reads it: its structure tree, in the order of reading.

Beside the asserts of our own stands a subset of the rules of PDF/UA-1 (pdfua implements 16 of its 106): this is not a
proof that a recap conforms.
"""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pdfua import validate

from tests.access.extremes import STUDENTS
from tests.site.published import Site

Node = tuple[str, Any]


def nodes(item: Any) -> Iterator[Node]:
    """(structure type, element) of a structure tree, in its order."""
    if isinstance(item, pikepdf.Array):
        for part in item:
            yield from nodes(part)
    elif isinstance(item, pikepdf.Dictionary) and "/S" in item:
        yield str(item.S), item
        yield from nodes(item.get("/K", pikepdf.Array()))


def tree(pdf: pikepdf.Pdf) -> list[Node]:
    return list(nodes(pdf.Root.StructTreeRoot.K))


def recap(site: Site, student: str, lesson: str) -> Path:
    return site.areas[student] / lesson / "recap.pdf"


LATEST = [("duarte-pemberlow", "2026-11-19"), ("rosalind-okevre", "2026-11-17"), ("bettina-halloran", "2026-11-18")]


@pytest.mark.parametrize(("student", "lesson"), LATEST)
def test_headings_go_down_one_level_at_a_time(site: Site, student: str, lesson: str) -> None:
    with pikepdf.open(recap(site, student, lesson)) as pdf:
        levels = [int(kind[2]) for kind, _ in tree(pdf) if kind in ("/H1", "/H2", "/H3", "/H4")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))


@pytest.mark.parametrize(("student", "lesson"), LATEST[:2])
def test_every_figure_has_an_alternative(site: Site, student: str, lesson: str) -> None:
    with pikepdf.open(recap(site, student, lesson)) as pdf:
        figures = [str(item.get("/Alt", "")) for kind, item in tree(pdf) if kind == "/Figure"]
    assert len(figures) >= 3
    assert all(figures)
    assert any("your range" in words for words in figures)


@pytest.mark.parametrize(("student", "lesson"), LATEST)
def test_the_order_of_reading_is_that_of_the_page(site: Site, student: str, lesson: str) -> None:
    with pikepdf.open(recap(site, student, lesson)) as pdf, pdf.open_outline() as outline:
        (first,) = outline.root
        titles = [item.title for item in first.children]
    wanted = ["Stop, and see someone first", "Work on this", "Your week", "Pictures", "The numbers", "For everybody"]
    assert [title for title in titles if title in wanted] == [title for title in wanted if title in titles]
    assert len([title for title in titles if title in wanted]) >= 3


@pytest.mark.parametrize(("student", "lesson"), LATEST)
def test_tables_and_lists_are_told_as_such(site: Site, student: str, lesson: str) -> None:
    with pikepdf.open(recap(site, student, lesson)) as pdf:
        kinds = [kind for kind, _ in tree(pdf)]
        assert {"/Table", "/TR", "/TH", "/TD", "/L", "/LI"} <= set(kinds)
        assert str(pdf.Root.Lang) == "en"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle


@pytest.mark.parametrize(("student", "lesson"), LATEST)
def test_a_subset_of_pdf_ua_is_kept(site: Site, student: str, lesson: str) -> None:
    report = validate(recap(site, student, lesson))
    assert [str(found) for found in report.findings if found.severity.name == "ERROR"] == []


@pytest.mark.parametrize("student", STUDENTS)
def test_the_hard_cases_fit_two_pages(extremes: Path, student: str) -> None:
    first_name = STUDENTS[student][0].split()[0]
    found = []
    for file in extremes.glob("upload/s/*/2026-03-12/recap.pdf"):
        with pikepdf.open(file) as pdf, pdf.open_metadata() as meta:
            if str(meta["dc:title"]).startswith(first_name):
                found.append(len(pdf.pages))
    assert len(found) == 1
    assert found[0] <= 2
