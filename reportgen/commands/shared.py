"""What the commands share: loading, asking, telling what is wrong, leaving with an exit code."""

import os
import re
import shlex
import sys
from collections.abc import Iterator, Sized
from contextlib import contextmanager
from pathlib import Path, PurePath, PureWindowsPath
from typing import TYPE_CHECKING, NoReturn

import click

if TYPE_CHECKING:
    from reportgen.records.report import LessonReport
    from reportgen.sheets.academy_folder import AcademyFolder

SOME_PROBLEMS = 1
COULD_NOT_RUN = 2

FOLDER = click.Path(path_type=Path)

_LONGEST_ZONE = 255
"""Bytes that the name of a time zone may have: it is looked up as a file."""


def loaded(academy: Path, only: str | None = None) -> "AcademyFolder":
    from reportgen.sheets.loading import load

    return load(academy, only)


def instructors_word(new: bool = False) -> str:
    """The instructor's passphrase."""
    from reportgen.sealing.passphrases import instructors_passphrase

    def ask() -> str:
        return str(click.prompt("Your passphrase", hide_input=True, confirmation_prompt=new, err=True))

    return instructors_passphrase(ask if sys.stdin is not None and sys.stdin.isatty() else None)


def known_student(folder: "AcademyFolder", student: str) -> None:
    from reportgen.sheets.problems import nearest

    if student not in folder.students:
        names = [p.name for p in (folder.root / "students").glob("*") if p.is_dir()]
        leave(COULD_NOT_RUN, f"There is no student {student}. {nearest(student, names)}")


def reports_or_leave(folder: "AcademyFolder", student: str) -> "tuple[LessonReport, ...]":
    """All judged lessons, at least one; leaves with the problems where the sheets have some."""
    from reportgen.pipeline import reports_of
    from reportgen.sheets.academy_folder import sound

    known_student(folder, student)
    if folder.problems:
        print_problems(folder)
        leave(SOME_PROBLEMS, f"{counted(folder.problems, 'problem')}.")
    reports = reports_of(folder.students[student], sound(folder), folder.students)
    if not reports and (drafts := folder.students[student].drafts):
        leave(COULD_NOT_RUN, f"{drafts[-1].path} is a draft. Take out the line draft: true when the lesson is ready.")
    if not reports:
        leave(COULD_NOT_RUN, f"{student} has no lesson yet. Begin one: reportgen begin {folder.root} {student}")
    return reports


def one_of(reports: "tuple[LessonReport, ...]", student: str, lesson: str | None) -> "LessonReport":
    """The lesson of that name, or the latest."""
    from reportgen.sheets.problems import nearest

    by_name = {report.lesson: report for report in reports}
    if lesson is not None and lesson not in by_name:
        leave(COULD_NOT_RUN, f"{student} has no lesson {lesson}. {nearest(lesson, by_name)}")
    return by_name[lesson] if lesson is not None else reports[-1]


def counted(things: Sized, name: str) -> str:
    return f"{len(things)} {name}{'' if len(things) == 1 else 's'}"


def as_typed(path: PurePath) -> str:
    """A path as it is typed into a terminal of the system that it is of: Windows knows double quotes alone, and no path
    there has one."""
    if isinstance(path, PureWindowsPath):
        return str(path) if re.fullmatch(r"[\w:\\.-]+", str(path)) else f'"{path}"'
    return shlex.quote(str(path))


def print_problems(folder: "AcademyFolder") -> None:
    for problem in folder.problems:
        click.echo(str(problem), err=True)


@contextmanager
def leaving_on_errors() -> Iterator[None]:
    """Turns what can go wrong in a run into one line on stderr and an exit code."""
    from reportgen.errors import ReportgenError

    try:
        yield
    except ReportgenError as error:
        leave(COULD_NOT_RUN, str(error))
    except KeyboardInterrupt:
        leave(130, "Stopped. What was published before is intact.")
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        leave(COULD_NOT_RUN, f"{where}{error.strerror or error}")


def leave_without_a_clock() -> None:
    """Leaves where TZ is nothing by which the time can be told: libraries read it while they are loaded."""
    zone = os.environ.get("TZ")
    if not zone:
        return
    from datetime import datetime
    from zoneinfo import ZoneInfo

    file = zone.removeprefix(":")
    try:
        datetime.now().astimezone()  # an offset of a day and more has no time
        if os.path.exists(file):
            with open(file, "rb") as stream:
                ZoneInfo.from_file(stream)
        elif len(os.fsencode(file)) > _LONGEST_ZONE:
            raise ValueError("longer than the name of a file may be")
    except Exception:  # a damaged file of a time zone raises whatever its bytes lead to
        from reportgen.sheets.problems import shown

        leave(COULD_NOT_RUN, f"TZ is {shown(zone)}, and no time zone. Write one as Europe/Lisbon, or leave it out.")


def leave(code: int, says: str) -> NoReturn:
    click.echo(says, err=True)
    sys.exit(code)
