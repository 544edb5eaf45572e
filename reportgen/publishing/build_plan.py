"""What a publish has to do: whose pages no longer are what their sheets, the library and the theme ask for."""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from posixpath import normpath
from typing import TYPE_CHECKING

import reportgen
from reportgen.publishing.digests import combined, program
from reportgen.publishing.file_index import FileIndex, digest_of, index_files, is_of_a_student
from reportgen.publishing.options import PublishOptions
from reportgen.publishing.store import Note, Store
from reportgen.publishing.student_job import StudentJob
from reportgen.records.academy import Academy
from reportgen.records.taken_down import TakenDown
from reportgen.sealing.addresses import token
from reportgen.sheets.academy_folder import Home
from reportgen.sheets.rounds import FOLDER as ROUNDS
from reportgen.sheets.shipped import shipped
from reportgen.sheets.student_files import is_a_students

if TYPE_CHECKING:
    from reportgen.sealing.sealed_site import Seals

_ASSETS = ("/style.css", ".woff2")
"""How the names of files end that pages name and do not hold: style and faces."""


@dataclass(frozen=True)
class BuildPlan:
    """What there is to do.

    Digests of what parts are made from: `shared_digest` of what every student's pages depend on, `layout_digest` of
    what a lesson's files depend on besides its report and its pictures, `style_digest` of style and faces,
    `program_digest` of the program alone; `sheets` has one for each student's folder. `place` is a student's folder
    below upload/, `lessons` the count of the sheets. `notes` are on students whose pages stand as they should,
    `student_jobs` make the others, those with most lessons first; `down` says of whom among them the pages were taken
    away.
    """

    home: Home
    shared_digest: str
    layout_digest: str
    style_digest: str
    program_digest: str
    place: Mapping[str, str]
    lessons: Mapping[str, int]
    notes: Mapping[str, Note]
    student_jobs: Sequence[StudentJob]
    sheets: Mapping[str, str]
    seals: "Seals | None"
    down: Mapping[str, TakenDown]

    def inputs(self, student: str, leans_on: Sequence[str]) -> str:
        """The digest of everything that a student's area is made from."""
        return _inputs(student, leans_on, self.shared_digest, self.sheets, self.seals)


def indexed(root: Path, store: Store) -> FileIndex:
    """The files of the academy in `root`, of library, themes and program, as they are now. Raises OSError."""
    known = store.file_index()
    index = index_files(indexed_folders(root), known)
    if index.files != known:
        store.write_file_index(index.files)
    return index


def build_plan(home: Home, store: Store, index: FileIndex, seals: "Seals | None", options: PublishOptions) -> BuildPlan:
    """What changed since the last publish, by the `index` of files and the notes of the `store`; where a student is
    asked for, the pages of this one at any rate, and of others only where they were taken away or nobody knows what
    they show."""
    academy, student, afresh = home.academy, options.student, options.afresh
    known, upload = store.notes(), store.folder.parent / "upload"
    shared_digest, sheets, lessons = _shared_digest(index, academy), index.by_student(), index.lessons()
    place = {name: f"s/{token(name, academy)}" for name in student_names(home.root)}

    def holds(name: str, note: Note) -> bool:
        same = note.place == place[name] and note.inputs == _inputs(name, note.leans_on, shared_digest, sheets, seals)
        return same and (not note.pages or (upload / note.place / "index.html").is_file()) and name != student

    notes = {} if afresh else {name: note for name, note in known.items() if name in place and holds(name, note)}
    down = {name: note.down for name, note in known.items() if name in place and note.down}
    unknown = {name for name in place.keys() - known.keys() if (upload / place[name]).exists()}
    made = set(place) if student is None else {student, *down, *unknown}
    readers = place if seals is None else seals.students
    student_jobs = [
        StudentJob(
            name,
            seal=seals.students.get(name) if seals else None,
            afresh=afresh,
            only_read=name not in made or name not in readers,
        )
        for name in sorted(place.keys() - notes.keys(), key=lambda name: (-lessons.get(name, 0), name))
    ]
    return BuildPlan(
        home=home,
        shared_digest=shared_digest,
        layout_digest=_layout_digest(index, academy),
        style_digest=_style_digest(index, academy),
        program_digest=_program_digest(index),
        place=place,
        lessons=lessons,
        notes=notes,
        student_jobs=student_jobs,
        sheets=sheets,
        seals=seals,
        down=down,
    )


def student_names(root: Path) -> list[str]:
    """The folders of students, those with names that are refused among them."""
    folder = root / "students"
    found = os.scandir(folder) if folder.is_dir() else ()
    folders = (Path(entry.path) for entry in found if entry.is_dir() and not entry.name.startswith("."))
    return sorted(folder.name for folder in folders if is_a_students(folder))


def indexed_folders(root: Path) -> dict[str, Path]:
    """The folders of which everything that goes into pages is looked at, by the name that their files have."""
    package = Path(reportgen.__file__).parent
    return {"academy": root, "content": shipped("content"), "themes": shipped("themes"), "program": package}


def _inputs(
    student: str, leans_on: Sequence[str], shared_digest: str, by_student: Mapping[str, str], seals: "Seals | None"
) -> str:
    sheets = [by_student.get(name, "none") for name in (student, *leans_on)]
    sealed = "open" if seals is None else "without"
    if seals is not None and (seal := seals.students.get(student)) is not None:
        sealed = combined(seal.key.mark, sha256(seal.shell).hexdigest())
    return combined(shared_digest, sealed, *sheets)


def _shared_digest(index: FileIndex, academy: Academy) -> str:
    """The digest of everything that every student's pages depend on: of themes only what goes into a page."""
    return combined(program(), digest_of(_of_all(index, academy)))


def _layout_digest(index: FileIndex, academy: Academy) -> str:
    """The digest of what the files of a judged lesson depend on besides its report."""
    in_report = ("content/", "academy/metrics/", "academy/bands/", "academy/drills/", "academy/safety/")
    files = (
        file
        for file in _of_all(index, academy)
        if file[0].startswith("content/languages/") or not file[0].startswith((*in_report, "academy/practice."))
    )
    return combined(program(), digest_of(files))


def _style_digest(index: FileIndex, academy: Academy) -> str:
    """The digest of what style and faces depend on."""
    themes = _themes(academy)
    files = ((name, digest) for name, (_, digest) in index.files.items() if name.startswith(themes))
    return combined(program(), digest_of(file for file in files if file[0].endswith(_ASSETS)), str(academy.theme))


def _themes(academy: Academy) -> tuple[str, ...]:
    """How the names of files begin that are of a theme in use."""
    return ("themes/", normpath(f"academy/{academy.theme}") + "/") if academy.theme else ("themes/",)


def _program_digest(index: FileIndex) -> str:
    """The digest of the program and of what it draws with."""
    own = ((name, digest) for name, (_, digest) in index.files.items() if name.startswith("program/"))
    return combined(program(), digest_of(file for file in own if file[0].endswith(".py")))


def _of_all(index: FileIndex, academy: Academy) -> Iterator[tuple[str, str]]:
    """Name and digest of every file that is no student's and that goes into pages, the program's own among them. Of a
    theme that is all but style and faces, which pages name only: a template may include any file."""
    themes = _themes(academy)
    for name, (_, digest) in index.files.items():
        if is_of_a_student(name) or (name.startswith("program/") and not name.endswith(".py")):
            continue
        if name.startswith(f"academy/{ROUNDS}/"):
            continue
        if name.startswith(themes) and name.endswith(_ASSETS):
            continue
        yield name, digest
