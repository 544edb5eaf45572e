"""The plan of one lesson: what to work on, with which drills, in which week. After a stop there is none."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportgen.judging.drill_tests import tested_now
from reportgen.judging.judgement import Earlier, Judgement
from reportgen.judging.safety import cautioned_metrics, held_sites
from reportgen.planning.ball_first import ball_first, lies_behind
from reportgen.planning.drill_choice import Suits, given_drills, level_of
from reportgen.planning.practised import practised
from reportgen.planning.priorities import by_the_numbers, priorities, rank
from reportgen.planning.week import limits_of, phase_of, practice_days, practice_week, within_a_day
from reportgen.records.academy import Student
from reportgen.records.cause_findings import BallFacts, BallFirst, CauseChain
from reportgen.records.drill_tests import DrillTested
from reportgen.records.lesson import Lesson
from reportgen.records.report import DeskRemark, GivenDrill, Missing, PracticeWeek, Practised, Priority
from reportgen.records.shot_findings import CountFound
from reportgen.records.words import club_family
from reportgen.sheets.library import Library


@dataclass(frozen=True)
class BallSeen:
    """What a lesson holds of club and ball: averages, what can lie behind them, and counts."""

    facts: BallFacts
    behind: tuple[CauseChain, ...]
    counts: tuple[CountFound, ...]


@dataclass(frozen=True)
class Plan:
    """What follows from a judgement, what the tests of drills have come to, what had to be left out, and remarks for
    the instructor alone. `ball_first` heads it, where it is not None."""

    ball_first: BallFirst | None = None
    priorities: tuple[Priority, ...] = ()
    drills: tuple[GivenDrill, ...] = ()
    practice: PracticeWeek | None = None
    practised: Practised | None = None
    tested: tuple[DrillTested, ...] = ()
    left_out: tuple[Missing, ...] = ()
    for_the_desk: tuple[DeskRemark, ...] = ()


def plan_lesson(
    lesson: Lesson, judged: Judgement, ball: BallSeen, student: Student, before: Sequence[Earlier], library: Library
) -> Plan:
    """The plan of a judged lesson; `before` holds the student's earlier ones, oldest first."""
    if judged.stopped:
        return Plan()
    lessons = [earlier.lesson for earlier in before] + [lesson]
    reports = [earlier.report for earlier in before]
    cautioned = cautioned_metrics(library.rules, judged.cautions)
    causes = [row for row in library.causes.values() if row.fits(club_family(lesson.club))]
    heads = None if lesson.priorities else ball_first(ball.facts, ball.counts, rank(judged.findings, causes, cautioned))
    behind = lies_behind(ball.behind) if heads else None
    first = priorities(judged.findings, causes, lesson.priorities, cautioned, behind)
    held = held_sites(library.rules, judged.cautions)
    suits = Suits(
        spared=held if _cleared(lessons) else held | frozenset(student.watch),
        restricted=frozenset(student.mobility.restricted),
        equipment=student.equipment,
        level=level_of(len(lessons)),
        given_before=[given.drill for report in reports[-3:] for given in report.drills],
    )
    drills, left_out = given_drills(lesson.drills, first, library.drills, suits)
    stage = judged.facts.stage
    growth_stage = judged.facts.growth.stage if judged.facts.growth else None
    limits = limits_of(stage, judged.load, student.practice, library.practice, growth_stage)
    drills, remarks = within_a_day(drills, limits)
    phase = phase_of(first, judged.facts.findings, len(lessons))
    speed = stage != "junior" and not held
    days = practice_days(lesson.date, student.practice, limits.days)
    week = practice_week(drills, phase, limits, days, library.practice.warm_up.minutes, speed_allowed=speed)
    chosen = by_the_numbers(judged.findings, causes, lesson.priorities, cautioned)
    if chosen:
        remarks.insert(0, chosen)
    tested = tested_now(lessons, [given.drill for given in drills], library.drills)
    return Plan(heads, first, drills, week, practised(reports, lesson), tested, left_out, tuple(remarks))


def _cleared(lessons: Sequence[Lesson]) -> bool:
    """Whether a clinician has cleared the student to load what is watched."""
    return any(lesson.cleared is not None and lesson.cleared.on <= lesson.date for lesson in lessons)
