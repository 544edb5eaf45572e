"""What lies ahead of a student, and the rounds so far: as student.yaml and the latest sheet say."""

from datetime import date

import pytest

from reportgen.pipeline import load
from tests.judging.academies import ADULT, JUNIOR, judge_folder, write_academy

GOAL = "goal: {what: Break 90, by: 2026-09-30, seen_by: Three rounds under 90.}"
SORE = "comfort: [{site: low-back, score: 8, when: during}]"
NEXT = 'next_lesson: {date: 2026-03-26, time: "9:05", place: Practice ground}'


def reports(root, lessons, *student):
    folder = load(write_academy(root, lessons, "\n".join(student or (ADULT,))))
    assert [str(problem) for problem in folder.problems] == []
    return judge_folder(folder)


def test_the_goal_is_that_of_the_latest_lesson_alone(tmp_path):
    first, last = reports(tmp_path, {"2026-03-05": "", "2026-03-12": ""}, ADULT, GOAL)
    assert first.goal is None
    assert (last.goal.what, last.goal.by, last.goal.seen_by) == (
        "Break 90",
        date(2026, 9, 30),
        "Three rounds under 90.",
    )


def test_after_a_stop_the_goal_stays_without_its_day_and_its_sign(tmp_path):
    (report,) = reports(tmp_path, {"2026-03-05": SORE}, ADULT, GOAL)
    assert report.stopped
    assert (report.goal.what, report.goal.by, report.goal.seen_by) == ("Break 90", None, None)


def test_after_a_stop_the_next_lesson_stays(tmp_path):
    (report,) = reports(tmp_path, {"2026-03-05": f"{SORE}\n{NEXT}"})
    assert (report.next_lesson.date, report.next_lesson.time) == (date(2026, 3, 26), "09:05")


@pytest.mark.parametrize(("day", "stands"), [("2026-09-30", True), ("2026-10-01", False)])
def test_a_goal_stands_until_its_day_and_then_the_desk_asks_for_the_next(tmp_path, day, stands):
    (report,) = reports(tmp_path, {day: ""}, ADULT, GOAL)
    assert (report.goal is not None) == stands
    assert ("goal over" in [remark.code for remark in report.for_the_desk]) != stands


@pytest.mark.parametrize(("later", "told"), [(NEXT, date(2026, 3, 26)), ("", None)])
def test_the_next_lesson_is_that_of_the_latest_sheet(tmp_path, later, told):
    earlier = 'next_lesson: {date: 2026-03-19, time: "17:30"}'
    first, last = reports(tmp_path, {"2026-03-05": earlier, "2026-03-12": later})
    assert first.next_lesson is None
    assert (last.next_lesson and last.next_lesson.date) == told


ROUNDS = """\
rounds:
  - {date: 2026-02-20, score: 96, par: 72, course: Invented Links}
  - {date: 2026-02-06, score: 47, holes: 9}
  - {date: 2026-01-16, score: 99, competition: true}"""


def test_rounds_of_18_and_of_9_holes_stand_apart_each_oldest_first(tmp_path):
    (report,) = reports(tmp_path, {"2026-03-05": ""}, ADULT, ROUNDS)
    found = [(scores.holes, [played.score for played in scores.rounds]) for scores in report.scores]
    assert found == [(18, [99, 96]), (9, [47])]


def test_a_round_changes_no_earlier_lesson(tmp_path):
    lessons = {"2026-03-05": "", "2026-03-12": ""}
    before, after = reports(tmp_path / "a", lessons), reports(tmp_path / "b", lessons, ADULT, ROUNDS)
    assert before[0] == after[0]
    assert before[1] != after[1]


def test_a_handicap_is_kept_as_it_is_said(tmp_path):
    for said in ("18.40", "+1.4", "about 20, I think"):
        (report,) = reports(tmp_path, {"2026-03-05": ""}, ADULT, f"handicap: {said}")
        assert report.handicap == said


def test_nothing_tells_where_a_player_under_18_will_be_or_plays(tmp_path):
    (grown,) = reports(tmp_path / "a", {"2026-03-05": NEXT}, ADULT, ROUNDS)
    (minor,) = reports(tmp_path / "b", {"2026-03-05": NEXT}, JUNIOR, ROUNDS)
    assert "Practice ground" in grown.model_dump_json()
    assert "Invented Links" in grown.model_dump_json()
    assert "Practice ground" not in minor.model_dump_json()
    assert "Invented Links" not in minor.model_dump_json()
    assert minor.next_lesson.date == grown.next_lesson.date
    assert [played.score for played in minor.scores[0].rounds] == [99, 96]
