"""What lies ahead of a student: the goal and the next lesson, with the rounds played so far. It belongs to the latest
lesson alone: an earlier one keeps no goal that has changed since, and no day that another sheet has moved."""

from itertools import groupby

from reportgen.records.academy import ADULT_FROM, Student
from reportgen.records.aims import Goal, NextLesson
from reportgen.records.lesson import Lesson
from reportgen.records.report import DeskRemark, LessonReport, Scores


def with_what_lies_ahead(report: LessonReport, lesson: Lesson, student: Student) -> LessonReport:
    """The report of the latest lesson, with what its sheet and student.yaml say of what comes next.

    While a stop stands the goal stays without its day and its sign: nothing must press for swings. Nothing tells where
    a player under 18 will be, or plays.
    """
    minor = student.age_on(lesson.date) < ADULT_FROM
    goal, over = student.goal, _is_over(student.goal, lesson)
    remarks = (*report.for_the_desk, DeskRemark(code="goal over")) if over else report.for_the_desk
    return report.model_copy(
        update={
            "goal": None if over or goal is None else Goal(what=goal.what) if report.stopped else goal,
            "next_lesson": _without_its_place(lesson.next_lesson) if minor else lesson.next_lesson,
            "handicap": student.handicap,
            "scores": scores_of(student, named=not minor),
            "for_the_desk": remarks,
        }
    )


def scores_of(student: Student, *, named: bool) -> tuple[Scores, ...]:
    """The rounds of 18 and those of 9 holes, each oldest first; their courses where they may be `named`. Rounds over
    different numbers of holes are never compared."""
    shown = [played if named else played.model_copy(update={"course": None}) for played in student.rounds]
    shown.sort(key=lambda played: (-played.holes, played.date))
    return tuple(Scores(holes=holes, rounds=tuple(same)) for holes, same in groupby(shown, lambda each: each.holes))


def _is_over(goal: Goal | None, lesson: Lesson) -> bool:
    return goal is not None and goal.by is not None and goal.by < lesson.date


def _without_its_place(lesson: NextLesson | None) -> NextLesson | None:
    return None if lesson is None else lesson.model_copy(update={"place": None})
