"""The stages in order: each lesson of a student is measured, judged and planned into one LessonReport.

    sheets -> measure -> judge -> plan -> LessonReport

Every output is a view of a LessonReport: pages, PDF, terminal and JSON can never disagree.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from reportgen.judging.bands import body_of
from reportgen.judging.findings import Past, in_order, judge
from reportgen.judging.pictures import pictures_of
from reportgen.judging.privacy import person_of
from reportgen.judging.safety import Facts, carried_stop, cautions, held_sites
from reportgen.measuring.lesson import readings_of
from reportgen.measuring.mark_problems import with_mark_problems
from reportgen.planning.drill_choice import given_drills
from reportgen.planning.practice import practice_week
from reportgen.planning.priorities import priorities
from reportgen.planning.progress import not_measured, progress
from reportgen.planning.summary import glance, summary
from reportgen.records.academy import Academy, Student
from reportgen.records.lesson import Lesson
from reportgen.records.report import LessonReport, Reading
from reportgen.records.words import club_family
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet, StudentFolder, load_academy
from reportgen.sheets.library import Library


@dataclass(frozen=True)
class Judged:
    """A judged lesson with the readings that it rests on."""

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
    return tuple(lesson.report for lesson in judged)


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
                _past(reading.metric, lesson, before),
                academy.certainty,
            )
            for reading in readings
        ],
        library.metrics,
    )
    facts = Facts(body.stage, body.hips, student.watch, lesson.comfort, {f.metric: f for f in findings})
    firing = cautions(library.rules.values(), facts)
    earlier = [past.report for past in before]
    firing = tuple(dict.fromkeys(carried_stop(earlier, lesson) + firing))
    stopped = any(caution.level == "stop" for caution in firing)

    # plan
    first = () if stopped else priorities(findings, library.metrics, lesson.priorities)
    drills, left_out = given_drills(
        () if stopped else lesson.drills,
        first,
        library.drills,
        held_sites(library.rules, firing),
        frozenset(student.watch),
        student.equipment,
        [given.drill for report in earlier[-3:] for given in report.drills],
    )
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
        practice=practice_week(drills, student.practice),
        cautions=firing,
        missing=not_measured(earlier, findings, gaps) + left_out,
        pictures=pictures_of(student_id, student, lesson, sheet.attached.sizes, findings, earlier, alongside),
        progress=progress(earlier, findings, name, lesson),
        notes=lesson.notes,
        stopped=stopped,
    )
    return Judged(report, readings)


def _past(metric: str, lesson: Lesson, before: list[Judged]) -> list[Past]:
    """Earlier readings that this one may fairly be compared with: those with a club of the same family."""
    return [
        Past(lesson_before.report.date, reading)
        for lesson_before in before
        for reading in lesson_before.readings
        if reading.metric == metric and club_family(lesson_before.report.club) == club_family(lesson.club)
    ]
