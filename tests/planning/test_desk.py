"""What the instructor's desk says of each student."""

from datetime import date

import pytest

from reportgen.pipeline import load
from reportgen.planning.desk import desk_entries, on_desk
from reportgen.records.mailed import Mailed
from reportgen.saying.desk import told_cautions, told_entries
from reportgen.saying.readers import Reader
from tests.judging.academies import ADULT, ID, judge_folder, reading, sheet, write_academy
from tests.judging.ball_lessons import shots, with_shots

HIPS = reading("pelvis-open-impact", 75, u=1)


def desk(root, on, more="", student=ADULT):
    folder = load(write_academy(root, {"2026-03-05": sheet(HIPS, more)}, student))
    one = on_desk(folder.students[ID], judge_folder(folder)[-1])
    entry, = told_entries(desk_entries([one], {}, folder.academy, on), folder.library, Reader())  # fmt: skip
    return entry, told_cautions([one], folder.library, Reader())


@pytest.mark.parametrize(
    ("on", "overdue"), [("2026-03-05", 0), ("2026-03-12", 0), ("2026-03-13", 1), ("2026-03-22", 10)]
)
def test_a_student_is_due_a_week_after_the_last_lesson_and_overdue_from_the_day_after(tmp_path, on, overdue):
    entry, _ = desk(tmp_path, date.fromisoformat(on))
    assert (str(entry.due), entry.overdue) == ("2026-03-12", overdue)


def test_a_student_is_due_on_the_day_of_the_next_lesson_where_the_latest_sheet_gives_one(tmp_path):
    entry, _ = desk(tmp_path, date(2026, 4, 3), 'next_lesson: {date: 2026-04-02, time: "17:30"}')
    assert (str(entry.due), entry.overdue) == ("2026-04-02", 1)


def test_the_desk_says_that_a_goal_is_over(tmp_path):
    entry, _ = desk(tmp_path, date(2026, 3, 6), student=f"{ADULT}\ngoal: {{what: Break 90, by: 2026-03-01}}")
    assert entry.working_on[1:] == (
        "The day of the goal has passed, so no page shows it. Write the next one into student.yaml.",
    )


def test_the_desk_shows_a_stop_and_what_a_student_works_on(tmp_path):
    working, _ = desk(tmp_path / "well", date(2026, 3, 6))
    stopped, _ = desk(tmp_path / "sore", date(2026, 3, 6), "comfort: [{site: low-back, score: 7, when: after}]")
    assert (working.stopped, working.working_on) == (False, ("Let the hips slow down before impact",))
    assert (stopped.stopped, stopped.working_on) == (True, ())


def test_the_desk_says_that_the_ball_heads_the_report(tmp_path):
    slicer = shots(start=-3.0, face=-3.0, path=-9.0, carry=150.0, side=16.0)
    with_shots(tmp_path, slicer, HIPS)
    folder = load(tmp_path)
    one = on_desk(folder.students[ID], judge_folder(folder)[-1])
    (entry,) = told_entries(desk_entries([one], {}, folder.academy, date(2026, 3, 6)), folder.library, Reader())
    assert entry.working_on == (
        "First face and path: they curve the ball to the trail side",
        "Let the hips slow down before impact",
    )


def test_the_desk_says_that_fewer_than_before_heads_the_report(tmp_path):
    counts = [f"shots:\n  - {{count: on-line, made: {made}, of: 10, width: 2 m, distance: 20 m}}" for made in (10, 1)]
    sheets = dict(zip(("2026-03-05", "2026-03-12"), counts, strict=True))
    folder = load(write_academy(tmp_path, sheets))
    one = on_desk(folder.students[ID], judge_folder(folder)[-1])
    (entry,) = told_entries(desk_entries([one], {}, folder.academy, date(2026, 3, 13)), folder.library, Reader())
    assert entry.working_on[0] == "First the ball: fewer than before"


def test_the_desk_lists_the_cautions_of_a_student_but_not_those_that_everybody_hears(tmp_path):
    _, none = desk(tmp_path / "well", date(2026, 3, 6))
    _, some = desk(tmp_path / "watched", date(2026, 3, 6), student=f"{ADULT}\nwatch: [low-back]")
    assert none == ()
    assert {caution.usual for caution in some[0].cautions} == {False}


def test_a_student_whose_sheets_have_problems_is_still_listed(tmp_path):
    folder = load(write_academy(tmp_path, {"2026-03-05": "readings: [{metric: nothing}]"}))
    entry, = desk_entries([on_desk(folder.students[ID], None)], {}, folder.academy, date(2026, 3, 6))  # fmt: skip
    assert (entry.on_desk.name, entry.on_desk.problems > 0) == ("Ines Invented", True)


def test_the_desk_says_how_the_mail_stands_and_of_which_lesson(tmp_path):
    folder = load(write_academy(tmp_path, {"2026-03-05": sheet(HIPS), "2026-03-12": sheet(HIPS)}))
    one = on_desk(folder.students[ID], judge_folder(folder)[-1])
    mails = {
        name: Mailed(lesson, "mailed", date(2026, 3, 6), "")
        for name, lesson in (("old", "2026-03-05"), ("new", "2026-03-12"))
    }
    told = {}
    for name in ("old", "new"):
        (entry,) = desk_entries([one], {}, folder.academy, date(2026, 3, 13), {ID: mails[name]})
        told[name] = (entry.mailed.lesson, entry.unsent)
    assert told == {"old": ("2026-03-05", True), "new": ("2026-03-12", False)}


@pytest.mark.parametrize(
    ("student", "waits_for"),
    [
        (ADULT, ("a mail address",)),
        (f"{ADULT}\nmail: [ines@example.org]", ()),
        (ADULT.replace("born: 1986", "born: 2014"), ("a guardian’s mail address",)),
        (f"{ADULT.replace('born: 1986', 'born: 2014')}\nguardian: {{name: Ada Invented, mail: ada@example.org}}", ()),
    ],
)
def test_the_desk_says_what_only_a_student_or_guardian_can_give(tmp_path, student, waits_for):
    entry, _ = desk(tmp_path, date(2026, 3, 6), student=student)
    assert entry.waits_for == waits_for
