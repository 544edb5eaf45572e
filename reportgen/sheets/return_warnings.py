"""Steps of a return that count for nothing, because no sheet says that the student is cleared."""

from collections.abc import Iterator

from reportgen.sheets.academy_folder import AcademyFolder, StudentFolder


def return_warnings(folder: AcademyFolder) -> Iterator[str]:
    """A line for each `return_step` that stands in no sheet with a clearance, nor after one."""
    for student in folder.students.values():
        yield from _of(student)


def _of(student: StudentFolder) -> Iterator[str]:
    cleared = False
    for sheet in student.lessons:
        lesson = sheet.lesson
        cleared = cleared or (lesson.cleared is not None and lesson.cleared.on <= lesson.date)
        if lesson.return_step is not None and not cleared:
            wrong = "return_step counts for nothing: no sheet up to this one says that the student is cleared"
            mend = "Add cleared: {by: who, on: day} once a doctor or physiotherapist has said so, or take it out."
            yield str(sheet.sheet.problem(("return_step",), wrong, mend))
