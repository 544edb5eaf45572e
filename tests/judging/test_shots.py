"""Counted shots: what they are held against, and what is said of them."""

import pytest

from tests.judging.academies import judged, sheet

GATE = "width: 2 m, distance: 20 m"


def rows(*texts):
    return sheet("", "club: 7-iron", "shots:", *(f"  - {{{text}}}" for text in texts))


def on_line(made, of=10, more=""):
    return f"count: on-line, made: {made}, of: {of}, {GATE}{more}"


def counts(root, lessons, student="born: 1986-05-01"):
    return judged(root, {f"2026-03-{5 + 7 * k:02}": text for k, text in enumerate(lessons)}, student)[-1].counts


def test_a_first_count_stands_with_its_long_run_and_nothing_else(tmp_path):
    (found,) = counts(tmp_path, [rows(on_line(8))])
    assert found.name == "On line (2\u00a0m wide, 20\u00a0m away), 7-iron"
    assert (found.says, found.since) == ("8 of 10 (in the long run 5 to 9)", None)


def test_the_long_run_is_said_in_as_many_shots(tmp_path):
    (found,) = counts(tmp_path, [rows(on_line(14, 20))])
    assert found.says == "14 of 20 (in the long run 10 to 17)"


def test_two_dates_are_never_a_change_of_the_player(tmp_path):
    (found,) = counts(tmp_path, [rows(on_line(9)), rows(on_line(3))])
    assert found.since == (
        "On 5 March it was 9 of 10. That is a clear difference. Two days are not enough to know whether it lasts."
    )
    assert found.course is None


def test_few_shots_say_that_they_are_few_and_how_many_it_would_take(tmp_path):
    (found,) = counts(tmp_path, [rows(on_line(5)), rows(on_line(8))])
    assert found.against.verdict == "not enough shots to say"
    assert f"we need {found.against.shots} shots each time." in found.since


def test_where_it_would_take_hundreds_no_number_is_said(tmp_path):
    (found,) = counts(tmp_path, [rows(on_line(5)), rows(on_line(6))])
    assert found.since.endswith("That is no clear change: to settle it, we need far more shots than a lesson has.")


def test_three_dates_can_show_a_change(tmp_path):
    (found,) = counts(tmp_path, [rows(on_line(made, 30)) for made in (3, 10, 20, 28)])
    assert found.since == "Clearly more since 5 March, over 4 dates."


@pytest.mark.parametrize(
    "other",
    [
        on_line(9, more=", club: driver"),
        on_line(9).replace("20 m", "10 m"),
        on_line(9).replace("width: 2 m", "width: 1 m"),
        "count: solid, made: 9, of: 10",
        on_line(9, more=", when: after"),
    ],
    ids=["another club", "another distance", "another width", "another count", "after the work"],
)
def test_only_the_same_count_is_held_against_it(tmp_path, other):
    (found,) = counts(tmp_path, [rows(other), rows(on_line(3))])
    assert (found.earlier, found.since) == ((), None)


def test_the_same_gate_in_feet_is_the_same_gate(tmp_path):
    (found,) = counts(tmp_path, [rows(on_line(3).replace("2 m", "6.562 ft", 1)), rows(on_line(3))])
    assert len(found.earlier) == 1


def test_after_the_work_it_is_held_against_the_count_before_it(tmp_path):
    before, after = counts(tmp_path, [rows(on_line(4, more=", when: before"), on_line(6, more=", when: after"))])
    assert before.since is None
    assert after.since.startswith("Before the lesson’s work it was 4 of 10.")
    assert after.name.endswith("after the lesson’s work")


def test_a_reader_of_imperial_units_reads_of_feet_and_yards(tmp_path):
    (found,) = counts(tmp_path, [rows(on_line(8))], "born: 1986-05-01\nunits: imperial")
    assert found.name == "On line (6.6\u00a0ft wide, 21.9\u00a0yd away), 7-iron"


def test_strikes_are_told_by_place_beside_the_last_date(tmp_path):
    lessons = [rows("strike: {heel: 6, middle: 3, toe: 1}"), rows("strike: {heel: 2, middle: 8}")]
    lesson = judged(tmp_path, {f"2026-03-{5 + 7 * k:02}": text for k, text in enumerate(lessons)})[-1]
    assert lesson.strikes[0].says == (
        "Of 10 shots 2 towards the heel and 8 in the middle. "
        "On 5 March: 6 towards the heel, 3 in the middle and 1 towards the toe."
    )
