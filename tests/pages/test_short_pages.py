"""A sheet that says nothing new makes a short page: nothing tells of what is not there."""

import pytest

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import reading, sheet, tell_folder, write_academy
from tests.pages.words import main_of, seen

MOST = 60
"""Words of a page that has nothing to say, its title and the ways to go on from it with them."""
MOST_WITH_WHAT_TO_KEEP = 70
FIRST, NEXT = "2026-03-05", "2026-03-12"
VALUES = {"pelvis-open-impact": 45, "thorax-open-impact": 30, "side-bend-impact": 28, "lead-knee-flex-impact": 15}
SAME = sheet("".join(reading(metric, value, u=1) for metric, value in VALUES.items()))


def pages(root, lessons):
    folder = load(write_academy(root, lessons))
    assert [str(problem) for problem in folder.problems] == []
    files = student_site(tell_folder(folder), sound(folder), recaps=False)
    return {name: main_of(data.decode()) for name, data in files.items() if name.endswith(".html")}


def titles(page):
    return ["".join(heading.itertext()) for heading in page.iter("h2")]


@pytest.mark.parametrize("lessons", [{NEXT: ""}, {FIRST: SAME, NEXT: ""}], ids=["the first", "after another"])
def test_a_date_and_a_club_alone(tmp_path, lessons):
    made = pages(tmp_path, lessons)
    page = made[f"{NEXT}/index.html"]
    assert titles(page) == []
    assert len(seen(page)) <= MOST
    assert " ".join(seen(page)).count("nothing") == 2
    assert [title for title in titles(made["index.html"]) if title != "Your lessons"] == []


def test_values_that_are_in_range_and_have_not_changed(tmp_path):
    made = pages(tmp_path, {FIRST: SAME, NEXT: SAME})
    page = made[f"{NEXT}/index.html"]
    assert titles(page) == ["The numbers"]
    assert len(seen(page)) <= MOST_WITH_WHAT_TO_KEEP
    assert "All 4 values are in your range, with no clear change." in " ".join(seen(page))
    assert [row.get("id") for row in page.iter("tr") if row.get("id")] == sorted(VALUES, key=list(VALUES).index)


def test_the_same_values_measured_for_the_first_time_are_news(tmp_path):
    page = pages(tmp_path, {NEXT: SAME})[f"{NEXT}/index.html"]
    assert "The swing at a glance" in titles(page)
