"""The tests of the shipped drills: they can be counted, ask for nothing more, and luck alone seldom passes them."""

import re

from reportgen.judging.counts import chance_to_pass
from reportgen.records.content import Drill
from tests.content.shipped import each_drill


@each_drill
def test_every_drill_has_a_test(drill: Drill) -> None:
    assert drill.test


@each_drill
def test_a_test_asks_for_no_swing_beyond_one_dose(drill: Drill) -> None:
    assert drill.test
    assert drill.dose.minutes or drill.test.of <= drill.dose.swings


@each_drill
def test_a_drill_without_a_ball_counts_no_balls(drill: Drill) -> None:
    assert drill.test
    counted = f"{drill.test.count} {(drill.test.setting or '').replace('no ball', '')}"
    assert drill.ball or not re.search(r"\bball\b|\bstrike\b", counted)


@each_drill
def test_the_easier_form_of_a_drill_for_a_stiff_hip_can_be_counted_too(drill: Drill) -> None:
    """It may leave the ball out, and then no ball is counted."""
    assert drill.test
    if {"lead-hip", "trail-hip"} & set(drill.loads):
        assert "ball" not in drill.test.count


@each_drill
def test_what_counts_is_one_sentence_of_at_most_20_words_that_begins_with_its_thing(drill: Drill) -> None:
    assert drill.test
    assert re.fullmatch(r"An? [\w-]+ counts when [^.!?:]+\.", drill.test.count)
    assert len(drill.test.count.split()) <= 20


@each_drill
def test_a_pass_is_more_than_a_half_makes_by_luck_in_one_of_five_tests(drill: Drill) -> None:
    """Binomial: 7 of 10 is 0.17, 8 of 10 is 0.05."""
    assert drill.test
    assert chance_to_pass(drill.test.passes, drill.test.of, 0.5) < 0.2


@each_drill
def test_a_test_without_a_citation_says_common_practice(drill: Drill) -> None:
    assert drill.test
    assert drill.test.source == "common practice, no source"
