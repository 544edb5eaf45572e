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
    assert "your range is 35° to 55° open" in found.reason


def test_a_likely_one_is_said_to_be_unsettled(tmp_path):
    found = one(tmp_path, reading(OPEN, 58, u=2)).priorities[0]
    assert "our measuring cannot settle that yet" in found.reason


def test_a_priority_tells_what_it_was_and_what_became_of_it(tmp_path):
    values = {"2026-03-05": 95, "2026-03-12": 90, "2026-03-19": 82, "2026-03-26": 70}
    lessons = {day: sheet(reading(OPEN, value, u=1)) for day, value in values.items()}
    reason = judged(tmp_path, lessons)[-1].priorities[0].reason
    assert re.match(r"By all lessons so far it is [78]\d° open; your range is 35° to 55° open\. ", reason)
    assert "This time it was 70° open. On 19 Mar it was 82° open." in reason
    assert "Since 5 Mar it has moved toward the range, by 25°." in reason


def test_the_difference_of_two_days_is_no_change_of_the_player(tmp_path):
    lessons = {"2026-03-05": sheet(reading(OPEN, 95, u=1)), "2026-03-12": sheet(reading(OPEN, 65, u=1))}
    reason = judged(tmp_path, lessons)[-1].priorities[0].reason
    assert "On 5 Mar it was 95° open." in reason
    assert "moved" not in reason
