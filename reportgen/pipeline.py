"""The stages in order: each lesson of a student is measured, judged and planned into one LessonReport.

    sheets -> measure -> judge -> plan -> LessonReport

Every output is a view of a LessonReport: pages, PDF, terminal and JSON can never disagree.
"""

from collections.abc import Mapping
from datetime import date

from reportgen.judging.lesson import Earlier, judge_lesson
from reportgen.judging.mobility import screen_of
from reportgen.judging.pictures import pictures_of
from reportgen.judging.privacy import person_of
from reportgen.languages.speaking import speaking
from reportgen.measuring.lesson import readings_of
from reportgen.measuring.loading import load
from reportgen.planning.lesson import plan_lesson
from reportgen.planning.progress import not_measured, progress
from reportgen.planning.summary import glance, summary
from reportgen.records.academy import Academy, Student
from reportgen.records.report import LessonReport
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet, StudentFolder
from reportgen.sheets.library import Library
from reportgen.sheets.readers import Reader, library_for

IN_ENGLISH = Reader()

__all__ = ["alongside", "load", "reports_of", "without_plan"]


def reports_of(
    folder: StudentFolder,
    academy: Academy,
    library: Library,
    others: Mapping[str, StudentFolder] | None = None,
    reader: Reader = IN_ENGLISH,
) -> tuple[LessonReport, ...]:
    """Every lesson of a student, judged in the order of their dates, in the reader's language and units. The student
    must be free of problems.

    `others` holds the students that lessons are compared with; one of them who has problems is left out.
    """
    with speaking(reader.language):
        return _judged(folder, academy, library_for(reader, library), others or {}, reader.language.code)


def _judged(
    folder: StudentFolder,
    academy: Academy,
    library: Library,
    others: Mapping[str, StudentFolder],
    language: str,
) -> tuple[LessonReport, ...]:
    if folder.student is None or folder.problems:
        raise ValueError(f"student {folder.id} has problems and cannot be judged")
    judged: list[Earlier] = []
    for sheet in folder.lessons:
        compare = sheet.lesson.compare
        other = others.get(compare.student) if compare else None
        beside = _lesson_on(other, compare.date, academy, library, language) if compare and other else None
        judged.append(_through_the_stages(sheet, folder.id, folder.student, judged, beside, academy, library, language))
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


def _lesson_on(
    other: StudentFolder, day: date, academy: Academy, library: Library, language: str
) -> LessonReport | None:
    if other.student is None or other.problems:
        return None
    return next((r for r in _judged(other, academy, library, {}, language) if r.date == day), None)


def _through_the_stages(
    sheet: LessonSheet,
    student_id: str,
    student: Student,
    before: list[Earlier],
    alongside: LessonReport | None,
    academy: Academy,
    library: Library,
    language: str,
) -> Earlier:
    lesson, earlier = sheet.lesson, [one.report for one in before]
    readings, gaps = readings_of(lesson, sheet.attached, student.plays, academy.marking, library.metrics)
    judged = judge_lesson(lesson, readings, student, before, academy.certainty, library)
    plan = plan_lesson(lesson, judged, student, before, library)
    report = LessonReport(
        student=student_id,
        language=language,
        person=person_of(student_id, student, lesson),
        lesson=sheet.name,
        date=lesson.date,
        number=len(before) + 1,
        club=lesson.club,
        focus=lesson.focus,
        summary=summary(judged.findings),
        findings=judged.findings,
        glance=glance(judged.findings),
        priorities=plan.priorities,
        drills=plan.drills,
        practice=plan.practice,
        practised=plan.practised,
        cautions=judged.cautions,
        missing=not_measured(earlier, judged.findings, gaps) + plan.left_out,
        pictures=pictures_of(student_id, student, lesson, sheet.attached.sizes, judged.findings, earlier, alongside),
        progress=progress(earlier, judged.findings, sheet.name, lesson),
        notes=lesson.notes,
        growth=judged.facts.growth,
        screen=screen_of(student, judged.facts.stage),
        comfort=judged.facts.courses,
        load=None if judged.stopped else judged.load,
        for_the_desk=plan.for_the_desk,
        stopped=judged.stopped,
    )
    return Earlier(lesson, readings, report)
