"""The files of the students: whose folders there are, which lesson sheets lie in them, and what lies astray."""

import os
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from reportgen.records.base import is_a_device
from reportgen.records.bounds import FILES, LESSONS
from reportgen.sheets.files import entries, is_the_systems, leads_out
from reportgen.sheets.problems import Problem, shown

_STUDENT_ID = re.compile(r"^[a-z0-9]+(-[a-z0-9]+)*$")
_LESSON_NAME = re.compile(r"^((?:19|20)\d\d-\d\d-\d\d)(?:-([2-9]))?$")


def is_a_students(folder: Path) -> bool:
    """Whether a folder in `students` is meant as a student's: by its name or, where that is no id, by what it holds."""
    named = _STUDENT_ID.fullmatch(folder.name) is not None
    return named or os.path.exists(folder / "student.yaml") or os.path.exists(folder / "lessons")


def student_folders(root: Path, shared: list[Problem]) -> list[Path]:
    """The folders that are meant as students', by name, those that are refused among them."""
    folder = root / "students"
    if not os.path.isdir(folder):
        shared.append(
            Problem("students", 1, 1, "there is no folder students", "Make it, with a folder for each student.")
        )
    found = entries(folder, "students", shared, root, FILES)
    seen = (entry for entry in found if not entry.name.startswith("."))
    return [entry for entry in seen if os.path.isdir(entry) and is_a_students(entry)]


def refused(folder: Path, root: Path) -> Iterator[Problem]:
    """Why nothing in a student's folder is read."""
    told = f"students/{shown(folder.name)}"
    if not _STUDENT_ID.fullmatch(folder.name):
        wrong = "the name of a student's folder has other signs than small letters, digits and hyphens"
        yield Problem(told, 1, 1, wrong, "Rename it, as in mara-l.")
    elif is_a_device(folder.name):
        wrong = "the name of the student's folder is one that Windows keeps for a device"
        yield Problem(told, 1, 1, wrong, f"Rename it, as in {folder.name}-a.")
    elif leads_out(folder, root):
        wrong = "the student's folder is a link out of the academy"
        yield Problem(told, 1, 1, wrong, "Put the folder itself there.")


def lesson_files(folder: Path, told: str, root: Path, problems: list[Problem]) -> list[tuple[Path, str]]:
    """The lesson sheets of a student in the order of their dates, with their names."""
    found = []
    for file in entries(folder / "lessons", f"{told}/lessons", problems, root, LESSONS):
        if file.name.startswith(".") or file.name.endswith("~") or is_the_systems(file.name) or os.path.isdir(file):
            continue
        path = f"{told}/lessons/{shown(file.name)}"
        match = _LESSON_NAME.fullmatch(file.stem)
        if match is None or not _is_day(match[1]):
            problems.append(Problem(path, 1, 1, "the file's name is not a date", "Name it as 2026-03-05.yaml."))
        elif file.suffix != ".yaml":
            problems.append(Problem(path, 1, 1, "the file's name does not end in .yaml", f"Name it {file.stem}.yaml."))
        elif leads_out(file, folder):
            problems.append(
                Problem(path, 1, 1, "the sheet is a link out of the student's folder", "Put the sheet itself there.")
            )
        else:
            found.append((file, file.stem))
    return sorted(found, key=lambda entry: (entry[1][:10], entry[1]))


def link_warnings(root: Path) -> Iterator[str]:
    """The links in students' folders that lead out of the academy or in a circle: nothing behind them is read."""
    for folder in _scanned(root / "students"):
        for entry in _scanned(folder.path) if folder.is_dir(follow_symlinks=False) else ():
            if entry.is_symlink() and not entry.name.startswith(".") and leads_out(Path(entry.path), root):
                path = f"students/{shown(folder.name)}/{shown(entry.name)}"
                yield f"{path}: this link leads out of the academy, or in a circle, so nothing behind it is read."


def _scanned(folder: Path | str) -> list[os.DirEntry[str]]:
    try:
        return sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError:
        return []


def astray(folder: Path, told: str) -> Iterator[Problem]:
    """Lesson sheets beside `lessons` instead of in it: a student without any is taken off the site."""
    for pattern in ("*.yaml", "*/*.yaml"):
        for file in sorted(folder.glob(pattern)):
            if file.parent.name != "lessons" and _LESSON_NAME.fullmatch(file.stem):
                path = f"{told}/{shown(file.relative_to(folder).as_posix())}"
                yield Problem(path, 1, 1, "the sheet does not lie in lessons", "Move it there, or rename its folder.")


def _is_day(written: str) -> bool:
    try:
        date.fromisoformat(written)
    except ValueError:
        return False
    return True
