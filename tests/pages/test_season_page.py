"""The page of the season: what it says, links to, and says where there is nothing to count."""

import re
from datetime import date
from html import unescape
from pathlib import Path

import html5lib
import pytest

from reportgen.judging.reliability import Agreement
from reportgen.pages.season_page import season_page
from reportgen.records.academy import Academy
from reportgen.records.findings import Course
from reportgen.records.report import Person
from reportgen.saying.season import (
    ToldCourses,
    ToldFault,
    ToldNotMoved,
    ToldRepeatability,
    ToldScatter,
    ToldSeason,
    ToldTwoWays,
)
from reportgen.sheets.academy_folder import Home

DAY = date(2026, 4, 4)
ACADEMY = Academy.model_validate(
    {
        "name": "Invented Green",
        "instructor": {"name": "Invented Teacher"},
        "secret": "an invented phrase that stands in tests alone",
    }
)
ADA = Person(id="ada", name="Ada <b>", first_name="Ada", plays="right", stage="adult", restricted_hips=False)
BO = ADA.model_copy(update={"id": "bo", "name": "Bo"})
PELVIS = {"metric": "pelvis-open-impact", "name": "Hips open at impact"}
NOTHING = ToldSeason(2, 3, date(2026, 3, 5), DAY, (), (), (), (), (), ())
FULL = ToldSeason(
    students=2,
    lessons=3,
    first=date(2026, 3, 5),
    last=DAY,
    faults=(ToldFault(**PELVIS, direction="above", measured=2, first=1, now=(ADA, BO)),
            ToldFault(**PELVIS, direction="below", measured=2, first=1, now=())),
    not_moved=(ToldNotMoved(person=ADA, **PELVIS, direction="above", on=DAY, course=Course(
        since=date(2026, 3, 5), lessons=4, by=-1, interval=(-3, 1), detectable=3, rung="no change we can see",
        movement="changed")),),
    drills=(ToldCourses(drill="coin", title="A coin", **PELVIS, given=3, measured=2, moved=1),
            ToldCourses(drill="chair", title="A chair", **PELVIS, given=1, measured=0, moved=0)),
    repeatability=(ToldRepeatability(**PELVIS, how="sensor", views=1, unit="deg", decimals=1, lessons=5, swings=20,
                                 sem=1.5, mdc=4.16, icc=-0.1),),
    two_ways=(ToldTwoWays(**PELVIS, how="by-eye", other="still", unit="deg", decimals=1,
                      agreement=Agreement(6.2, 5, (-3.6, 16), 1.1, 1.9, 21)),),
    scatter=(ToldScatter(**PELVIS, unit="deg", decimals=1, swing=2.84, usual_swing=3, lessons=12, day=None, usual_day=2,
                         pairs=2),
             ToldScatter(**PELVIS, unit="deg", decimals=1, swing=0.0, usual_swing=3, lessons=12, day=2.5, usual_day=2,
                         pairs=9)),
)  # fmt: skip


def page(of: ToldSeason, pages: dict[str, str] | None = None) -> str:
    html = season_page(of, pages or {}, DAY, Home(Path("no-academy"), ACADEMY)).decode()
    html5lib.HTMLParser(strict=True).parse(html)
    return html


def text(html: str) -> str:
    return " ".join(unescape(re.sub("<[^>]+>", " ", html.split("<main", 1)[1].partition(">")[2])).split())


@pytest.mark.parametrize(
    "says",
    [
        "3 lessons of 2 students, 5 March 2026 to 4 April 2026",
        "above the range 2 of 2 1 of 2",
        "below the range 0 of 2 1 of 2 nobody now",
        "Hips open at impact, above the range: no clear change since 5 March 2026.",
        "A coin for hips open at impact 3 2 1 of 2",
        "A chair for hips open at impact 1 not yet",
        "by a sensor, 20 swings in 5 lessons 1.5° 4.2° 0 %",
        "Hips open at impact 2.8° usual: 3.0°, 12 lessons not enough yet usual: 2.0°",
        "Hips open at impact too small to be seen usual: 3.0°, 12 lessons 2.5° usual: 2.0°, 9 pairs of lessons",
        "+6.2° on the average (standard error 1.1°), from −3.6° to +16.0° (each limit ± 1.9°), 21 pairs.",
    ],
)
def test_what_was_counted_stands_on_the_page(says):
    assert says in text(page(FULL))


def test_counts_after_drills_come_with_the_caution_that_they_are_no_proof():
    assert "This is no proof that a drill works" in text(page(FULL))


def test_names_lead_to_the_pages_of_those_who_have_some_and_are_escaped():
    html = page(FULL, {"ada": "../upload/s/abc/index.html"})
    assert '<a href="../upload/s/abc/index.html">Ada &lt;b&gt;</a>' in html
    assert ">Bo</a>" not in html


@pytest.mark.parametrize(
    "says",
    [
        "Nothing that was measured is clearly out of range.",
        "Nobody. A student is listed here once three lessons or more can be compared that go back a month.",
        "No drill has been given yet for a value that was out of range.",
        "Not enough data: this needs 5 lessons with several swings of the same thing",
        "Not enough data: this needs many lessons of a student, or lessons with several swings of the same thing.",
        "Not enough data: this needs 10 values that were taken in two ways",
    ],
)
def test_what_there_is_not_is_said_in_words(says):
    assert says in text(page(NOTHING))


def test_before_the_first_lesson_the_page_says_what_it_is_for():
    found = text(page(ToldSeason(0, 0, None, None, (), (), (), (), (), ())))
    assert "No lesson has been judged yet." in found
    assert "Not enough data" not in found
