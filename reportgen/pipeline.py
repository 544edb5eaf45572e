"""The stages in order: each lesson of a student is measured, judged and planned into one LessonReport.

    sheets -> measure -> judge -> plan -> LessonReport

Every output is a view of a LessonReport: pages, PDF, terminal and JSON can never disagree.
"""

from dataclasses import dataclass

from reportgen.judging.bands import body_of
from reportgen.judging.findings import Past, in_order, judge
from reportgen.judging.privacy import person_of, pictures_of
from reportgen.judging.safety import Facts, carried_stop, cautions, held_sites
from reportgen.measuring.typed import typed_reading
from reportgen.planning.drill_choice import given_drills
from reportgen.planning.practice import practice_week
from reportgen.planning.priorities import priorities
from reportgen.planning.progress import not_measured, progress
from reportgen.planning.summary import glance, summary
from reportgen.records.academy import Academy, Student
from reportgen.records.lesson import Lesson
from reportgen.records.report import LessonReport, Reading
from reportgen.records.words import club_family
from reportgen.sheets.academy_folder import StudentFolder
from reportgen.sheets.library import Library


@dataclass(frozen=True)
class Judged:
    """A judged lesson with the readings that it rests on."""

    report: LessonReport
    readings: tuple[Reading, ...]


def reports_of(folder: StudentFolder, academy: Academy, library: Library) -> tuple[LessonReport, ...]:
    """Every lesson of a student, judged in the order of their dates. The student must be free of problems."""
    if folder.student is None or folder.problems:
        raise ValueError(f"student {folder.id} has problems and cannot be judged")
    judged: list[Judged] = []
    for sheet in folder.lessons:
        judged.append(_judged(sheet.name, sheet.lesson, folder.id, folder.student, judged, academy, library))
    return tuple(lesson.report for lesson in judged)


def _judged(
    name: str,
    lesson: Lesson,
    student_id: str,
    student: Student,
    before: list[Judged],
    academy: Academy,
    library: Library,
) -> Judged:
    # measure
    readings = tuple(typed_reading(typed, library.metrics[typed.metric]) for typed in lesson.readings)

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
        missing=not_measured(earlier, findings) + left_out,
        pictures=pictures_of(student_id, student, lesson),
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
