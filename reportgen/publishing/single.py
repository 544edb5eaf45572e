"""One recap on its own, without publishing."""

from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.records.report import LessonReport
from reportgen.sheets.academy_folder import AcademyFolder


def write_recap(report: LessonReport, folder: AcademyFolder, to: Path) -> Path:
    """Write the recap of a judged lesson to `to`, replacing what is there in one step.

    Raises ReportgenError where `to` is not named as a PDF (it could be a sheet), OSError where it cannot be written.
    """
    from reportgen.pages.student_site import lesson_recap

    if folder.academy is None:
        raise ValueError("the academy has problems")
    if to.suffix.lower() != ".pdf":
        raise ReportgenError(f"{to} is not the name of a PDF. Give one that ends in .pdf.")
    if to.is_dir():
        raise ReportgenError(f"{to} is a folder. Give the name of a file in it.")
    beside = to.with_name(f".{to.name}.new")
    beside.write_bytes(lesson_recap(report, folder.academy, folder.root))
    beside.replace(to)
    return to
