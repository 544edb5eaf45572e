"""The stages in order: each lesson of a student is measured, judged and planned into one LessonReport.

    sheets -> measure -> judge -> plan -> LessonReport

Every output is a view of a LessonReport: pages, PDF, terminal and JSON can never disagree.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from reportgen.judging.bands import body_of
from reportgen.judging.fair import Past
from reportgen.judging.findings import in_order, judge
from reportgen.judging.load import load_of
from reportgen.judging.mobility import screen_of
from reportgen.judging.pictures import pictures_of
from reportgen.judging.privacy import person_of
from reportgen.judging.safety import (
    carried_stop,
    cautioned_metrics,
    cautions,
    facts_of,
    held_sites,
    said_now,
    with_standing,
)
from reportgen.measuring.lesson import readings_of
from reportgen.measuring.mark_problems import with_mark_problems
from reportgen.planning.drill_choice import given_drills, level_of
from reportgen.planning.practised import practised
from reportgen.planning.priorities import by_the_numbers, priorities
from reportgen.planning.progress import not_measured, progress
from reportgen.planning.summary import glance, summary
from reportgen.planning.week import limits_of, phase_of, practice_week
from reportgen.records.academy import Academy, Student
from reportgen.records.lesson import Lesson
from reportgen.records.report import LessonReport, Reading
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet, StudentFolder, load_academy
from reportgen.sheets.library import Library


@dataclass(frozen=True)
class Judged:
    """A lesson as written, as judged, and the readings between the two."""

    lesson: Lesson
    report: LessonReport
    readings: tuple[Reading, ...]


def load(root: Path, only: str | None = None) -> AcademyFolder:
    """The academy in `root` with every problem of its sheets, the marks on its stills included; with `only`, of the
    students just that one and those they are compared with. Raises NoAcademyError."""
    folder = load_academy(root, only)
    return replace(folder, students={name: with_mark_problems(student) for name, student in folder.students.items()})


def reports_of(
    folder: StudentFolder, academy: Academy, library: Library, others: Mapping[str, StudentFolder] | None = None
) -> tuple[LessonReport, ...]:
    """Every lesson of a student, judged in the order of their dates. The student must be free of problems.

    `others` holds the students that lessons are compared with; one of them who has problems is left out.
    """
    if folder.student is None or folder.problems:
        raise ValueError(f"student {folder.id} has problems and cannot be judged")
    judged: list[Judged] = []
    for sheet in folder.lessons:
        compare = sheet.lesson.compare
        other = (others or {}).get(compare.student) if compare else None
        beside = _lesson_on(other, compare.date, academy, library) if compare and other else None
        judged.append(_judged(sheet, folder.id, folder.student, judged, beside, academy, library))
    reports = tuple(lesson.report for lesson in judged)
    return tuple(map(without_plan, reports)) if reports and reports[-1].stopped else reports


def without_plan(report: LessonReport) -> LessonReport:
    """The report without drill, dose and practice: while a stop stands, no earlier lesson prescribes anything."""
    missing = tuple(gap for gap in report.missing if gap.kind != "left out")
    return report.model_copy(
        update={"drills": (), "practice": None, "practised": None, "load": None, "missing": missing}
    )


def alongside(student: StudentFolder, folder: AcademyFolder) -> dict[str, StudentFolder]:
    """The students whom the lessons of `student` are compared with."""
    compared = {sheet.lesson.compare.student for sheet in student.lessons if sheet.lesson.compare}
    return {name: folder.students[name] for name in sorted(compared) if name in folder.students}


def _lesson_on(other: StudentFolder, day: date, academy: Academy, library: Library) -> LessonReport | None:
    if other.student is None or other.problems:
        return None
    return next((r for r in reports_of(other, academy, library) if r.date == day), None)


def _judged(
    sheet: LessonSheet,
    student_id: str,
    student: Student,
    before: list[Judged],
    alongside: LessonReport | None,
    academy: Academy,
    library: Library,
) -> Judged:
    name, lesson = sheet.name, sheet.lesson

    # measure
    readings, gaps = readings_of(lesson, sheet.attached, student.plays, academy.marking, library.metrics)

    # judge
    body = body_of(student, lesson)
    findings = in_order(
        [
            judge(
                reading,
                library.metrics[reading.metric],
                library.bands.get(reading.metric, ()),
                body,
                student,
                _past(reading.metric, before),
                academy.certainty,
                lesson,
            )
            for reading in readings
        ],
        library.metrics,
    )
    lessons = [past.lesson for past in before] + [lesson]
    load = load_of(lessons, student, lesson.date)
    facts = facts_of(student, lessons, findings, load)
    earlier = [past.report for past in before]
    firing = with_standing(carried_stop(earlier, lesson), cautions(library.rules.values(), facts))
    firing = said_now(library.rules, firing)
    stopped = any(caution.level == "stop" for caution in firing)

    # plan
    cautioned = cautioned_metrics(library.rules, firing)
    first = () if stopped else priorities(findings, library.metrics, lesson.priorities, cautioned)
    cleared = any(past.cleared is not None and past.cleared.on <= past.date for past in lessons)
    held = held_sites(library.rules, firing)
    drills, left_out = given_drills(
        () if stopped else lesson.drills,
        first,
        library.drills,
        held if cleared else held | frozenset(student.watch),
        student.equipment,
        [given.drill for report in earlier[-3:] for given in report.drills],
        level_of(len(lessons)),
    )
    by_metric = {finding.metric: finding for finding in findings}
    week = practice_week(
        drills,
        library.drills,
        phase_of(first, by_metric, len(lessons)),
        limits_of(body.stage, load, student.practice, library.practice),
        student.practice,
        lesson.date,
        library.practice,
        speed_allowed=body.stage != "junior" and not held,
    )
    remark = by_the_numbers(findings, library.metrics, lesson.priorities, cautioned)
    report = LessonReport(
        student=student_id,
        person=person_of(student_id, student, lesson),
        lesson=name,
        date=lesson.date,
        number=len(before) + 1,
        club=lesson.club,
        focus=lesson.focus,
        summary=summary(findings),
        findings=findings,
        glance=glance(findings),
        priorities=first,
        drills=drills,
        practice=week,
        practised=None if stopped else practised(earlier, lesson),
        cautions=firing,
        missing=not_measured(earlier, findings, gaps) + left_out,
        pictures=pictures_of(student_id, student, lesson, sheet.attached.sizes, findings, earlier, alongside),
        progress=progress(earlier, findings, name, lesson),
        notes=lesson.notes,
        growth=facts.growth,
        screen=screen_of(student, body.stage),
        comfort=facts.courses,
        load=None if stopped else load,
        for_the_desk=(remark,) if remark and not stopped else (),
        stopped=stopped,
    )
    return Judged(lesson, report, readings)


def _past(metric: str, before: list[Judged]) -> list[Past]:
    """The metric's readings in the earlier lessons, with how they were judged then."""
    found = []
    for judged in before:
        reading = next((r for r in judged.readings if r.metric == metric), None)
        finding = next((f for f in judged.report.findings if f.metric == metric), None)
        if reading is not None and finding is not None:
            held_against = finding.band.for_ if finding.band else None
            found.append(Past(judged.report.date, reading, judged.report.club, finding.verdict, held_against))
    return found
