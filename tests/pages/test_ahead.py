"""What comes next, on the pages read back: the goal, the next lesson, the rounds."""

import re
from html import unescape
from pathlib import Path

import pytest

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import ADULT, JUNIOR, tell_folder, write_academy

GOAL = "goal: {what: Break 90 at home, by: 2026-09-30, seen_by: Three rounds under 90.}"
NEXT = 'next_lesson: {date: 2026-03-26, time: "17:30", place: Practice ground}'
SORE = "comfort: [{site: low-back, score: 8, when: during}]"
ROUNDS = """\
handicap: about 20
rounds:
  - {date: 2026-01-16, score: 99, par: 72, course: Invented Links, competition: true}
  - {date: 2026-02-20, score: 96, course: Invented Links}
  - {date: 2026-02-06, score: 47, holes: 9}"""
OLD, NEW = "2026-03-05", "2026-03-12"


def pages_of(root: Path, lessons: dict[str, str], *student: str) -> dict[str, str]:
    """The pages of a student's area by their paths, as text without tags."""
    folder = load(write_academy(root, lessons, "\n".join(student)))
    assert [str(problem) for problem in folder.problems] == []
    files = student_site(tell_folder(folder), sound(folder), recaps=False)
    return {name: _words(data.decode()) for name, data in files.items() if name.endswith(".html")}


def _words(page: str) -> str:
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page)))


@pytest.mark.parametrize("page", ["index.html", f"{NEW}/index.html"])
def test_the_goal_and_the_next_lesson_stand_on_the_first_page_and_on_the_lessons(tmp_path, page):
    text = pages_of(tmp_path, {NEW: NEXT}, ADULT, GOAL)[page]
    assert "Your goal Break 90 at home. By 30 September 2026. How you will see it: Three rounds under 90." in text
    assert "Your next lesson Thursday, 26 March 2026, 17:30, Practice ground" in text


def test_an_earlier_lessons_page_says_nothing_of_what_comes_next(tmp_path):
    pages = pages_of(tmp_path, {OLD: NEXT, NEW: NEXT}, ADULT, GOAL)
    assert "Goal and next lesson" in pages[f"{NEW}/index.html"]
    assert "Goal and next lesson" not in pages[f"{OLD}/index.html"]


def test_without_goal_next_lesson_and_rounds_no_heading_of_theirs_stands_anywhere(tmp_path):
    pages = pages_of(tmp_path, {NEW: ""}, ADULT)
    assert [name for name, text in pages.items() if "Goal and next lesson" in text or "Your rounds" in text] == []


def test_after_a_stop_no_page_has_the_goals_day_and_the_next_lesson_stays(tmp_path):
    pages = pages_of(tmp_path, {NEW: f"{SORE}\n{NEXT}"}, ADULT, GOAL)
    assert "Your goal Break 90 at home. It stays your goal. There is no hurry." in pages["index.html"]
    assert "Your next lesson Thursday, 26 March 2026, 17:30" in pages["index.html"]
    assert [name for name, text in pages.items() if "30 September" in text or "Three rounds" in text] == []


def test_the_progress_page_shows_the_rounds_and_the_handicap_as_it_was_said(tmp_path):
    text = pages_of(tmp_path, {NEW: ""}, ADULT, ROUNDS)["progress.html"]
    assert "Your handicap, as you told it: about 20" in text
    assert (
        "Rounds of 18 holes: 2 rounds from 16 January 2026 to 20 February 2026, first 99, last 96, "
        "fewest strokes 96 on 20 February 2026. 1 of them was a competition."
    ) in text
    assert "Rounds of 9 holes: one round, 47 on 6 February 2026." in text


def test_a_table_says_the_same_as_the_chart(tmp_path):
    text = pages_of(tmp_path, {NEW: ""}, ADULT, ROUNDS)["progress.html"]
    assert "20 February 2026 96 Invented Links 16 January 2026 99 (par 72) Invented Links, competition" in text


@pytest.mark.parametrize("stop", ["", SORE])
def test_no_page_of_a_player_under_18_says_where_they_will_be_or_play(tmp_path, stop):
    pages = pages_of(tmp_path, {NEW: f"{stop}\n{NEXT}"}, JUNIOR, GOAL, ROUNDS)
    assert "Thursday, 26 March 2026, 17:30" in pages["index.html"]
    assert [name for name, text in pages.items() if "Practice ground" in text or "Invented Links" in text] == []
