"""Which metrics are followed for the student whose picture is marked."""

from dataclasses import replace
from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.pipeline import alongside, reports_of
from reportgen.sheets.academy_folder import AcademyFolder, StudentFolder, sound
from reportgen.sheets.attached import student_of
from reportgen.sheets.loading import load
from reportgen.sheets.reading import read_text
from reportgen.sheets.student_files import lesson_files
from reportgen.sheets.tree import parse


def followed_at(picture: Path, root: Path) -> tuple[str, ...]:
    """The metrics in focus of the student of the academy in `root` in whose folder a picture lies: those of the last
    sheet, or else of student.yaml, or else what the last lesson gave to work on. None where it is nobody's picture,
    or where the student's sheets cannot be read."""
    place, academy = picture.resolve(), root.resolve()
    whose = student_of(place.relative_to(academy).as_posix()) if place.is_relative_to(academy) else None
    if whose is None:
        return ()
    folder = load(academy, whose)
    known = folder.students.get(whose)
    if known is None or known.student is None:
        return ()
    return _named_last(academy, whose) or known.student.follow or _worked_on(known, folder)


def _named_last(root: Path, whose: str) -> tuple[str, ...]:
    """What the last sheet follows, finished or not: that of today often has no values yet while its pictures are
    marked."""
    files = lesson_files(root / "students" / whose, f"students/{whose}", root, [])
    text = read_text(files[-1][0], files[-1][1])[0] if files else None
    written = parse(text, files[-1][1]).data if text else None
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
