"""One recap on its own, without publishing."""

from pathlib import Path

from reportgen.records.report import LessonReport
from reportgen.sheets.academy_folder import AcademyFolder


def write_recap(report: LessonReport, folder: AcademyFolder, to: Path) -> Path:
    """Write the recap of a judged lesson to `to`, replacing what is there in one step. Raises OSError."""
    from reportgen.pages.student_site import lesson_recap

    if folder.academy is None:
        raise ValueError("the academy has problems")
    beside = to.with_name(f".{to.name}.new")
    beside.write_bytes(lesson_recap(report, folder.academy, folder.root))
    beside.replace(to)
    return to
