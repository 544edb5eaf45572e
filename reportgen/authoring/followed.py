"""Which metrics are followed for the student whose picture is marked."""

from dataclasses import replace
from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.pipeline import alongside, reports_of
from reportgen.sheets.academy_folder import AcademyFolder, StudentFolder, sound
from reportgen.sheets.reading import read_text
from reportgen.sheets.student_files import lesson_files
from reportgen.sheets.tree import parse


def followed_by(folder: AcademyFolder, whose: str, sheet: Path | None = None) -> tuple[str, ...]:
    """The metrics in focus of a student of an academy: those of the `sheet`, or of the last one, or else of
    student.yaml, or else what the last lesson gave to work on. None where the student's sheets cannot be read."""
    known = folder.students.get(whose)
    if known is None or known.student is None:
        return ()
    files = lesson_files(folder.root / "students" / whose, f"students/{whose}", folder.root, [])
    last = sheet or (files[-1][0] if files else None)
    return _named(last) or known.student.follow or _worked_on(known, folder)


def begun_with(sheet: Path) -> tuple[str, ...]:
    """The metrics for which a sheet has a row, filled in or not: a begun lesson has one for each that was followed."""
    text = read_text(sheet, sheet.name)[0]
    written = parse(text, "sheet").data if text else None
    rows = written.get("readings") if isinstance(written, dict) else None
    return tuple(str(row.get("metric")) for row in rows if isinstance(row, dict)) if isinstance(rows, list) else ()


def _named(sheet: Path | None) -> tuple[str, ...]:
    """What a sheet follows, finished or not: that of today often has no values yet while its pictures are marked."""
    text = read_text(sheet, sheet.name)[0] if sheet else None
    written = parse(text, "sheet").data if text else None
    follow = written.get("follow") if isinstance(written, dict) else None
    return tuple(map(str, follow)) if isinstance(follow, list) else ()


def _worked_on(known: StudentFolder, folder: AcademyFolder) -> tuple[str, ...]:
    """What the last lesson gave to work on. A sheet with a problem is passed over, as that of today may be."""
    faulty = {problem.path for problem in known.problems}
    finished = tuple(one for one in known.lessons if one.sheet.path not in faulty)
    elsewhere = [path for path in faulty if not path.startswith(f"students/{known.id}/lessons/")]
    if not finished or elsewhere:
        return ()
    try:
        reports = reports_of(replace(known, lessons=finished, problems=()), sound(folder), alongside(known, folder))
    except ReportgenError:
        return ()
    return tuple(priority.metric for priority in reports[-1].priorities)
