"""An academy folder -> everything that is written in it, and every problem, in one pass."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from secrets import token_urlsafe

from reportgen.errors import ReportgenError
from reportgen.records.academy import Academy, Student
from reportgen.records.lesson import Lesson
from reportgen.sheets.attached import Attached, read_attached
from reportgen.sheets.checks import column_problems, lesson_problems, student_problems
from reportgen.sheets.language_checks import language_problems
from reportgen.sheets.library import Library, load_library
from reportgen.sheets.problems import Problem, nearest, shown
from reportgen.sheets.reading import Sheet, read_sheet
from reportgen.sheets.shipped import shipped
from reportgen.sheets.theme_checks import theme_problems

_STUDENT_ID = re.compile(r"^[a-z0-9]+(-[a-z0-9]+)*$")
_LESSON_NAME = re.compile(r"^((?:19|20)\d\d-\d\d-\d\d)(?:-([2-9]))?$")


TOUCH_EVERYBODY = "There are problems that touch every student. Mend them first."
"""Why nothing is made where the shared problems are not mended."""


class NoAcademyError(ReportgenError):
    """The folder is not an academy, or cannot be read at all; the message says why and how to mend it."""


@dataclass(frozen=True)
class LessonSheet:
    """A lesson and its name: the date, with `-2` for a second lesson that day."""

    name: str
    sheet: Sheet[Lesson]
    attached: Attached

    @property
    def lesson(self) -> Lesson:
        return self.sheet.record


@dataclass(frozen=True)
class StudentFolder:
    """A student and their lessons, oldest first. Where `problems` has any, the student is not published anew."""

    id: str
    student: Student | None
    lessons: tuple[LessonSheet, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class AcademyFolder:
    """An academy as read. `shared_problems` are those of academy.yaml and the library: they touch every student."""

    root: Path
    academy: Academy | None
    library: Library
    students: Mapping[str, StudentFolder]
    shared_problems: tuple[Problem, ...]

    @property
    def problems(self) -> list[Problem]:
        """All problems, by file and line."""
        return sorted({*self.shared_problems, *(p for s in self.students.values() for p in s.problems)})


def load_academy(root: Path, only: str | None = None) -> AcademyFolder:
    """Read the academy in `root`; with `only`, of the students just that one and those they are compared with.

    Raises NoAcademyError.
    """
    shared, folders = load_shared(root)
    return with_students(shared, folders, folders if only is None else [only] if only in folders else [])


def load_shared(root: Path) -> tuple[AcademyFolder, Mapping[str, Path]]:
    """What all students share, with none of them read, and the students' folders by id. Raises NoAcademyError."""
    if not root.is_dir():
        raise NoAcademyError(f"{root} is not a folder. Give the folder that holds academy.yaml.")
    if not (root / "academy.yaml").is_file():
        raise NoAcademyError(f"{root} holds no academy.yaml. Give the folder of an academy, or write that file first.")
    sheet, shared = read_sheet(root / "academy.yaml", "academy.yaml", Academy)
    shared = [_with_a_fresh_secret(p) for p in shared]
    if sheet is not None and sheet.record.theme is not None:
        shared += theme_problems(root, sheet)
    if sheet is not None:
        shared += language_problems(sheet, sheet.record.language, root)
    library, found = load_library(shipped("content"), root)
    shared += found
    if sheet is not None:
        shared += column_problems(sheet, ("columns",), sheet.record.columns, library)
    folders = {folder.name: folder for folder in _student_folders(root, shared)}
    return AcademyFolder(root, sheet.record if sheet else None, library, {}, tuple(shared)), folders


def with_students(shared: AcademyFolder, folders: Mapping[str, Path], names: Iterable[str]) -> AcademyFolder:
    """The academy with the students of these names and those they are compared with, read from their folders."""
    students: dict[str, StudentFolder] = {}
    waiting = list(names)
    while waiting:
        name = waiting.pop(0)
        students[name] = _read_student(folders[name], shared.root, shared.academy, shared.library)
        compared = {s.lesson.compare.student for s in students[name].lessons if s.lesson.compare}
        waiting += sorted(other for other in compared if other in folders and other not in {*students, *waiting})
    return replace(shared, students=with_comparisons_checked(students, folders))


def _with_a_fresh_secret(problem: Problem) -> Problem:
    if "secret is missing" not in problem.wrong:
        return problem
    mend = f"It keeps the students' pages from being guessed. Add this line: secret: {token_urlsafe(24)}"
    return Problem(problem.path, problem.line, problem.column, problem.wrong, mend)


def is_a_students(folder: Path) -> bool:
    """Whether a folder in `students` is meant as a student's: by its name or, where that is no id, by what it holds."""
    named = _STUDENT_ID.fullmatch(folder.name) is not None
    return named or (folder / "student.yaml").exists() or (folder / "lessons").exists()


