"""What a publish has to do: whose pages no longer are what their sheets, the library and the theme ask for."""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from posixpath import normpath
from typing import TYPE_CHECKING

import reportgen
from reportgen.publishing.addresses import token
from reportgen.publishing.digests import combined, program
from reportgen.publishing.store import Note, Store
from reportgen.publishing.survey import Survey, digest_of, is_of_a_student, survey
from reportgen.publishing.unit import Task
from reportgen.records.academy import Academy
from reportgen.sheets.academy_folder import is_a_students
from reportgen.sheets.shipped import shipped

if TYPE_CHECKING:
    from reportgen.publishing.sealed_site import Seals


@dataclass(frozen=True)
class Plan:
    """What there is to do.

    Digests of what parts are made from: `base` goes into every student's pages, `look` into the files of a lesson
    besides its report, `style` into style and faces; `drawn_by` is the program's own; `sheets` has one for each
    student's folder. `place` is a student's folder below upload/, `lessons` the count of the sheets. `notes` are on
    students whose pages stand as they should, `tasks` the others, those with most lessons first.
    """

    academy: Academy
    base: str
    look: str
    style: str
    drawn_by: str
    place: Mapping[str, str]
    lessons: Mapping[str, int]
    notes: Mapping[str, Note]
    tasks: Sequence[Task]
    sheets: Mapping[str, str]
    seals: "Seals | None"

    def inputs(self, student: str, leans_on: Sequence[str]) -> str:
        """The digest of everything that a student's area is made from."""
        return _inputs(student, leans_on, self.base, self.sheets, self.seals)


def plan(
    academy: Academy, root: Path, to: Path, store: Store, seals: "Seals | None", student: str | None, afresh: bool
) -> Plan:
    """What changed since the last publish, by the content of the files; with `student`, the pages of this one at any
    rate, and of nobody else. Raises OSError."""
    known = store.survey()
    seen = survey(_surveyed(root), known)
    if seen.files != known:
        store.write_survey(seen.files)
    base, sheets, lessons = _base(seen, academy), seen.by_student(), seen.lessons()
    place = {name: f"s/{token(name, academy)}" for name in student_names(root)}

    def holds(name: str, note: Note) -> bool:
        same = note.place == place[name] and note.inputs == _inputs(name, note.leans_on, base, sheets, seals)
        return same and (not note.pages or (to / "upload" / note.place / "index.html").is_file()) and name != student

    notes = {} if afresh else {name: note for name, note in store.notes(place).items() if holds(name, note)}
    readers = place if seals is None else seals.students
    tasks = [
        Task(
            name,
            seal=seals.students.get(name) if seals else None,
            afresh=afresh,
            only_read=student not in (None, name) or name not in readers,
        )
        for name in sorted(place.keys() - notes.keys(), key=lambda name: (-lessons.get(name, 0), name))
    ]
    look, style, drawn_by = _look(seen, academy), _style(seen, academy), _drawn_by(seen)
    return Plan(academy, base, look, style, drawn_by, place, lessons, notes, tasks, sheets, seals)


def student_names(root: Path) -> list[str]:
    """The folders of students, those with names that are refused among them."""
    folder = root / "students"
    found = os.scandir(folder) if folder.is_dir() else ()
    folders = (Path(entry.path) for entry in found if entry.is_dir() and not entry.name.startswith("."))
    return sorted(folder.name for folder in folders if is_a_students(folder))


def _surveyed(root: Path) -> dict[str, Path]:
    package = Path(reportgen.__file__).parent
    return {"academy": root, "content": shipped("content"), "themes": shipped("themes"), "program": package}


def _inputs(
    student: str, leans_on: Sequence[str], base: str, by_student: Mapping[str, str], seals: "Seals | None"
) -> str:
    sheets = [by_student.get(name, "none") for name in (student, *leans_on)]
    sealed = "open" if seals is None else "without"
    if seals is not None and (seal := seals.students.get(student)) is not None:
        sealed = combined(seal.key.mark, sha256(seal.shell).hexdigest())
    return combined(base, sealed, *sheets)


def _base(seen: Survey, academy: Academy) -> str:
    """The digest of everything that every student's pages depend on: of themes only what goes into a page."""
    return combined(program(), digest_of(_of_all(seen, academy)))


def _look(seen: Survey, academy: Academy) -> str:
    """The digest of what the files of a judged lesson depend on besides its report."""
    in_report = ("content/", "academy/metrics/", "academy/bands/", "academy/drills/", "academy/safety/")
    files = (
        file
        for file in _of_all(seen, academy)
        if file[0].startswith("content/languages/") or not file[0].startswith((*in_report, "academy/practice."))
    )
    return combined(program(), digest_of(files))


def _style(seen: Survey, academy: Academy) -> str:
    """The digest of what style and faces depend on."""
    themes = _themes(academy)
    files = ((name, digest) for name, (_, digest) in seen.files.items() if name.startswith(themes))
    return combined(program(), digest_of(file for file in files if file[0].endswith("/style.css")), str(academy.theme))


def _themes(academy: Academy) -> tuple[str, ...]:
    """How the names of files begin that are of a theme in use."""
    return ("themes/", normpath(f"academy/{academy.theme}") + "/") if academy.theme else ("themes/",)


def _drawn_by(seen: Survey) -> str:
    """The digest of the program and of what it draws with."""
    own = ((name, digest) for name, (_, digest) in seen.files.items() if name.startswith("program/"))
    return combined(program(), digest_of(file for file in own if file[0].endswith(".py")))


def _of_all(seen: Survey, academy: Academy) -> Iterator[tuple[str, str]]:
    """Name and digest of every file that is no student's and that goes into pages, the program's own among them. Of a
    theme that is all but the style, which pages name only: a template may include any file."""
    themes = _themes(academy)
    for name, (_, digest) in seen.files.items():
        if is_of_a_student(name) or (name.startswith("program/") and not name.endswith(".py")):
            continue
        if name.startswith(themes) and name.endswith("/style.css"):
            continue
        yield name, digest
