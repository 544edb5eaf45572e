"""The guide as pages: whole, in its order, every link leading somewhere, every example a sound one."""

import re
from collections.abc import Mapping
from pathlib import Path

import html5lib
import pytest

from reportgen.pages.guide_pages import guide_pages
from reportgen.pages.guide_texts import guide_texts
from reportgen.pipeline import load
from reportgen.records.academy import Academy, Student
from reportgen.records.base import Record
from reportgen.records.causes import CauseFile
from reportgen.records.content import BandFile, CountKind, Drill, Metric
from reportgen.records.lesson import Lesson
from reportgen.records.setup import SetupKind
from reportgen.sheets.academy_folder import sound
from reportgen.sheets.reading import sheet_of

DEMO = Path(__file__).parents[2] / "examples" / "academy"
TITLES = [
    "Your academy", "A lesson sheet", "Measuring on stills", "Ranges and verdicts", "Counting shots",
    "Metrics of your own", "Drills and the week", "Safety", "Publishing, sealing and mailing",
    "Data on children and grown-ups", "Problems and fixes", "Every command",
]  # fmt: skip


@pytest.fixture(scope="module")
def guide() -> Mapping[str, bytes]:
    return guide_pages(sound(load(DEMO, "petra-lumsgate")))


def test_the_texts_in_their_order() -> None:
    assert [text.title for text in guide_texts()] == TITLES


def test_every_page_is_html_and_has_one_heading(guide: Mapping[str, bytes]) -> None:
    for name, page in guide.items():
        if name.endswith(".html"):
            root = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page.decode("utf-8"))
            assert len(list(root.iter("h1"))) == 1, name


def test_every_link_within_the_guide_leads_somewhere(guide: Mapping[str, bytes]) -> None:
    for name, page in guide.items():
        for target in re.findall(r'href="([^"]+)"', page.decode("utf-8")):
            file, _, place = target.partition("#")
            if "/" not in target:
                assert file in {"", *guide}, (name, target)
                assert not place or f'id="{place}"' in guide[file or name].decode("utf-8"), (name, target)


def test_the_contents_lead_to_every_page(guide: Mapping[str, bytes]) -> None:
    linked = set(re.findall(r'href="([a-z-]+\.html)"', guide["index.html"].decode("utf-8")))
    assert linked >= {name for name in guide if name.endswith(".html")} - {"index.html"}


def _examples() -> list[object]:
    blocks = [
        (text.name, block)
        for text in guide_texts()
        for block in re.findall(r"^```\n(.*?)^```$", text.text, re.M | re.S)
    ]
    sheets = [(name, block) for name, block in blocks if not block.startswith(("academy.yaml", "students/mara-l"))]
    return [pytest.param(block, id=f"{name}: {block.splitlines()[0][:30]}") for name, block in sheets]


@pytest.mark.parametrize("example", _examples())
def test_every_example_can_be_copied(example: str) -> None:
    kind: type[Record] = Lesson
    more = {"student": "student: mara-l\n", "date": "date: 2026-03-05\n", "club": "club: 7-iron\n"}
    if example.startswith("---"):
        kind, more, example = Drill, {}, example.split("---\n")[1]
    elif "stills: {distance:" in example:
        kind, more = Metric, {}
    elif example.startswith("columns:"):
        kind, more = Academy, {"name": "name: G\ninstructor: {name: T}\nsecret: an invented phrase for tests alone\n"}
    elif "needs: [" in example:
        kind, more = CountKind, {}
    elif example.startswith("causes:"):
        kind, more = CauseFile, {}
    elif "says: along" in example:
        kind, more = SetupKind, {}
    elif example.startswith("figures:"):
        lines = ("title: T", "aim: A.", "serves: []", "trains: [holed]", "dose: 5 min", "feel: F.", "source: our own")
        kind, more = Drill, {"id": "id: ours\n", **{line.split(":")[0]: f"{line}\n" for line in lines}}
    elif "bands:" in example:
        kind, more = BandFile, {}
    elif example.startswith(("name:", "practice:", "goal:")):
        kind, more = Student, {"name": "name: Mara\n", "born": "born: 1990-01-01\n", "plays": "plays: right\n"}
    whole = example + "".join(line for key, line in more.items() if not re.search(rf"^{key}:", example, re.M))
    assert [str(problem) for problem in sheet_of(whole, "example", kind)[1]] == []


def test_the_drawing_of_sticks_and_phones_stands_in_its_place(guide: Mapping[str, bytes]) -> None:
    page = guide["stills.html"].decode("utf-8")
    before, drawing, after = re.split(r'(<figure class="chart wide">.*?</figure>)', page, flags=re.S)
    assert "Lay the sticks and set the phones" in before
    assert "looks 3° past square" in after
    assert "{drawing" not in page
    texts = re.findall(r"<text[^>]*>([^<]*)</text>", drawing)
    assert {"stick along the target line", "stick square to it", "phone, face-on", "phone, down-the-line"} <= set(texts)
    assert "<title>Seen from above: one stick lies along the target line" in drawing
