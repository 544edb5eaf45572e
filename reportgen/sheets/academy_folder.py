"""An academy folder -> everything that is written in it, and every problem, in one pass."""

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from secrets import token_urlsafe

from reportgen.errors import ReportgenError
from reportgen.records.academy import Academy, Student
from reportgen.records.lesson import Lesson
from reportgen.records.secret import ANOTHER_SECRET
from reportgen.sheets.attached import Attached, pictures_named, read_attached, student_of
from reportgen.sheets.checks import column_problems, lesson_problems, mail_problems, student_problems
from reportgen.sheets.drafts import Draft, is_draft, read_as_filled
from reportgen.sheets.language_checks import language_problems
from reportgen.sheets.library import Library, load_library
from reportgen.sheets.problems import Problem, nearest, shown
from reportgen.sheets.reading import Sheet, read_sheet
from reportgen.sheets.shipped import shipped
from reportgen.sheets.shot_columns import OF_A_SHOT, of_readings, of_shots, shot_column_problems
from reportgen.sheets.student_files import astray, lesson_files, refused, student_folders
from reportgen.sheets.theme_checks import theme_problems
from reportgen.sheets.today import build_day

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

    @property
    def others(self) -> set[str]:
        """The students whom it is compared with, and in whose folders its pictures lie; of the latter the student's own
        is one."""
        compared = {self.lesson.compare.student} if self.lesson.compare else set()
        return compared | {name for place in self.attached.places.values() if (name := student_of(place))}


@dataclass(frozen=True)
class StudentFolder:
    """A student and their lessons, oldest first; `drafts` are none of these. Where `problems` has any, the student is
    not published anew."""

    id: str
    student: Student | None
    lessons: tuple[LessonSheet, ...]
    problems: tuple[Problem, ...]
    drafts: tuple[Draft, ...] = ()


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


@dataclass(frozen=True)
class Home:
    """The folder of an academy and its academy.yaml: what theme, language and addresses follow from."""

    root: Path
    academy: Academy


@dataclass(frozen=True)
class SoundAcademy(Home):
    """An academy of which nothing that touches every student has a problem: with its library, too."""

    library: Library


def sound(folder: AcademyFolder) -> SoundAcademy:
    """What all students of an academy share. Raises ReportgenError where that has problems."""
    if folder.academy is None or folder.shared_problems:
        raise ReportgenError(TOUCH_EVERYBODY)
    return SoundAcademy(folder.root, folder.academy, folder.library)


def load_academy(root: Path, only: str | None = None, *, ready: bool = False) -> AcademyFolder:
    """Read the academy in `root`; with `only`, of the students just that one and those they are compared with. With
    `ready`, drafts are read as if they were ready, but for rows that are not filled in.

    Raises NoAcademyError.
    """
    shared, folders = load_shared(root)
    names = folders if only is None else [only] if only in folders else []
    return with_students(shared, folders, names, ready=ready)


def load_shared(root: Path) -> tuple[AcademyFolder, Mapping[str, Path]]:
    """What all students share, with none of them read, and the students' folders by id. Raises NoAcademyError."""
    if not root.is_dir():
        raise NoAcademyError(f"{root} is not a folder. Give the folder that holds academy.yaml.")
    if not (root / "academy.yaml").is_file():
        raise NoAcademyError(f"{root} holds no academy.yaml. Give the folder of an academy, or write that file first.")
    sheet, shared = read_sheet(root / "academy.yaml", "academy.yaml", Academy, root)
    shared = [_with_a_fresh_secret(p) for p in shared]
    if sheet is not None and sheet.record.theme is not None:
        shared += theme_problems(root, sheet)
    if sheet is not None:
        shared += language_problems(sheet, sheet.record.language, root)
    library, found = load_library(shipped("content"), root)
    shared += found
    if sheet is not None:
        columns = sheet.record.columns
        shared += column_problems(sheet, ("columns",), of_readings(columns), library, OF_A_SHOT)
        elsewhere = of_readings(columns).keys() & library.metrics.keys()
        shared += shot_column_problems(sheet, ("columns",), of_shots(columns), elsewhere)
    folders = {folder.name: folder for folder in student_folders(root, shared)}
    return AcademyFolder(root, sheet.record if sheet else None, library, {}, tuple(shared)), folders


def with_students(
    shared: AcademyFolder, folders: Mapping[str, Path], names: Iterable[str], *, ready: bool = False
) -> AcademyFolder:
    """The academy with the students of these names, those they are compared with and those whose pictures their sheets
    name, read from their folders; with `ready`, drafts as if they were ready."""
    students: dict[str, StudentFolder] = {}
    waiting = list(names)
    while waiting:
        name = waiting.pop(0)
        students[name] = _read_student(folders[name], shared, ready=ready)
        others = set().union(*(sheet.others for sheet in students[name].lessons))
        waiting += sorted(other for other in others if other in folders and other not in {*students, *waiting})
    return replace(shared, students=with_comparisons_checked(students, folders))


