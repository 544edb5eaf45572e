"""Pages of a putting and of a short-game lesson of the demo: nothing of the full swing is on any of them."""

import re
import subprocess
from html import unescape
from pathlib import Path

import pytest

from reportgen.pages.calendar import week_calendar
from reportgen.pages.drill_library import library_pages
from reportgen.pages.student_site import lesson_recap, student_site
from reportgen.pipeline import load
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import tell_folder

DEMO = Path(__file__).parents[2] / "examples" / "academy"
THEA, OSKAR = "thea-marlbrook", "oskar-vintersmith"
OF_THE_SWING = re.compile(
    r"\b(hips?|pelvis|shoulders? turn|backswing|downswing|full swings?|whole swing|swing at a glance)\b",
    re.IGNORECASE,
)


@pytest.fixture(scope="module", params=[THEA, OSKAR])
def player(request):
    home = load(DEMO, request.param)
    return sound(home), tell_folder(home, request.param)


def text_of(page):
    without = re.sub(r"<(style)\b.*?</\1>", " ", page.decode(), flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", without)).split())


def printed(pdf, tmp_path):
    file = tmp_path / "printed.pdf"
    file.write_bytes(pdf)
    return " ".join(subprocess.run(["pdftotext", file, "-"], check=True, capture_output=True, text=True).stdout.split())


def test_no_page_says_anything_of_the_full_swing(player):
    home, told = player
    pages = {name: text_of(page) for name, page in student_site(told, home).items() if name.endswith(".html")}
    pages.pop("safety.html")  # what to mind holds for all golf of a student
    assert {"index.html", f"{told[-1].lesson}/index.html", "progress.html"} <= pages.keys()
    assert {name: found for name, text in pages.items() if (found := OF_THE_SWING.findall(text))} == {}


def test_the_recap_says_nothing_of_the_full_swing_and_keeps_its_two_pages(player, tmp_path):
    home, told = player
    recap = lesson_recap(told[-1], home)
    assert OF_THE_SWING.findall(printed(recap, tmp_path)) == []
    info = subprocess.run(["pdfinfo", tmp_path / "printed.pdf"], check=True, capture_output=True, text=True).stdout
    assert int(re.search(r"Pages:\s+(\d+)", info)[1]) <= 2


def test_the_calendar_counts_putts_and_short_shots(player):
    home, told = player
    what = {"putting": "putts", "short-game": "short shots"}[told[-1].kind]
    events = week_calendar(told[-1], home.academy).decode().replace("\r\n ", "")
    assert len(re.findall(rf"SUMMARY:Practice: \d+ {what}", events)) == 3


def test_each_distance_of_a_count_stands_in_a_row_of_its_own():
    home = load(DEMO, THEA)
    told = tell_folder(home, THEA)
    page = text_of(student_site(told, sound(home))[f"{told[-1].lesson}/index.html"])
    assert "Right length (6 m away), putter" in page
    assert "Right length (12 m away), putter" in page


def test_the_drill_library_leads_to_drills_by_what_is_counted():
    index = text_of(library_pages(sound(load(DEMO, THEA)))["index.html"])
    assert "Counts of shots" in index
    assert re.search(r"Right length[^.]*Putts to the fringe", index)
