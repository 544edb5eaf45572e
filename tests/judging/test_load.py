"""How much is practised, by the logs: swings a week, their rise, days, hours, months."""

from datetime import date, timedelta
from typing import Any

import pytest

from reportgen.judging.load import load_of
from reportgen.records.academy import Student
from reportgen.records.body import Load
from reportgen.records.lesson import Lesson
from reportgen.saying.body import told_load

DAY = date(2026, 3, 5)


def lesson(on: date, *log: dict[str, Any]) -> Lesson:
    written = {"student": "ines-invented", "date": str(on), "club": "7-iron", "practice_log": log}
    return Lesson.model_validate(written)


def day(back: int, **of: Any) -> dict[str, Any]:
    """Practice `back` days before the lesson."""
    return {"date": str(DAY - timedelta(days=back)), **of}


def load(*log: dict[str, Any], before: tuple[Lesson, ...] = (), born: str = "1986-05-01") -> Load:
    student = Student.model_validate({"name": "Ines Invented", "born": born, "plays": "right"})
    return load_of([*before, lesson(DAY, *log)], student, DAY)


def test_a_week_is_the_seven_days_that_end_on_the_day_of_the_lesson() -> None:
    of = load(day(0, swings=10), day(6, swings=20), day(7, swings=300))
    assert of.weekly_swings == (300, 30)
    assert of.swings_this_week == 30


def test_the_last_four_logged_weeks_count_newest_last() -> None:
    of = load(*(day(7 * week, swings=100 + week) for week in range(6)))
    assert of.weekly_swings == (103, 102, 101, 100)
    assert of.mean_of_last_four == 101.5


def test_a_week_that_was_not_logged_is_not_a_week_without_practice() -> None:
    of = load(day(1, swings=80), day(15, swings=120))
    assert of.weekly_swings == (120, 80)
    assert of.mean_of_last_four == 100


def test_what_is_older_than_eight_weeks_is_forgotten() -> None:
    assert load(day(55, swings=90)).weekly_swings == (90,)
    assert load(day(56, swings=90)).weekly_swings == ()


def test_without_a_log_nothing_is_known() -> None:
    of = load()
    assert (of.weekly_swings, of.mean_of_last_four, of.rise, told_load(of).says) == ((), None, None, None)


def test_the_logs_of_all_lessons_so_far_count() -> None:
    earlier = lesson(DAY - timedelta(days=7), day(8, swings=60))
    assert load(day(1, swings=40), before=(earlier,)).weekly_swings == (60, 40)


def test_a_log_of_a_later_lesson_does_not_count() -> None:
    later = lesson(DAY + timedelta(days=7), day(1, swings=500))
    assert load(day(2, swings=40), before=(later,)).weekly_swings == (40,)


@pytest.mark.parametrize(
    ("kind", "swings"), [("range", 40), ("course", 40), ("speed-sticks", 40), ("short-game", 0), (None, 40)]
)
def test_full_swings_are_counted_and_chips_and_putts_are_not(kind: str | None, swings: int) -> None:
    of = load(day(1, swings=40, **({"kind": kind} if kind else {})))
    assert of.swings_this_week == (swings or None)
    assert of.kinds == (kind or "range",)


def test_the_rise_is_this_week_over_the_mean_of_the_logged_weeks_before() -> None:
    assert load(day(1, swings=150), day(8, swings=80), day(15, swings=120)).rise == 1.5


def test_a_rise_over_one_week_alone_is_not_told() -> None:
    assert load(day(1, swings=150), day(8, swings=80)).rise is None


def test_a_rise_over_weeks_of_nothing_is_not_told() -> None:
    assert load(day(1, swings=150), day(8, swings=0), day(15, swings=0)).rise is None


def test_a_steady_habit_reads_as_no_rise() -> None:
    assert load(*(day(7 * week + 2, swings=90) for week in range(5))).rise == 1


def test_days_count_once_and_the_lesson_is_a_day_of_golf() -> None:
    of = load(day(1, swings=50), day(1, minutes=20, kind="short-game"), day(3, note="nine holes"))
    assert of.days_this_week == 3
    assert of.rest_days == 4


@pytest.mark.parametrize(
    ("back", "run"), [((1, 2, 3), 4), ((2, 3, 4), 3), ((1, 3, 5), 2), ((6, 7, 8, 9, 10), 5), ((7, 8, 9, 10), 1)]
)
def test_days_in_a_row_are_the_longest_run_that_reaches_into_this_week(back: tuple[int, ...], run: int) -> None:
    assert load(*(day(each, swings=10) for each in back)).days_in_a_row == run


def test_hours_are_the_minutes_of_the_last_seven_days() -> None:
    of = load(day(1, minutes=90), day(6, minutes=30), day(7, minutes=600))
    assert of.hours_this_week == 2


def test_months_in_a_row_go_back_over_the_turn_of_the_year() -> None:
    earlier = tuple(lesson(date(*month, 9)) for month in ((2025, 10), (2025, 12), (2026, 1), (2026, 2)))
    assert load(before=earlier).months_in_a_row == 4


def test_the_log_is_said_in_words() -> None:
    of = load(day(1, swings=90, minutes=90), day(8, swings=60), day(15, swings=70))
    assert told_load(of).says == (
        "In the last seven days you logged 90 full swings. The weeks before: 70 and 60. In the last seven days: "
        "90 minutes of golf. Days without golf: 5 of seven."
    )


def test_a_junior_is_told_the_hours_of_a_week() -> None:
    of = load(day(1, minutes=60), born="2013-03-06")
    assert of.age == 12
    assert str(told_load(of).says).endswith("At your age, 12 hours a week are enough, all sports together.")


# single days


def test_the_fullest_day_and_the_fullest_two_days_are_of_the_last_week() -> None:
    of = load(day(1, swings=180), day(2, swings=220), day(4, swings=50), day(9, swings=900))
    assert (of.most_swings_a_day, of.most_swings_in_two_days) == (220, 400)


def test_two_entries_of_one_day_are_one_day() -> None:
    of = load(day(1, swings=60), day(1, swings=40, kind="course"), day(1, swings=30, kind="short-game"))
    assert (of.most_swings_a_day, of.most_swings_in_two_days) == (100, 100)


def test_a_week_without_counted_swings_has_no_fullest_day() -> None:
    assert load(day(1, minutes=40)).most_swings_a_day is None


# rest


def test_a_day_of_rest_is_no_day_of_golf() -> None:
    of = load(day(1, minutes=0, note="back ached; rested"), day(2, minutes=30))
    assert (of.days_this_week, of.hours_this_week) == (2, 0.5)  # the day before yesterday, and the lesson


def test_a_day_of_rest_has_no_swings() -> None:
    with pytest.raises(ValueError, match="20 swings in 0 minutes"):
        lesson(DAY, day(1, minutes=0, swings=20))
