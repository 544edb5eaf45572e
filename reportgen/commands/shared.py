"""What the commands share: loading, asking, telling what is wrong, leaving with an exit code."""

import sys
from collections.abc import Iterator, Sized
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

if TYPE_CHECKING:
    from reportgen.records.report import LessonReport
    from reportgen.sheets.academy_folder import AcademyFolder

SOME_PROBLEMS = 1
COULD_NOT_RUN = 2

FOLDER = click.Path(path_type=Path)


def loaded(academy: Path, only: str | None = None) -> "AcademyFolder":
    from reportgen.measuring.loading import load

    return load(academy, only)


def instructors_word(new: bool = False) -> str:
    """The instructor's passphrase."""
    from reportgen.publishing.passphrases import instructors_passphrase

    def ask() -> str:
        return str(click.prompt("Your passphrase", hide_input=True, confirmation_prompt=new, err=True))

    return instructors_passphrase(ask if sys.stdin.isatty() else None)


def known_student(folder: "AcademyFolder", student: str) -> None:
    from reportgen.sheets.problems import nearest

    if student not in folder.students:
        names = [p.name for p in (folder.root / "students").glob("*") if p.is_dir()]
        leave(COULD_NOT_RUN, f"There is no student {student}. {nearest(student, names)}")


def reports_or_leave(folder: "AcademyFolder", student: str, *, in_english: bool = False) -> "tuple[LessonReport, ...]":
    """All judged lessons, at least one, as the student reads them, or in English for the terminal; leaves with the
    problems where the sheets have some."""
    from reportgen.pipeline import reports_of
    from reportgen.sheets.readers import Reader, reader_of

    known_student(folder, student)
    if folder.problems or folder.academy is None:
        print_problems(folder)
        leave(SOME_PROBLEMS, f"{counted(folder.problems, 'problem')}.")
    reader = reader_of(folder.students[student].student, folder.academy, folder.root)
    if in_english:
        reader = Reader(units=folder.academy.units)
    reports = reports_of(folder.students[student], folder.academy, folder.library, folder.students, reader)
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


def print_problems(folder: "AcademyFolder") -> None:
    for problem in folder.problems:
        click.echo(str(problem), err=True)


@contextmanager
def told() -> Iterator[None]:
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


def leave(code: int, says: str) -> NoReturn:
    click.echo(says, err=True)
    sys.exit(code)
