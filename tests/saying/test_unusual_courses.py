"""Histories that are not a lesson a week with the same club: each says something sensible."""

import re

from tests.judging.academies import ADULT, judged, reading, sheet

OPEN = "pelvis-open-impact"


def says(reports, metric=OPEN):
    """The words of the metric's course in the last report."""
    return next(series.says for series in reports[-1].progress if series.metric == metric)


def test_one_lesson_says_that_it_is_the_first(tmp_path):
    assert says(judged(tmp_path, {"2026-03-05": sheet(reading(OPEN, 62))})) == "First time measured."


def test_after_months_without_a_lesson_the_last_one_still_counts(tmp_path):
    reports = judged(tmp_path, {"2025-08-05": sheet(reading(OPEN, 80)), "2026-03-05": sheet(reading(OPEN, 62))})
    assert says(reports) == "It was 80° open on 5 August 2025. From the third day on we can say how it changes."


def test_a_second_lesson_of_the_day_is_held_against_the_first(tmp_path):
    reports = judged(tmp_path, {"2026-03-05": sheet(reading(OPEN, 62)), "2026-03-05-2": sheet(reading(OPEN, 61))})
    assert says(reports) == "It was 62° open on 5 March. From the third day on we can say how it changes."


def test_another_unit_for_the_same_value_is_no_change(tmp_path):
    lessons = {
        "2026-03-05": "readings:\n  - {metric: seat-forward-impact, value: 2.0, unit: in, how: sensor, u: 0.1}",
        "2026-03-12": "readings:\n  - {metric: seat-forward-impact, value: 5.08, unit: cm, how: sensor, u: 0.254}",
    }
    change = judged(tmp_path, lessons)[-1].findings[0].change
    assert round(change.by, 9) == 0


def test_another_way_of_measuring_is_not_compared_and_says_so(tmp_path):
    eye = f"readings:\n  - {{metric: {OPEN}, value: 60, unit: deg, how: by-eye}}"
    reports = judged(tmp_path, {"2026-03-05": eye, "2026-03-12": sheet(reading(OPEN, 62))})
    assert says(reports) == "We do not compare with 5 March, when it was measured by eye."
    assert reports[-1].findings[0].change is None


def test_a_birthday_that_brings_another_range_is_told(tmp_path):
    born = "born: 2008-03-08"  # an adult from 8 March 2026
    reports = judged(tmp_path, {"2026-03-05": sheet(reading(OPEN, 62)), "2026-03-12": sheet(reading(OPEN, 62))}, born)
    young, grown = (report.findings[0] for report in reports)
    assert (young.verdict, grown.verdict) == ("not judged", "above range")
    assert grown.change is not None


def test_moving_from_one_range_to_another_names_both(tmp_path):
    born = "born: 1966-03-08"  # a senior from 8 March 2026
    reports = judged(tmp_path, {"2026-03-05": sheet(reading(OPEN, 62)), "2026-03-12": sheet(reading(OPEN, 62))}, born)
    note = reports[-1].findings[0].note
    assert note == "On 5 March we used the range for adults. Now we use the range for seniors."


def test_a_row_of_lessons_in_range_counts_from_its_first(tmp_path):
    values = {"2025-02-05": 70, "2026-02-12": 45, "2026-02-19": 46, "2026-02-26": 44}
    reports = judged(tmp_path, {day: sheet(reading(OPEN, value)) for day, value in values.items()}, ADULT)
    assert "In range since 12 February." in says(reports)


def test_a_course_that_is_no_chance_is_said_with_its_size_and_what_chance_could_make(tmp_path):
    values = {"2026-02-05": 95, "2026-02-12": 90, "2026-02-19": 80, "2026-02-26": 70}
    lessons = {day: sheet(reading(OPEN, value, u=1)) for day, value in values.items()}
    assert re.fullmatch(
        r"It was 95° open on 5 February\. It has moved towards the range by 2\d°\. Measuring and an ordinary day "
        r"explain up to [12]\d°\.",
        says(judged(tmp_path, lessons)),
    )


def test_what_may_still_be_chance_is_said_as_such(tmp_path):
    days = [f"2026-0{month}-{day:02}" for month in (1, 2) for day in (3, 10, 17, 24)]
    lessons = {day: sheet(reading(OPEN, 80 - 2 * number)) for number, day in enumerate(days)}
    assert says(judged(tmp_path, lessons)) == (
        "It was 80° open on 3 January. It seems to be moving towards the range, but it is too early to be sure."
    )


def test_what_the_sheet_follows_is_in_focus_from_the_first(tmp_path):
    days = [f"2026-0{month}-{day:02}" for month in (1, 2) for day in (3, 10, 17, 24)]
    bend = [reading("side-bend-impact", 20 + 1.6 * number) for number in range(8)]
    followed, not_followed = (
        {day: sheet(line, f"follow: [{metric}]") for day, line in zip(days, bend, strict=True)}
        for metric in ("side-bend-impact", OPEN)
    )
    courses = [
        judged(tmp_path / str(k), lessons)[-1].findings[0].course for k, lessons in enumerate((followed, not_followed))
    ]
    assert [course.rung for course in courses] == ["seems to be moving", "no change we can see"]
