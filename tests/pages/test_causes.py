"""The ball at the head of a report, and the chain behind it, wherever the lesson is told."""

import re
import subprocess
from html import unescape

import pytest

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import reading, sheet, tell_folder
from tests.judging.ball_lessons import shots, told

DAY = "2026-03-05"
SLICER = reading("thorax-open-impact", 52, u=1) + reading("pelvis-open-impact", 27, u=1)
HEADLINE = "First face and path: they curve the ball to the trail side"
THEN = "Let the chest wait while the arms come down"


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    root = tmp_path_factory.mktemp("academy")
    table = shots(start=-3.0, face=-3.0, path=-9.0, carry=150.0, side=16.0)
    told(root, {DAY: sheet(SLICER, "shots_from: [{file: ../shots.csv}]")}, {"shots.csv": table})
    home = load(root)
    return student_site(tell_folder(home), sound(home))


def text_of(page):
    """What a page says, without its pictures."""
    without = re.sub(r"<(style|svg)\b.*?</\1>", " ", page.decode(), flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", without)).split())


@pytest.mark.parametrize("page", ["index.html", f"{DAY}/index.html"])
def test_the_ball_stands_before_the_body(files, page):
    said = text_of(files[page])
    assert 0 < said.index(HEADLINE) < said.index(THEN)


def test_the_recap_says_the_same_on_two_pages_at_most(files, tmp_path):
    recap = tmp_path / "recap.pdf"
    recap.write_bytes(files[f"{DAY}/recap.pdf"])
    said = subprocess.run(["pdftotext", recap, "-"], check=True, capture_output=True, text=True).stdout
    said = " ".join(said.split())
    assert said.index(HEADLINE) < said.index(THEN)
    assert "Possible causes" in said
    pages = subprocess.run(["pdfinfo", recap], check=True, capture_output=True, text=True).stdout
    assert int(re.search(r"Pages: +(\d+)", pages)[1]) <= 2


def test_the_chain_is_drawn_with_its_words_for_those_who_do_not_see_it(files):
    page = files[f"{DAY}/index.html"].decode()
    (first, *_) = re.findall(r"<title>(Shoulders open at impact[^<]*)</title>", page.split('id="behind"')[1])
    assert first.endswith(
        "path from outside to inside (what teachers hold); face open to the path (geometry); "
        "curve to the trail side (geometry)."
    )


def test_the_page_names_no_left_and_no_right(files):
    said = text_of(files[f"{DAY}/index.html"])
    told_of_ball = said[said.index(HEADLINE) : said.index(THEN)]
    assert not re.search(r"\b(left|right)\b", told_of_ball)
