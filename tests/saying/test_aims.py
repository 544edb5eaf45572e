"""The goal, the next lesson and the rounds in words."""

from datetime import date

import pytest

from reportgen.records.aims import Goal, NextLesson, PlayedRound
from reportgen.records.report import Scores
from reportgen.saying.aims import told_goal, told_next_lesson, told_scores

DAY = date(2026, 9, 30)


@pytest.mark.parametrize(
    ("by", "seen_by", "says"),
    [
        (DAY, "Three rounds under 90.", "By 30 September 2026. How you will see it: Three rounds under 90."),
        (DAY, None, "By 30 September 2026."),
        (None, "Three rounds under 90.", "How you will see it: Three rounds under 90."),
        (None, None, None),
    ],
)
def test_a_goal_is_told_with_its_day_and_its_sign(by, seen_by, says):
    assert told_goal(Goal(what="Break 90", by=by, seen_by=seen_by), stopped=False).says == says


@pytest.mark.parametrize(("what", "told"), [("Break 90", "Break 90."), ("Break 90!", "Break 90!")])
def test_a_goal_ends_as_a_sentence_does(what, told):
    assert told_goal(Goal(what=what), stopped=False).what == told


def test_after_a_stop_there_is_no_hurry():
    assert told_goal(Goal(what="Break 90"), stopped=True).says == "It stays your goal. There is no hurry."


@pytest.mark.parametrize(
    ("place", "says"),
    [
        (None, "Thursday, 12 March 2026, 17:30"),
        ("Practice ground", "Thursday, 12 March 2026, 17:30, Practice ground"),
    ],
)
def test_the_next_lesson_is_told_by_weekday_day_time_and_place(place, says):
    assert told_next_lesson(NextLesson(date=date(2026, 3, 12), time="17:30", place=place)).says == says


def scores(*strokes: int, competitions: tuple[int, ...] = (), holes: int = 18) -> Scores:
    rounds = [
        PlayedRound(date=date(2026, 5, 1 + k), score=score, holes=holes, competition=k in competitions)
        for k, score in enumerate(strokes)
    ]
    return Scores(holes=holes, rounds=tuple(rounds))


@pytest.mark.parametrize(
    ("played", "says"),
    [
        (scores(96), "Rounds of 18 holes: one round, 96 on 1 May 2026."),
        (scores(47, holes=9), "Rounds of 9 holes: one round, 47 on 1 May 2026."),
        (
            scores(96, 91, 98),
            "Rounds of 18 holes: 3 rounds from 1 May 2026 to 3 May 2026, first 96, last 98, "
            "fewest strokes 91 on 2 May 2026.",
        ),
        (scores(96, competitions=(0,)), "Rounds of 18 holes: one round, 96 on 1 May 2026. It was a competition."),
        (
            scores(96, 91, competitions=(1,)),
            "Rounds of 18 holes: 2 rounds from 1 May 2026 to 2 May 2026, first 96, last 91, "
            "fewest strokes 91 on 2 May 2026. 1 of them was a competition.",
        ),
        (
            scores(96, 91, competitions=(0, 1)),
            "Rounds of 18 holes: 2 rounds from 1 May 2026 to 2 May 2026, first 96, last 91, "
            "fewest strokes 91 on 2 May 2026. 2 of them were competitions.",
        ),
    ],
)
def test_the_rounds_are_told_as_they_are_without_a_trend(played, says):
    assert told_scores(played).says == says
