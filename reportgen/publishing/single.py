"""One recap on its own, without publishing."""

from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.records.report import LessonReport
from reportgen.rights import write_atomically
from reportgen.saying.readers import reader_of
from reportgen.saying.telling import tell
from reportgen.sheets.academy_folder import AcademyFolder, sound


def write_recap(report: LessonReport, folder: AcademyFolder, to: Path) -> Path:
    """Write the recap of a judged lesson to `to`, for its owner's eyes alone, replacing what is there in one step.

    Raises ReportgenError where the academy has problems that touch every student, or `to` is not named as a PDF (it
    could be a sheet), OSError where it cannot be written.
    """
    from reportgen.pages.student_site import lesson_recap

    home = sound(folder)
    if to.suffix.lower() != ".pdf":
        raise ReportgenError(f"{to} is not the name of a PDF. Give one that ends in .pdf.")
    if to.is_dir():
        raise ReportgenError(f"{to} is a folder. Give the name of a file in it.")
    reader = reader_of(folder.students[report.student].student, home)
    recap = lesson_recap(tell(report, home.library, reader), home)
    write_atomically(to, recap)
    return to