def _student_folders(root: Path, shared: list[Problem]) -> list[Path]:
    folder = root / "students"
    if not folder.is_dir():
        shared.append(
            Problem("students", 1, 1, "there is no folder students", "Make it, with a folder for each student.")
        )
        return []
    found = []
    for entry in sorted(folder.iterdir()):
        if entry.name.startswith(".") or not entry.is_dir():
            continue
        if not is_a_students(entry):
            continue
        if not _STUDENT_ID.fullmatch(entry.name):
            wrong = "the name of a student's folder has other signs than small letters, digits and hyphens"
            shared.append(Problem(f"students/{shown(entry.name)}", 1, 1, wrong, "Rename it, as in mara-l."))
        elif not entry.resolve().is_relative_to(root.resolve()):
            wrong = "the student's folder is a link out of the academy"
            shared.append(Problem(f"students/{entry.name}", 1, 1, wrong, "Put the folder itself there."))
        else:
            found.append(entry)
    return found


def _read_student(folder: Path, root: Path, academy: Academy | None, library: Library) -> StudentFolder:
    told = f"students/{folder.name}"
    problems: list[Problem] = []
    student: Sheet[Student] | None = None
    if (folder / "student.yaml").is_file():
        student, problems = read_sheet(folder / "student.yaml", f"{told}/student.yaml", Student)
    else:
        wrong = "student.yaml is missing"
        problems.append(Problem(f"{told}/student.yaml", 1, 1, wrong, "Write it: name, born, plays."))
    if student is not None:
        problems += student_problems(student, library)
        problems += language_problems(student, student.record.language, root)
    problems += _astray(folder, told)
    lessons = []
    for file, name in _lesson_files(folder, told, problems):
        sheet, found = read_sheet(file, f"{told}/lessons/{file.name}", Lesson)
        problems += found
        if sheet is not None:
            problems += lesson_problems(sheet, folder.name, name, student.record if student else None, library)
            attached, found = read_attached(sheet, file, root, academy, library)
            problems += found
            lessons.append(LessonSheet(name, sheet, attached))
    return StudentFolder(folder.name, student.record if student else None, tuple(lessons), tuple(problems))


def with_comparisons_checked(
    students: Mapping[str, StudentFolder], known: Iterable[str]
) -> Mapping[str, StudentFolder]:
    """The students with a problem for each `compare` that names nobody, no lesson, or somebody who does not share."""
    return {
        name: replace(student, problems=(*student.problems, *_comparison_problems(student, students, known)))
        for name, student in students.items()
    }


def _comparison_problems(
    student: StudentFolder, students: Mapping[str, StudentFolder], known: Iterable[str]
) -> Iterator[Problem]:
    for lesson in student.lessons:
        compare = lesson.lesson.compare
        if compare is None:
            continue
        other = students.get(compare.student)
        at = ("compare", "student")
        if other is None or compare.student == student.id:
            yield lesson.sheet.problem(
                at, f"there is no other student {compare.student!r}", nearest(compare.student, known)
            )
        elif not (_shares(student, other.id) and _shares(other, student.id)):
            wrong = f"{student.id} and {other.id} do not both share their pictures"
            yield lesson.sheet.problem(at, wrong, "Write shares_with: with the other's id into both student files.")
        elif compare.date not in {sheet.lesson.date for sheet in other.lessons}:
            days = [str(sheet.lesson.date) for sheet in other.lessons]
            wrong = f"{other.id} has no lesson on {compare.date}"
            yield lesson.sheet.problem(("compare", "date"), wrong, nearest(str(compare.date), days))


def _shares(student: StudentFolder, with_id: str) -> bool:
    return student.student is not None and with_id in student.student.shares_with


def _lesson_files(folder: Path, told: str, problems: list[Problem]) -> list[tuple[Path, str]]:
    """The lesson sheets of a student in the order of their dates, with their names."""
    lessons = folder / "lessons"
    found = []
    for file in sorted(lessons.iterdir()) if lessons.is_dir() else []:
        if file.name.startswith(".") or file.name.endswith("~") or file.is_dir():
            continue
        path = f"{told}/lessons/{shown(file.name)}"
        match = _LESSON_NAME.fullmatch(file.stem)
        if match is None or not _is_day(match[1]):
            problems.append(Problem(path, 1, 1, "the file's name is not a date", "Name it as 2026-03-05.yaml."))
        elif file.suffix != ".yaml":
            problems.append(Problem(path, 1, 1, "the file's name does not end in .yaml", f"Name it {file.stem}.yaml."))
        elif not _lies_in(file, folder):
            problems.append(
                Problem(path, 1, 1, "the sheet is a link out of the student's folder", "Put the sheet itself there.")
            )
        else:
            found.append((file, file.stem))
    return sorted(found, key=lambda entry: (entry[1][:10], entry[1]))


def _astray(folder: Path, told: str) -> Iterator[Problem]:
    """Lesson sheets beside `lessons` instead of in it: a student without any is taken off the site."""
    for pattern in ("*.yaml", "*/*.yaml"):
        for file in sorted(folder.glob(pattern)):
            if file.parent.name != "lessons" and _LESSON_NAME.fullmatch(file.stem):
                path = f"{told}/{shown(file.relative_to(folder).as_posix())}"
                yield Problem(path, 1, 1, "the sheet does not lie in lessons", "Move it there, or rename its folder.")


def _lies_in(file: Path, folder: Path) -> bool:
    try:
        return file.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):
        return False  # links that go in a circle


def _is_day(written: str) -> bool:
    try:
        date.fromisoformat(written)
    except ValueError:
        return False
    return True
