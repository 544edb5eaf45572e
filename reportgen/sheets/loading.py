"""An academy as the sheets and the marks on its stills have it, with every problem of both; nothing is judged."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from reportgen.sheets.academy_folder import AcademyFolder, SoundAcademy, StudentFolder, load_academy, with_students
from reportgen.sheets.mark_problems import with_mark_problems


def load(root: Path, only: str | None = None, *, ready: bool = False) -> AcademyFolder:
    """The academy in `root` with every problem of its sheets, the marks on its stills included; with `only`, of the
    students just that one and those they are compared with; with `ready`, drafts as if they were ready, for who writes
    them. Raises NoAcademyError."""
    return _with_mark_problems(load_academy(root, only, ready=ready))


def read_students(home: SoundAcademy, folders: Mapping[str, Path], names: Iterable[str]) -> Mapping[str, StudentFolder]:
    """These students alone and those they are compared with, by id, from the `folders` that `load_shared` has found."""
    shared = AcademyFolder(home.root, home.academy, home.library, {}, ())
    return _with_mark_problems(with_students(shared, folders, names)).students


def _with_mark_problems(folder: AcademyFolder) -> AcademyFolder:
    return replace(folder, students={name: with_mark_problems(student) for name, student in folder.students.items()})
