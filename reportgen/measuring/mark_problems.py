"""Bad marks on stills as problems of the sheet, at their line."""

from dataclasses import replace

from reportgen.records.lesson import Still
from reportgen.sheets.academy_folder import LessonSheet, StudentFolder
from reportgen.sheets.problems import Problem


def with_mark_problems(folder: StudentFolder) -> StudentFolder:
    """The student with a problem for each mark, scale or camera of a still that cannot be right."""
    if folder.student is None or not any(_set(still) for sheet in folder.lessons for still in sheet.lesson.stills):
        return folder
    found = [p for sheet in folder.lessons for p in _problems(sheet, folder)]
    return replace(folder, problems=(*folder.problems, *found))


def _set(still: Still) -> bool:
    return bool(still.marks) or still.scale is not None or still.camera is not None


def _problems(sheet: LessonSheet, folder: StudentFolder) -> list[Problem]:
    from reportgen.measuring.faults import faults

    if folder.student is None:
        return []
    found = []
    for loc, message in faults(sheet.lesson.stills, sheet.attached.sizes, folder.student.plays):
        wrong, _, mend = message.partition(". ")
        found.append(sheet.sheet.problem(loc, wrong, mend or "Set it again."))
    return found
