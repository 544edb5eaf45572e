"""Tables of shots on the lesson's page and in its recap."""

import re
from html import unescape

import pytest

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load
from reportgen.records.told import ToldLesson
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import judged, sheet, tell_folder
from tests.judging.shot_academies import about, full, told
from tests.site.published import pdf_text, plain

DAY = "2026-03-12"


def files_of(root, *, recaps=False):
    folder = load(root)
    return student_site(tell_folder(folder), sound(folder), recaps=recaps)


def said_by(page: bytes) -> str:
    """What a page says, without its drawings."""
    without = re.sub(r"<(style|svg)\b.*?</\1>", " ", page.decode(), flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", without)).split())


def titles(page: bytes) -> list[str]:
    return re.findall(r"<title>(.*?)</title>", page.decode().split('id="ball"')[1].split("</section>")[0])


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    root = tmp_path_factory.mktemp("academy")
    lessons = told(root, {"2026-03-05": full(10), DAY: full(14, side=4.0)})
    return lessons[-1], files_of(root, recaps=True)


def sentences(lesson: ToldLesson) -> list[str]:
    (shots,) = lesson.patterns
    return [*shots.landed_says, *shots.flew_says, *shots.struck_says, shots.since]


def test_the_page_says_all_that_is_told_of_a_table(written):
    lesson, files = written
    page = said_by(files[f"{DAY}/index.html"])
    assert "Club and ball" in page
    assert [said for said in sentences(lesson) if " ".join(said.split()) not in page] == []


def test_the_drawings_stand_beside_those_of_the_date_before(written):
    _, files = written
    what = [re.search(r"(5|12) March: (\w+)", title).groups() for title in titles(files[f"{DAY}/index.html"])]
    assert what == [
        ("5", "landing"), ("12", "landing"), ("5", "flights"), ("12", "flights"), ("5", "places"), ("12", "places"),
    ]  # fmt: skip


def test_the_recap_says_it_too_and_shows_where_the_shots_landed(written, tmp_path):
    lesson, files = written
    file = tmp_path / "recap.pdf"
    file.write_bytes(files[f"{DAY}/recap.pdf"])
    text = plain(pdf_text(file))
    assert [said for said in sentences(lesson) if plain(said) not in text] == []
    assert "trail side" in text.split("Club and ball")[1]


def test_what_hardly_matters_is_folded_away(tmp_path):
    told(tmp_path, {DAY: [*about(11), {"side": 2.0, "carry": 60.0}]})
    page = files_of(tmp_path)[f"{DAY}/index.html"].decode()
    folded = page.split("More about these shots")[1].split("</details>")[0]
    assert "counted all the same" in folded
    assert page.count("counted all the same") == 1


def test_a_page_without_tables_says_nothing_of_dots(tmp_path):
    judged(tmp_path, {DAY: sheet("", "shots: [{strike: {heel: 6, middle: 4}}]")})
    page = files_of(tmp_path)[f"{DAY}/index.html"]
    assert "Each dot is a shot" not in said_by(page)
    assert titles(page) == [
        "Places on the face, seen from the front: of 10 shots 6 towards the heel and 4 in the middle."
    ]


def rows_measured(page: bytes) -> list[str]:
    """The names of what the table of measured values lists."""
    (table,) = re.findall(r'<table class="findings.*?</table>', page.decode(), flags=re.S)
    return [unescape(name).strip() for name in re.findall(r'<th scope="row"[^>]*>(?:<[^>]+>)*([^<]*)', table)]


def test_club_and_ball_are_listed_where_the_shots_do_not_say_them_already(written):
    _, files = written
    assert rows_measured(files[f"{DAY}/index.html"]) == ["Face angle", "Club path", "Face to path"]


def test_a_carry_that_no_drawing_tells_stands_once_among_the_shots(tmp_path):
    told(tmp_path, {DAY: [{"carry": 140.0 + k} for k in range(9)]})
    page = said_by(files_of(tmp_path)[f"{DAY}/index.html"])
    assert page.count("Carry") == 1
    assert "The table has no column for the side, so we do not know where they landed." in page
    assert "Nothing was measured" not in page
