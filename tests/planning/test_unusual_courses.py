"""Histories that are not a lesson a week with the same club: each says something sensible."""

from tests.judging.academies import ADULT, judged, reading, sheet

OPEN = "pelvis-open-impact"


def says(reports, metric=OPEN):
    """The words of the metric's course in the last report."""
    return next(series.says for series in reports[-1].progress if series.metric == metric)


def test_one_lesson_says_that_it_is_the_first(tmp_path):
    assert says(judged(tmp_path, {"2026-03-05": sheet(reading(OPEN, 62))})) == "First time measured."


def test_after_months_without_a_lesson_the_last_one_still_counts(tmp_path):
    reports = judged(tmp_path, {"2025-08-05": sheet(reading(OPEN, 75)), "2026-03-05": sheet(reading(OPEN, 62))})
    assert says(reports) == (
        "It was 75° open on 5 August 2025. It has moved toward the range by 13°, more than our measuring error of 8°."
    )


def test_a_second_lesson_of_the_day_is_held_against_the_first(tmp_path):
    reports = judged(tmp_path, {"2026-03-05": sheet(reading(OPEN, 62)), "2026-03-05-2": sheet(reading(OPEN, 61))})
    assert says(reports) == (
        "It was 62° open on 5 March. No change that we can see yet: it would have to be more than 8°."
    )


def test_another_unit_for_the_same_value_is_no_change(tmp_path):
    lessons = {
        "2026-03-05": "readings:\n  - {metric: seat-forward-impact, value: 2.0, unit: in, how: sensor, u: 0.1}",
        "2026-03-12": "readings:\n  - {metric: seat-forward-impact, value: 5.08, unit: cm, how: sensor, u: 0.254}",
    }
    change = judged(tmp_path, lessons)[-1].findings[0].change
    assert (round(change.by, 9), change.real) == (0, False)


def test_another_way_of_measuring_is_not_compared_and_says_so(tmp_path):
    eye = f"readings:\n  - {{metric: {OPEN}, value: 60, unit: deg, how: by-eye}}"
    reports = judged(tmp_path, {"2026-03-05": eye, "2026-03-12": sheet(reading(OPEN, 62))})
    assert says(reports) == "On 5 March it was measured by eye: that is not compared."
    assert reports[-1].findings[0].change is None


def test_a_birthday_that_brings_another_range_is_told(tmp_path):
    born = "born: 2008-03-08"  # an adult from 8 March 2026
    reports = judged(tmp_path, {"2026-03-05": sheet(reading(OPEN, 62)), "2026-03-12": sheet(reading(OPEN, 62))}, born)
    young, grown = (report.findings[0] for report in reports)
    assert (young.verdict, grown.verdict) == ("no range", "above range")
    assert grown.change is not None
    assert grown.change.says == "no change we can see"


def test_moving_from_one_range_to_another_names_both(tmp_path):
    born = "born: 1966-03-08"  # a senior from 8 March 2026
    reports = judged(tmp_path, {"2026-03-05": sheet(reading(OPEN, 62)), "2026-03-12": sheet(reading(OPEN, 62))}, born)
    note = reports[-1].findings[0].note
    assert note == "On 5 March it was held against the range for adults; now it is the one for seniors."


def test_a_row_of_lessons_in_range_counts_from_its_first(tmp_path):
    values = {"2026-02-05": 70, "2026-02-12": 45, "2026-02-19": 46, "2026-02-26": 44}
    reports = judged(tmp_path, {day: sheet(reading(OPEN, value)) for day, value in values.items()}, ADULT)
    assert "In range since 12 February." in says(reports)


def test_the_nearest_so_far_is_said_where_measurement_error_does_not_explain_it(tmp_path):
    values = {"2026-02-05": 80, "2026-02-12": 75, "2026-02-19": 65}
    reports = judged(tmp_path, {day: sheet(reading(OPEN, value)) for day, value in values.items()})
    assert reports[-1].findings[0].best_so_far
    assert says(reports).endswith("That is the nearest to your range so far.")


def test_a_clear_course_is_told_with_its_interval(tmp_path):
    days = [f"2026-0{month}-{day:02}" for month in (1, 2) for day in (3, 10, 17, 24)]
    lessons = {day: sheet(reading(OPEN, 80 - 2 * number)) for number, day in enumerate(days)}
    reports = judged(tmp_path, lessons)
    assert "Over the last 8 lessons the number goes down by about 8° a month" in says(reports)
