"""The course of comfort over lessons, and the mobility screen."""

import re
from datetime import date, timedelta
from typing import Any

import pytest

from reportgen.judging.comfort import WITHIN, comfort_courses
from reportgen.judging.mobility import screen_of
from reportgen.records.academy import Student
from reportgen.records.lesson import Lesson
from reportgen.saying.body import told_comfort, told_screen

DAY = date(2026, 3, 5)


def lesson(back: int, *felt: tuple[str, int, str]) -> Lesson:
    comfort = [{"site": site, "score": score, "when": when} for site, score, when in felt]
    on = str(DAY - timedelta(days=back))
    return Lesson.model_validate({"student": "ines-invented", "date": on, "club": "7-iron", "comfort": comfort})


def weekly(*scores: int | None) -> list[Lesson]:
    """A lesson a week with these low-back scores, None where nobody asked; the last is today's."""
    last = len(scores) - 1
    return [
        lesson(7 * (last - number), *([("low-back", score, "after")] if score is not None else []))
        for number, score in enumerate(scores)
    ]


def rises(*scores: int | None) -> int:
    (course,) = comfort_courses(weekly(*scores), DAY)
    return course.rises


@pytest.mark.parametrize(
    ("scores", "times"),
    [((1,), 0), ((1, 2), 1), ((0, 1, 2), 2), ((2, 1, 2), 1), ((1, 2, 2), 0), ((3, 2, 1), 0), ((0, 1, 2, 3), 3)],
)
def test_a_rise_counts_the_lessons_that_each_had_a_higher_score(scores: tuple[int, ...], times: int) -> None:
    assert rises(*scores) == times


def test_a_lesson_in_which_nobody_asked_does_not_break_a_rise() -> None:
    assert rises(1, None, 2, None, 3) == 2


def test_a_site_that_was_not_asked_about_today_has_no_course() -> None:
    assert comfort_courses(weekly(3, 4, None), DAY) == ()


def test_the_highest_score_of_a_lesson_is_the_one_that_counts() -> None:
    (course,) = comfort_courses(
        [lesson(0, ("neck", 1, "before"), ("neck", 4, "next-morning"), ("neck", 2, "after"))], DAY
    )
    assert [(felt.score, felt.when) for felt in course.felt] == [(4, "next-morning")]


def test_a_day_of_the_log_is_a_time_like_any_other() -> None:
    logged = {"date": str(DAY - timedelta(days=3)), "minutes": 0, "comfort": [{"site": "low-back", "score": 2}]}
    first, last = weekly(1, 3)
    (course,) = comfort_courses([first, last.model_validate({**last.model_dump(), "practice_log": [logged]})], DAY)
    assert [felt.score for felt in course.felt] == [1, 2, 3]
    assert course.rises == 2


def test_sites_do_not_mix() -> None:
    lessons = [lesson(7, ("neck", 1, "after")), lesson(0, ("neck", 0, "after"), ("lead-hip", 3, "after"))]
    assert [(c.site, [f.score for f in c.felt]) for c in comfort_courses(lessons, DAY)] == [
        ("neck", [1, 0]),
        ("lead-hip", [3]),
    ]


def test_scores_of_long_ago_are_of_another_story() -> None:
    lessons = [lesson(WITHIN.days + 1, ("neck", 1, "after")), lesson(0, ("neck", 2, "after"))]
    assert [course.rises for course in comfort_courses(lessons, DAY)] == [0]


def test_a_rising_course_is_said_to_be_one() -> None:
    (course,) = comfort_courses(weekly(1, 2, 3), DAY)
    assert told_comfort(course).says == (
        "Low back: 1, 2 and 3 of 10 the last 3 times. The score has gone up each time: talk to your teacher."
    )


def test_a_calm_course_is_said_without_advice() -> None:
    (course,) = comfort_courses(weekly(2, 1), DAY)
    assert told_comfort(course).says == "Low back: 2 and 1 of 10 the last 2 times."


# the mobility screen


def screen(stage: Any = "adult", **mobility: str) -> Any:
    student = Student.model_validate(
        {"name": "Ines Invented", "born": "1986-05-01", "plays": "right", "mobility": mobility}
    )
    found = screen_of(student)
    return found and told_screen(found, stage)


def test_nobody_is_screened_by_default() -> None:
    assert screen() is None


def test_a_screen_has_both_sides_and_their_difference() -> None:
    of = screen(**{"lead-hip": "19 deg", "trail-hip": "31 deg"})
    assert (of.lead_deg, of.trail_deg, of.difference, of.restricted) == (19, 31, 12, ("lead-hip",))


def test_one_side_alone_has_no_difference() -> None:
    assert screen(**{"lead-hip": "30 deg"}).difference is None


def test_the_limit_of_a_straight_hip_does_not_hold_for_a_seated_one() -> None:
    seated = screen(**{"lead-hip": "20 deg", "position": "seated"})
    assert seated.restricted == ()
    assert "23" not in seated.says
    assert screen(**{"lead-hip": "20 deg"}).restricted == ("lead-hip",)


def test_the_word_of_the_instructor_holds_in_every_position() -> None:
    assert screen(**{"lead-hip": "restricted", "position": "seated"}).restricted == ("lead-hip",)


@pytest.mark.parametrize(("position", "norm"), [("prone", "35°"), ("supine", "30°"), ("seated", "38°")])
def test_a_figure_is_held_against_one_that_was_taken_in_the_same_position(position: str, norm: str) -> None:
    assert f"had {norm} on average" in screen(**{"lead-hip": "30 deg", "position": position}).says


def test_the_figures_of_adults_are_not_held_against_a_junior() -> None:
    says = screen("junior", **{"lead-hip": "30 deg"}).says
    assert "35" not in says
    assert "no published figure for your age" in says


@pytest.mark.parametrize(
    "says",
    [
        *(told_comfort(comfort_courses(weekly(*scores), DAY)[0]).says for scores in ((9,), (2, 5, 8), (8, 2))),
        *(screen(**{"lead-hip": f"{lead} deg", "trail-hip": "40 deg"}).says for lead in (5, 22, 45)),
    ],
)
def test_nothing_that_is_said_of_a_body_names_a_condition(says: str) -> None:
    assert not re.search(r"you (have|suffer|may have)\b|diagnos|injur|illness|damage|abnormal|normal", says)