def _with_a_fresh_secret(problem: Problem) -> Problem:
    """A problem of a secret with one that can be taken; what is written there is not repeated on a screen."""
    fresh = f"secret: {token_urlsafe(24)}"
    if "secret is missing" in problem.wrong:
        mend = f"It keeps the students' pages from being guessed. Add this line: {fresh}"
    elif problem.mend == ANOTHER_SECRET:
        mend = f"Write a long phrase of your own, or this line: {fresh}. The addresses of all pages change with it."
    else:
        return problem
    return replace(problem, wrong=problem.wrong.partition("; it says")[0], mend=mend)


def _read_student(folder: Path, shared: AcademyFolder, *, ready: bool) -> StudentFolder:
    root, academy, library = shared.root, shared.academy, shared.library
    if reasons := tuple(refused(folder, root)):
        return StudentFolder(shown(folder.name), None, (), reasons)
    told = f"students/{folder.name}"
    problems: list[Problem] = []
    student: Sheet[Student] | None = None
    if os.path.lexists(folder / "student.yaml"):
        student, problems = read_sheet(folder / "student.yaml", f"{told}/student.yaml", Student, root)
    else:
        wrong = "student.yaml is missing"
        problems.append(Problem(f"{told}/student.yaml", 1, 1, wrong, "Write it: name, born, plays."))
    if student is not None:
        problems += student_problems(student, library, build_day(academy) if academy else None)
        problems += mail_problems(student, academy)
        problems += language_problems(student, student.record.language, root)
    problems += astray(folder, told)
    known = student.record if student else None
    lessons, drafts = [], []
    for file, name in lesson_files(folder, told, root, problems):
        path = f"{told}/lessons/{file.name}"
        sheet, found = read_sheet(file, path, Lesson)
        draft = is_draft(sheet, file)
        if draft and ready:
            sheet, found = read_as_filled(file, path)
        if sheet is not None:
            attached, more = read_attached(sheet, file, root, academy, library, known.plays if known else None)
            found = [*found, *lesson_problems(sheet, folder.name, name, known, library), *more]
        if draft and not ready:
            drafts.append(Draft(name, path, tuple(found)))
            continue
        problems += found
        if sheet is not None:
            lessons.append(LessonSheet(name, sheet, attached))
    return StudentFolder(folder.name, known, tuple(lessons), tuple(problems), tuple(drafts))


def with_comparisons_checked(
    students: Mapping[str, StudentFolder], known: Iterable[str]
) -> Mapping[str, StudentFolder]:
    """The students with a problem for each `compare` that names nobody, no lesson, or somebody who does not share, and
    for each picture of somebody who does not."""
    return {
        name: replace(
            student,
            problems=(
                *student.problems,
                *_comparison_problems(student, students, known),
                *_borrowed_problems(student, students),
            ),
        )
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
        if compare.student == student.id:
            mend = "Name another student. A student's own earlier lessons are compared anyway."
            yield lesson.sheet.problem(at, "compare names the student whose lesson this is", mend)
        elif other is None:
            yield lesson.sheet.problem(
                at, f"there is no other student {compare.student!r}", nearest(compare.student, known)
            )
        elif not _share(student, other):
            wrong = f"{student.id} and {other.id} do not both share their pictures"
            yield lesson.sheet.problem(at, wrong, "Write shares_with: with the other's id into both student files.")
        elif compare.date not in {sheet.lesson.date for sheet in other.lessons}:
            days = [str(sheet.lesson.date) for sheet in other.lessons]
            wrong = f"{other.id} has no lesson on {compare.date}"
            yield lesson.sheet.problem(("compare", "date"), wrong, nearest(str(compare.date), days))


def _borrowed_problems(student: StudentFolder, students: Mapping[str, StudentFolder]) -> Iterator[Problem]:
    """The pictures that lie in the folder of another student, who does not share them."""
    for lesson in student.lessons:
        for kind, number, written, _ in pictures_named(lesson.lesson):
            whose = student_of(lesson.attached.places.get(written, ""))
            if whose is None or whose == student.id:
                continue
            other = students.get(whose)
            if other is None or not _share(student, other):
                wrong = f"the picture lies in the folder of {whose}, and the two do not both share their pictures"
                mend = f"Put a picture of {student.id} into their own folder, or write shares_with into both files."
                yield lesson.sheet.problem((kind, number, "file"), wrong, mend)


def _share(one: StudentFolder, other: StudentFolder) -> bool:
    """Whether two students share their pictures: each must name the other."""
    both = ((one, other), (other, one))
    return all(student.student is not None and its.id in student.student.shares_with for student, its in both)
