"""A priority in words: what it is, why, and what changed."""

import re

import pytest

from tests.judging.academies import judged, one, reading, sheet

OPEN = "pelvis-open-impact"


@pytest.mark.parametrize(
    ("value", "headline"),
    [(75, "Let the hips slow down before impact"), (10, "Let the hips keep turning through the ball")],
)
def test_a_priority_says_what_to_do_and_by_what(tmp_path, value, headline):
    found = one(tmp_path, reading(OPEN, value, u=1)).priorities[0]
    assert found.headline == headline
    assert "your range is 25° to 55° open" in found.reason


def test_the_instructors_own_that_is_not_surely_out_is_said_to_be_too_close_to_call(tmp_path):
    found = one(tmp_path, reading(OPEN, 57, u=4), more=f"priorities: [{OPEN}]").priorities[0]
    assert "That is too close to call." in found.reason


def test_what_is_outside_by_less_than_is_shown_is_shown_with_one_digit_more(tmp_path):
    report = one(tmp_path, reading("tempo-ratio", 3.74, '"1"', u=0.01))
    assert "This time it was 3.74; your range is 2.3 to 3.7." in report.priorities[0].reason


def test_a_priority_tells_what_it_was_and_what_became_of_it(tmp_path):
    values = {"2026-03-05": 95, "2026-03-12": 90, "2026-03-19": 82, "2026-03-26": 70}
    lessons = {day: sheet(reading(OPEN, value, u=1)) for day, value in values.items()}
    reason = judged(tmp_path, lessons)[-1].priorities[0].reason
    assert re.match(r"By all lessons so far it is [78]\d° open; your range is 25° to 55° open\. ", reason)
    assert "This time it was 70° open. On 19 Mar it was 82° open." in reason
    assert "Since 5 Mar it has moved towards the range, by 25°." in reason


def test_the_difference_of_two_days_is_no_change_of_the_player(tmp_path):
    lessons = {"2026-03-05": sheet(reading(OPEN, 95, u=1)), "2026-03-12": sheet(reading(OPEN, 65, u=1))}
    reason = judged(tmp_path, lessons)[-1].priorities[0].reason
    assert "On 5 Mar it was 95° open." in reason
    assert "moved" not in reason
