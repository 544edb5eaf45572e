"""Somebody who reads a report for the first time: the first screen says what to do, and one click leads to the week."""

import pytest

from tests.access.kinds import show
from tests.site.chromium import Chromium
from tests.site.published import Site

PRACTISE = ("duarte-pemberlow", "rosalind-okevre", "miro-tavenhall", "callum-weirbridge", "osgood-ferrant")
FIRST = """
const first = document.querySelector(".first");
const box = one => { const b = one.getBoundingClientRect(); return [b.top, b.bottom, b.width]; };
return {
  headline: [...first.querySelectorAll(".prio > li:first-child h3")].map(box),
  reason: [...first.querySelectorAll(".prio > li:first-child > p:not(.do)")].map(box),
  drill: [...first.querySelectorAll(".do")].slice(0, 1).map(box),
  week: [...first.querySelectorAll('a[href*="#week"]')].map(box),
};
"""


def _seen(box: list[float]) -> bool:
    top, bottom, width = box
    return top >= 0 and bottom <= 800 and width > 0


@pytest.mark.parametrize("student", PRACTISE)
def test_the_first_screen_has_priority_reason_and_drill(chromium: Chromium, site: Site, student: str) -> None:
    show(chromium, (site.areas[student] / "index.html").as_uri(), 1280)
    found = chromium.run(FIRST)
    if found["headline"]:
        assert [_seen(box) for box in found["headline"] + found["reason"]] == [True, True]
    assert [_seen(box) for box in found["drill"]] == [True]


def test_a_priority_is_among_what_is_looked_at(chromium: Chromium, site: Site) -> None:
    found = []
    for student in PRACTISE:
        show(chromium, (site.areas[student] / "index.html").as_uri(), 1280)
        found += chromium.run(FIRST)["headline"]
    assert found


def test_the_week_is_on_the_first_page(chromium: Chromium, site: Site) -> None:
    show(chromium, (site.areas["duarte-pemberlow"] / "index.html").as_uri(), 360)
    assert "swings" in chromium.run("return document.querySelector('#week').innerText")
