"""The plan of one lesson: what to work on, with which drills, in which week. After a stop there is none."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from reportgen.judging.drill_tests import tested_now
from reportgen.judging.judgement import Earlier, Judgement
from reportgen.judging.of_kind import same_kind
from reportgen.judging.safety import held_sites
from reportgen.planning.drill_choice import Suits, level_of, missed
from reportgen.planning.practised import practised
from reportgen.planning.small_game import SmallPractice, counted_again, with_small_game
from reportgen.planning.week import limits_of, phase_of, practice_days, practice_week, within_a_day
from reportgen.planning.work import BallSeen, drills_of, work_of
from reportgen.records.academy import Student
from reportgen.records.cause_findings import BallFirst
from reportgen.records.drill_tests import DrillTested
from reportgen.records.lesson import Lesson
from reportgen.records.practice import Phase
from reportgen.records.practice_week import PracticeWeek, Practised
from reportgen.records.report import DeskRemark, GivenDrill, Missing, Outlook, Priority
from reportgen.records.shot_findings import CountFound
from reportgen.sheets.library import Library


@dataclass(frozen=True)
class Plan:
    """What follows from a judgement, what the tests of drills have come to, what had to be left out, and remarks for
    the instructor alone. `ball_first` heads it, where it is not None; `outlook` stands where nothing is worked on."""

    ball_first: BallFirst | None = None
    priorities: tuple[Priority, ...] = ()
    outlook: Outlook | None = None
    drills: tuple[GivenDrill, ...] = ()
    practice: PracticeWeek | None = None
    practised: Practised | None = None
    tested: tuple[DrillTested, ...] = ()
    left_out: tuple[Missing, ...] = ()
    for_the_desk: tuple[DeskRemark, ...] = ()


def plan_lesson(
    lesson: Lesson, judged: Judgement, ball: BallSeen, student: Student, before: Sequence[Earlier], library: Library
) -> Plan:
    """The plan of a judged lesson with its counts of shots, by the `library` of its kind; `before` holds the student's
    earlier lessons of all kinds, oldest first."""
    if judged.stopped:
        return Plan()
    lessons = [earlier.lesson for earlier in before] + [lesson]
    alike = same_kind(before, lesson.kind)
    reports = [earlier.report for earlier in alike]
    work = work_of(lesson, judged, ball, student, library, first_lesson=not alike)
    held = held_sites(library.rules, judged.cautions)
    suits = Suits(
        spared=held if _cleared(lessons) else held | frozenset(student.watch),
        restricted=frozenset(student.mobility.restricted),
        equipment=student.equipment,
        level=level_of(len(alike) + 1),
        given_before=[given.drill for report in reports[-3:] for given in report.drills],
    )
    drills, left_out = drills_of(work, lesson, missed(ball.counts), reports, suits, library)
    speed = judged.facts.stage != "junior" and not held
    phase = phase_of(work.asks_for, judged.facts.findings, len(alike) + 1)
    drills, week, remarks = _practice(drills, _Asked(lesson, judged, student, ball.counts, phase, speed), library)
    new = lessons[1 + lessons.index(alike[-1].lesson) :] if alike else lessons
    tested = tested_now(lessons, [given.drill for given in drills], library.drills, len(new))
    log = [entry for one in new for entry in one.practice_log]
    did = practised(reports[-1] if reports else None, log, lesson.kind)
    remarks = [*work.for_the_desk, *remarks]
    return Plan(work.heads, work.priorities, work.outlook, drills, week, did, tested, left_out, tuple(remarks))


class _Asked(NamedTuple):
    """What a week of practice goes by."""

    lesson: Lesson
    judged: Judgement
    student: Student
    counts: Sequence[CountFound]
    phase: Phase
    speed: bool


def _practice(
    given: Sequence[GivenDrill], asked: _Asked, library: Library
) -> tuple[tuple[GivenDrill, ...], PracticeWeek | None, list[DeskRemark]]:
    """The drills with doses that a day has room for, the week with full swings and small ones, remarks for the desk."""
    facts, time, rules = asked.judged.facts, asked.student.practice, library.practice
    limits = limits_of(facts.stage, asked.judged.load, time, rules, facts.growth.stage if facts.growth else None)
    days = practice_days(asked.lesson.date, time, limits.days)
    full = [one for one in given if "full-swing" in library.drills[one.drill].kinds]
    swung, remarks = within_a_day(full, limits)
    week = practice_week(swung, asked.phase, limits, days, rules.warm_up.minutes, speed_allowed=asked.speed)
    if rules.small_game is None:
        raise ValueError("the shipped practice.yaml lacks small_game")
    of_strokes = replace(limits, swings_a_day=rules.small_game.strokes_a_day)
    small, more = within_a_day([one for one in given if one not in full], of_strokes)
    again = counted_again(asked.counts, asked.lesson.kind)
    week = with_small_game(week, SmallPractice(small, asked.counts, again, rules.small_game), limits, days)
    return (*swung, *small), week, [*remarks, *more]


def _cleared(lessons: Sequence[Lesson]) -> bool:
    """Whether a clinician has cleared the student to load what is watched."""
    return any(lesson.cleared is not None and lesson.cleared.on <= lesson.date for lesson in lessons)
