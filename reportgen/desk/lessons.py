"""The lessons of an academy as the desk shows and changes them; the sheets are where everything is kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import Any

from pydantic import JsonValue

from reportgen.authoring.begin import begin_sheet
from reportgen.desk.form import Form, form_of
from reportgen.desk.saving import Change, save
from reportgen.errors import ReportgenError
from reportgen.judging.of_kind import of_kind
from reportgen.planning.desk import DeskEntry, desk_entries, on_desk
from reportgen.preview.watched import Watched
from reportgen.records.base import Record
from reportgen.records.lesson import Lesson
from reportgen.records.words import LESSON_KINDS
from reportgen.rights import write_atomically
from reportgen.saying.readers import Reader, library_for
from reportgen.saying.wording import unit_mark
from reportgen.sheets.academy_folder import AcademyFolder, NoAcademyError, StudentFolder
from reportgen.sheets.drafts import Draft, unfilled
from reportgen.sheets.editing import changed
from reportgen.sheets.loading import load
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import read_text, sheet_of
from reportgen.sheets.today import build_day
from reportgen.sheets.tree import Loc, Tree, parse


class SentChange(Record):
    """What a page sends: the place in the sheet, what stood there, what is to stand there."""

    loc: tuple[str | int, ...]
    was: JsonValue = None
    value: JsonValue = None
    add: bool = False


@dataclass(frozen=True)
class Due:
    """Somebody on the desk, and the lessons of theirs that are being written."""

    entry: DeskEntry
    drafts: tuple[Draft, ...]


@dataclass(frozen=True)
class Written:
    """A lesson that is being written: `drills` are those to choose from, with what each is for."""

    student: str
    who: str
    name: str
    draft: bool
    form: Form
    drills: tuple[tuple[str, str, str], ...]


class Lessons:
    """The sheets of one academy; every method may be called from any thread."""

    def __init__(self, root: Path, watched: Watched) -> None:
        self._root, self._watched, self._lock = root, watched, Lock()

    def entries(self) -> tuple[Due, ...]:
        """Everybody, the longest overdue first; nobody where academy.yaml cannot be read."""
        try:
            ready = load(self._root)
        except NoAcademyError:
            return ()
        if ready.academy is None:
            return ()
        students = [on_desk(folder, None) for folder in ready.students.values()]
        entries = desk_entries(students, {}, ready.academy, build_day(ready.academy))
        return tuple(Due(entry, ready.students[entry.on_desk.id].drafts) for entry in entries)

    def begin(self, student: str) -> str:
        """The name of a sheet begun today, or of today's draft. Raises LookupError where nobody has that id,
        ReportgenError, OSError."""
        folder = load(self._root, student)
        if student not in folder.students:
            raise LookupError(student)
        if folder.academy is None:
            raise ReportgenError("academy.yaml has problems.")
        on = build_day(folder.academy)
        for draft in folder.students[student].drafts:
            if draft.name[:10] == str(on):
                return draft.name
        sheet = begin_sheet(folder, student, on)
        self._watched.saved(sheet.relative_to(self._root).as_posix())
        return sheet.stem

    def written(self, student: str, name: str) -> Written:
        """A lesson as it stands on disk. Raises LookupError where there is none."""
        folder, theirs, sheet = self._sheet(student, name)
        text, problem = read_text(sheet, _path(student, name))
        tree = parse(text or "", _path(student, name))
        data: Mapping[str, Any] = tree.data if isinstance(tree.data, dict) else {}
        kind = data.get("kind") if data.get("kind") in LESSON_KINDS else "full-swing"
        library = library_for(Reader(self._watched.language()), of_kind(folder.library, kind))  # type: ignore[arg-type]
        problems = [problem] if problem else self._problems(student, name)
        draft = data.get("draft") == "true"
        if draft:  # what nobody has filled in is left out in the end, and no fault meanwhile
            waiting = unfilled(data)
            problems = [p for p in problems if not any((p.line, p.column) in _places(tree, loc) for loc in waiting)]
        form = form_of(tree, problems, library, self._last_values(theirs, name))
        drills = tuple((drill.id, drill.title, drill.aim) for drill in library.drills.values())
        who = theirs.student.name if theirs.student else student
        return Written(student, who, name, draft, form, drills)

    def change(self, student: str, name: str, sent: SentChange) -> Mapping[str, Any]:
        """Write what was typed, and nothing else: what is typed next must not wait. Raises LookupError, ReportgenError,
        OSError."""
        self.write(student, name, Change(sent.loc, sent.was, sent.value, sent.add))
        return {}

    def look(self, student: str, name: str) -> Mapping[str, Any]:
        """Read again what was written, and tell what is wrong now: by place, and of what has no field. Raises
        LookupError."""
        self._sheet(student, name)
        self._watched.saved(_path(student, name))
        return told(self.written(student, name).form)

    def write(self, student: str, name: str, *changes: Change) -> None:
        """Write values into a sheet, all of them or none; the pages follow when the watch sees it. Raises LookupError,
        ReportgenError, OSError."""
        with self._lock:
            save(self.sheet(student, name), *changes)

    def sheet(self, student: str, name: str) -> Path:
        """Where a lesson stands. Raises LookupError where there is none of that name."""
        return self._sheet(student, name)[2]

    def ready(self, student: str, name: str) -> Mapping[str, Any]:
        """Make a lesson of a draft: what nobody filled in is taken out, and the line that says draft. What is wrong is
        told, and then it stays one. Raises LookupError, ReportgenError, OSError."""
        with self._lock:
            sheet, path = self._sheet(student, name)[2], _path(student, name)
            self._watched.saved(path)
            text, problem = read_text(sheet, path)
            if text is None:
                raise ReportgenError(str(problem))
            for loc in (*unfilled(parse(text, path).data), ("draft",)):
                text = changed(text, loc, None)
            _, wrong = sheet_of(text, path, Lesson)
            if wrong or any(p.path == path for p in self._watched.folder.students[student].problems):
                return told(self.written(student, name).form)
            write_atomically(sheet, text.encode())
            self._watched.saved(path)
        return told(self.written(student, name).form)

    def _last_values(self, theirs: StudentFolder, name: str) -> Mapping[str, str]:
        """What was typed of each metric in the lesson before, by its id."""
        before = [one.lesson for one in theirs.lessons if one.name < name]
        return {
            r.metric: f"{r.value:g}{unit_mark(r.unit)}"
            for r in (before[-1].readings if before else ())
            if r.value is not None
        }

    def _problems(self, student: str, name: str) -> list[Problem]:
        """What is wrong with a sheet, a draft as if it were ready."""
        theirs = load(self._root, student).students[student]
        drafts = [problem for draft in theirs.drafts for problem in draft.problems]
        return [problem for problem in (*theirs.problems, *drafts) if problem.path == _path(student, name)]

    def _sheet(self, student: str, name: str) -> tuple[AcademyFolder, StudentFolder, Path]:
        """What holds a lesson. Names are looked up among those that are there: none of them reaches the disk."""
        folder = self._watched.folder
        theirs = folder.students.get(student)
        if theirs is None:
            raise LookupError(student)
        for sheet in (self._root / "students" / student / "lessons").glob("*.yaml"):
            if sheet.stem == name:
                return folder, theirs, sheet
        raise LookupError(name)


def _places(tree: Tree, row: Loc) -> set[tuple[int, int]]:
    """Where a row of a sheet stands, and its keys and values."""
    return {tree.place(loc) for loc in tree.places if loc[: len(row)] == row} | {
        tree.key_place(loc) for loc in tree.keys if loc[: len(row)] == row
    }


def _path(student: str, name: str) -> str:
    return f"students/{student}/lessons/{name}.yaml"


def told(form: Form) -> Mapping[str, Any]:
    """The problems of a form, as a page takes them: `fields` and `rows` by their place, and those elsewhere."""
    fields = [
        one for section in form.sections for one in (*section.fields, *(f for r in section.rows for f in r.fields))
    ]
    rows = [row for section in form.sections for row in section.rows]
    return {
        "fields": [[one.loc, one.says] for one in fields if one.says],
        "rows": [[row.loc, " ".join(row.says)] for row in rows if row.says],
        "elsewhere": [_line(problem) for problem in form.elsewhere],
    }


def _line(problem: Problem) -> str:
    return f"{problem.line}: {problem.wrong}. {problem.mend}"
