"""The stages in order: each lesson of a student is measured, judged and planned into one LessonReport.

    sheets -> measure -> judge -> plan -> LessonReport

It holds facts alone. What a reader is told follows from it (`saying/`), and every output prints what is told: pages,
PDF, terminal and mail can never disagree.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from reportgen.judging.ball_facts import ball_facts
from reportgen.judging.causes import chains
from reportgen.judging.judgement import Earlier, Judgement, judge_lesson
from reportgen.judging.mobility import screen_of
from reportgen.judging.of_kind import of_kind, same_kind
from reportgen.judging.privacy import person_of
from reportgen.judging.putts import with_putts_counted
from reportgen.judging.setup import setup_of
from reportgen.judging.shot_means import MainShots, main_shots
from reportgen.judging.shot_patterns import TablesOf, remarks_found, shots_found
from reportgen.judging.shot_readings import shot_readings
from reportgen.judging.shots import counts_of, strikes_of
from reportgen.judging.shown_stills import Whose, pictures_of
from reportgen.judging.shown_swings import swings_of
from reportgen.judging.strokes import drawings
from reportgen.measuring.readings import Errors, readings_of
from reportgen.planning.ahead import with_what_lies_ahead
from reportgen.planning.glance import glance
from reportgen.planning.lesson_plan import plan_lesson
from reportgen.planning.progress import not_measured, progress
from reportgen.planning.small_game import SMALL
from reportgen.planning.work import BallSeen
from reportgen.records.academy import Academy, Student
from reportgen.records.cause_findings import BallFacts
from reportgen.records.findings import Reading
from reportgen.records.lesson import Lesson
from reportgen.records.report import LessonReport, Missing
from reportgen.records.shot_remarks import ShotRemark
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet, SoundAcademy, StudentFolder
from reportgen.sheets.attached import Attached
from reportgen.sheets.library import Library
from reportgen.sheets.loading import load

__all__ = ["alongside", "load", "reports_of", "without_plan"]


def reports_of(
    folder: StudentFolder, home: SoundAcademy, others: Mapping[str, StudentFolder] | None = None
) -> tuple[LessonReport, ...]:
    """Every lesson of a student, judged in the order of their dates. The student must be free of problems.

    `others` holds the students that lessons are compared with, or whose pictures they show; one of them who has
    problems is left out.
    """
    if folder.student is None or folder.problems:
        raise ValueError(f"student {folder.id} has problems and cannot be judged")
    others = others or {}
    judged: list[Earlier] = []
    lenders = {name: one.student for name, one in others.items() if one.student and not one.problems}
    whose = Whose(folder.id, folder.student, lenders)
    for sheet in folder.lessons:
        compare = sheet.lesson.compare
        other = others.get(compare.student) if compare else None
        beside = _lesson_on(other, compare.date, home) if compare and other else None
        judged.append(_through_the_stages(sheet, whose, judged, beside, home))
    reports = tuple(lesson.report for lesson in judged)
    if reports:
        reports = (*reports[:-1], with_what_lies_ahead(reports[-1], folder.lessons[-1].lesson, folder.student))
    return tuple(map(without_plan, reports)) if reports and reports[-1].stopped else reports


def without_plan(report: LessonReport) -> LessonReport:
    """The report without drill, dose and practice: while a stop stands, no earlier lesson prescribes anything."""
    missing = tuple(gap for gap in report.missing if gap.kind != "left out")
    counts = tuple(count for count in report.counts if count.drill is None)
    return report.model_copy(
        update={
            "drills": (),
            "outlook": None,
            "practice": None,
            "practised": None,
            "tested": (),
            "behind": (),
            "ball_first": None,
            "counts": counts,
            "load": None,
            "missing": missing,
        }
    )


def alongside(student: StudentFolder, folder: AcademyFolder) -> dict[str, StudentFolder]:
    """The other students whom the lessons of `student` are compared with, or whose pictures they show."""
    others = set().union(*(sheet.others for sheet in student.lessons)) - {student.id}
    return {name: folder.students[name] for name in sorted(others) if name in folder.students}


def _lesson_on(other: StudentFolder, day: date, home: SoundAcademy) -> LessonReport | None:
    if other.student is None or other.problems:
        return None
    return next((report for report in reports_of(other, home) if report.date == day), None)


def _through_the_stages(
    sheet: LessonSheet, whose: Whose, before: list[Earlier], alongside: LessonReport | None, home: SoundAcademy
) -> Earlier:
    lesson, academy, student = with_putts_counted(sheet.lesson, sheet.attached.shots), home.academy, whose.student
    library, alike = of_kind(home.library, lesson.kind), same_kind(before, lesson.kind)
    earlier, lessons = [one.report for one in alike], [one.lesson for one in alike]
    shots, setup = _shots_of(lesson, sheet.attached, academy), setup_of(lesson, lessons, library.setup)
    readings, gaps = _readings(lesson, sheet.attached, student, shots.main, home.academy, library)
    judged = judge_lesson(lesson, readings, student, before, academy.certainty, library)
    ball = _ball_seen(lesson, shots.main, judged, lessons, library)
    counted = bool(sheet.attached.shots) or (bool(ball.counts) and lesson.kind != "full-swing")
    plan = plan_lesson(lesson, judged, ball, student, before, library)
    drawn = drawings(judged.findings, library.metrics)
    report = LessonReport(
        student=whose.id,
        person=person_of(whose.id, student, lesson),
        lesson=sheet.name,
        date=lesson.date,
        number=len(before) + 1,
        kind=lesson.kind,
        club=lesson.club,
        focus=lesson.focus,
        findings=judged.findings,
        followed=judged.followed,
        glance=glance(judged.findings, setup) if lesson.kind == "full-swing" else (),
        priorities=plan.priorities,
        outlook=plan.outlook,
        set_aside=tuple(f.metric for f in judged.findings if f.metric in lesson.set_aside),
        drills=plan.drills,
        practice=plan.practice,
        practised=plan.practised,
        tested=plan.tested,
        cautions=judged.cautions,
        missing=not_measured(earlier, judged.findings, gaps, shots_counted=counted) + plan.left_out,
        pictures=pictures_of(sheet, whose, drawn, earlier, alongside),
        progress=progress(earlier, judged.findings, sheet.name, lesson),
        notes=lesson.notes,
        swings=swings_of(sheet, whose, judged.findings, drawn, earlier, alongside),
        counts=ball.counts,
        strikes=strikes_of(lesson, lessons),
        ball=ball.facts,
        behind=ball.behind,
        ball_first=plan.ball_first,
        patterns=shots_found(shots.of, [TablesOf(one.lesson.date, one.shots) for one in before], academy.shot_u),
        shot_remarks=shots.remarks,
        setup=setup,
        growth=judged.facts.growth,
        screen=screen_of(student),
        comfort=judged.facts.courses,
        load=None if judged.stopped else judged.load,
        for_the_desk=plan.for_the_desk,
        stopped=judged.stopped,
    )
    return Earlier(lesson, readings, report, sheet.attached.shots, judged.firing)


class _Shots(NamedTuple):
    """The tables of a lesson, what is remarkable about them, and the shots that it is about."""

    of: TablesOf
    remarks: tuple[ShotRemark, ...]
    main: MainShots | None


def _shots_of(lesson: Lesson, attached: Attached, academy: Academy) -> _Shots:
    tables = TablesOf(lesson.date, attached.shots)
    remarks = remarks_found(tables)
    return _Shots(tables, remarks, main_shots(attached.shots, lesson.club, academy.shot_u, remarks))


def _readings(
    lesson: Lesson, attached: Attached, student: Student, main: MainShots | None, academy: Academy, library: Library
) -> tuple[tuple[Reading, ...], tuple[Missing, ...]]:
    of_tables = shot_readings(main, lesson.club, library.metrics)
    errors = Errors(academy.marking, academy.shot_u)
    return readings_of(lesson, attached, student.plays, errors, library.metrics, of_tables)


def _ball_seen(
    lesson: Lesson, main: MainShots | None, judged: Judgement, alike: Sequence[Lesson], library: Library
) -> BallSeen:
    """What the lesson holds of club and ball, held against earlier ones of its kind; after a stop, and of putts and
    short shots, nothing is looked for behind it."""
    counts = counts_of(lesson, alike)
    if lesson.kind in SMALL:
        return BallSeen(BallFacts(), (), counts)
    facts, rows = ball_facts(lesson, main), library.causes.values()
    return BallSeen(facts, () if judged.stopped else chains(judged.findings, facts, rows, lesson.club), counts)
