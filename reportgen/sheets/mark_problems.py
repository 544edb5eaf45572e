"""Bad marks on stills as problems of the sheet, at their line."""

from collections.abc import Iterator
from dataclasses import replace

from reportgen.records.academy import MarkingError
from reportgen.records.stills import Still
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet, StudentFolder
from reportgen.sheets.faults import faults, near_marks
from reportgen.sheets.problems import Problem
from reportgen.sheets.stand_warnings import stand_warnings


def with_mark_problems(folder: StudentFolder) -> StudentFolder:
    """The student with a problem for each mark, scale, stick or camera of a still that cannot be right."""
    if folder.student is None or not any(_set(still) for sheet in folder.lessons for still in sheet.lesson.stills):
        return folder
    found = [p for sheet in folder.lessons for p in _problems(sheet, folder)]
    return replace(folder, problems=(*folder.problems, *found))


def mark_warnings(folder: AcademyFolder) -> Iterator[str]:
    """Marks that may be right and are worth a look: two that lie within a pixel, and cameras that do not stand as they
    should. One line tells, as long as no sheet of an academy names where its cameras stood, what that means."""
    click_px = (folder.academy.marking if folder.academy else MarkingError()).click_px
    yield from _nobody_names_a_stand(folder)
    for student in folder.students.values():
        for sheet in student.lessons:
            for still in sheet.lesson.stills:
                for one, other in near_marks(still):
                    if still.marks[one] != still.marks[other]:
                        where = f"{sheet.sheet.path}: {still.checkpoint}, {still.view}"
                        yield f"{where}: {other} lies within a pixel of {one}. Look whether both are where they belong."
            yield from map(str, stand_warnings(sheet, click_px))


def _nobody_names_a_stand(folder: AcademyFolder) -> Iterator[str]:
    sheets = [sheet for student in folder.students.values() for sheet in student.lessons]
    marked = [sheet for sheet in sheets if any(still.marks for still in sheet.lesson.stills)]
    if len(marked) > 1 and not any(sheet.lesson.stand for sheet in marked):
        yield (
            f"{len(marked)} sheets have marked stills and none says where the cameras stood, so each counts as filmed "
            "from somewhere else, and changes are less sure. Where they stood on the same marks, write stand: kept."
        )


def _set(still: Still) -> bool:
    return bool(still.marks) or any(part is not None for part in (still.scale, still.stick, still.camera))


def _problems(sheet: LessonSheet, folder: StudentFolder) -> list[Problem]:
    if folder.student is None:
        return []
    found = []
    for loc, message in faults(sheet.lesson.stills, sheet.attached.sizes, folder.student.plays):
        wrong, _, mend = message.partition(". ")
        found.append(sheet.sheet.problem(loc, wrong, mend or "Set it again."))
    return found
