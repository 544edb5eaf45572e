"""The plan of one lesson: what to work on, with which drills, in which week. After a stop there is none."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import NamedTuple

from reportgen.judging.drill_tests import tested_now
from reportgen.judging.judgement import Earlier, Judgement
from reportgen.judging.of_kind import same_kind
from reportgen.planning.allowed import Standing, standing_of
from reportgen.planning.asking import asking_remarks
from reportgen.planning.dose_remarks import given_less, given_slower
from reportgen.planning.drill_choice import Suits, level_of, missed
from reportgen.planning.practised import practised
from reportgen.planning.returning import Way, return_remark, return_way, return_week, room_for
from reportgen.planning.small_game import SmallPractice, counted_again, with_small_game
from reportgen.planning.week import Limits, Practice, limits_of, phase_of, practice_days, practice_week, within_a_day
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
    standing = standing_of(library.rules, judged.cautions, lessons, student.watch, judged.facts.stage)
    suits = Suits(
        standing=standing,
        restricted=frozenset(student.mobility.restricted),
        equipment=student.equipment,
        level=level_of(len(alike) + 1),
        given_before=[given.drill for report in reports[-3:] for given in report.drills],
    )
    drills, left_out = drills_of(work, lesson, missed(ball.counts), reports, suits, library)
    phase = phase_of(work.asks_for, judged.facts.findings, len(alike) + 1, drills)
    asked = _Asked(lesson, judged, student, ball.counts, phase, standing)
    way = return_way(lesson, before)
    drills, week, remarks = _back_in_steps(way, asked, library) if way else _practice(drills, asked, library)
    remarks += asking_remarks(lesson, judged.cautions)
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
    standing: Standing


def _practice(
    given: Sequence[GivenDrill], asked: _Asked, library: Library
) -> tuple[tuple[GivenDrill, ...], PracticeWeek | None, list[DeskRemark]]:
    """The drills with doses that a day has room for, the week with full swings and small ones, remarks for the desk."""
    rules = library.practice
    limits, days = _room(asked, library)
    full = [one for one in given if "full-swing" in library.drills[one.drill].kinds]
    swung = within_a_day(full, limits, library.drills)
    practice = Practice(library.drills, asked.standing, asked.phase, rules.warm_up.minutes)
    week, swung = practice_week(swung, practice, limits, days)
    if rules.small_game is None:
        raise ValueError("the shipped practice.yaml lacks small_game")
    of_strokes = replace(limits, swings_a_day=rules.small_game.strokes_a_day)
    others = [one for one in given if one not in full]
    small = within_a_day(others, of_strokes, library.drills)
    kind, counts = asked.lesson.kind, asked.counts
    again = counted_again(counts, kind, asked.standing)
    strokes = SmallPractice(small, library.drills, kind, counts, again, asked.standing, rules.small_game)
    week, small = with_small_game(week, strokes, limits, days)
    less = [*given_less(full, swung, limits.swings_a_day), *given_less(others, small, of_strokes.swings_a_day)]
    return (*swung, *small), week, [*given_slower(asked.lesson.drills, given), *less]


def _back_in_steps(
    way: Way, asked: _Asked, library: Library
) -> tuple[tuple[GivenDrill, ...], PracticeWeek | None, list[DeskRemark]]:
    """A week of the return after a stop. It takes the place of drills and of the ordinary week."""
    if library.returning is None:
        raise ValueError("the library has no steps of a return")
    limits, days = _room(asked, library)
    room = room_for(asked.judged, asked.standing, limits, library.practice, library.rules)
    week = return_week(way, library.returning, room, days, library.practice.warm_up.minutes)
    return (), week, [return_remark(way)]


def _room(asked: _Asked, library: Library) -> tuple[Limits, list[date]]:
    """The ceilings of the week, and its days."""
    facts, time = asked.judged.facts, asked.student.practice
    growth = facts.growth.stage if facts.growth else None
    limits = limits_of(facts.stage, asked.judged.load, time, library.practice, growth)
    return limits, practice_days(asked.lesson.date, time, limits.days)
