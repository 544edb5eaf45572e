"""An academy that is being written in: what changed is read again, and each page is made when a browser asks for it."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import timedelta
from functools import cache
from pathlib import Path
from secrets import token_hex
from threading import Event, RLock

from reportgen.errors import ReportgenError
from reportgen.languages.catalogues import ENGLISH, CatalogueError, Language
from reportgen.languages.speaking import speaking
from reportgen.pages.calendar import week_calendar
from reportgen.pages.drill_library import CARDS, library_cards
from reportgen.pages.student_site import lesson_recap, student_site
from reportgen.pipeline import load, reports_of
from reportgen.preview.shared_files import FIRST, shared_files
from reportgen.preview.stamps import stamps_after, stamps_of
from reportgen.publishing.build_plan import student_names
from reportgen.publishing.student_job import leans_on, pictured_in
from reportgen.publishing.taking_down import why_not
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import language_called, reader_of
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import AcademyFolder, SoundAcademy, sound
from reportgen.sheets.leave import leave_in
from reportgen.sheets.problems import Problem
from reportgen.sheets.today import today_in

LOOKS_EVERY = 0.2
"""Seconds between two looks at the files."""
SETTLES_IN = 0.05
"""Seconds in which nothing must change before files are read: an editor may write one in two steps."""


@dataclass
class Area:
    """The pages of one student, as far as they have been asked for; always of one state of the sheets."""

    home: SoundAcademy
    reports: tuple[ToldLesson, ...]
    files: dict[str, bytes] = field(default_factory=dict)


class Watched:
    """One academy, as its files stand now. Pages are kept in memory alone: nothing is written anywhere.

    Every method may be called from any thread. `version` changes whenever a page may look different; `latest` is the
    student whose files were saved last.
    """

    def __init__(self, root: Path) -> None:
        self.latest: str | None = None
        self._root = root
        self._lock = RLock()
        self._stamps = stamps_of(root)
        self._folder = load(root, ready=True)
        self._home = _sound(self._folder)
        self._lost: str | None = None
        self._areas: dict[str, Area] = {}
        self._stale: set[str] = set()
        self._shared: dict[str, bytes] = {}
        self._start, self._changes = token_hex(4), 0

    @property
    def version(self) -> str:
        return f"{self._start}-{self._changes}"

    def students(self) -> dict[str, str]:
        """Id and name of everybody, in the order of their ids."""
        found = sorted(self._folder.students.items())
        return {name: student.student.name if student.student else name for name, student in found}

    def language(self) -> Language:
        """The language of the desk's own words: the academy's, or English where that cannot be read."""
        academy = self._folder.academy
        try:
            return ENGLISH if academy is None else language_called(academy.language, self._root)
        except (LookupError, CatalogueError, OSError):
            return ENGLISH

    def keep_looking(self, stop: Event) -> None:
        """Look at the files until `stop` is set, and read again what changes."""
        while not stop.wait(LOOKS_EVERY):
            now = stamps_of(self._root)
            if now == self._stamps:
                continue
            while (later := stamps_after(SETTLES_IN, self._root, stop)) != now:
                now = later
            paths = {path for path, _ in self._stamps.items() ^ now.items()}
            self._stamps = now
            self._read_again(paths)

    def saved(self, path: str) -> None:
        """Read again what the file at `path` belongs to, which was written just now."""
        with self._lock:
            self._stamps = {**self._stamps, **stamps_of(self._root)}
        self._read_again([path])

    @property
    def folder(self) -> AcademyFolder:
        """The academy as it stands, drafts as if they were ready."""
        return self._folder

    def _read_again(self, paths: Iterable[str]) -> None:
        """Read what the changed files belong to: one student, or the whole academy where one belongs to all."""
        saved = {_student_of(path) for path in paths}
        whole = None in saved
        names = saved if whole else {*saved, *self._leaning_on({name for name in saved if name})}
        try:
            if whole:
                folder = load(self._root, ready=True)
            else:
                folder = self._with_read_again({name for name in names if name}, self._folder)
            lost = None
        except ReportgenError as error:
            folder, lost = self._folder, str(error)
        except Exception as error:  # whatever it is, the desk goes on: a page that stays still would deceive
            folder, lost = self._folder, f"{type(error).__name__}: {error}"
        with self._lock:
            self._folder, self._lost = folder, lost
            self._home = _sound(folder) or self._home
            self._stale |= set(self._areas) if whole else {name for name in names if name}
            if whole:
                self._shared.clear()
            self.latest = next((name for name in sorted(saved - {None}, key=str) if name in folder.students), None)
            self._changes += 1

    def _with_read_again(self, names: set[str], folder: AcademyFolder) -> AcademyFolder:
        students = dict(folder.students)
        shared = folder.shared_problems
        for name in names:
            fresh = load(self._root, name, ready=True)
            students.pop(name, None)
            students |= fresh.students
            shared = fresh.shared_problems
        return replace(folder, students=students, shared_problems=shared)

    def _leaning_on(self, names: set[str]) -> set[str]:
        """Those whose lessons use something of the students `names`, and whoever uses something of theirs."""
        leans = {name: leans_on(student, self._root) for name, student in self._folder.students.items()}
        found = set(names)
        while more := {name for name, others in leans.items() if others & found} - found:
            found |= more
        return found - names

    def troubles(self) -> list[Problem]:
        """The problems of the whole academy, or why it cannot be read at all."""
        if self._lost is not None:
            return [Problem("academy.yaml", 1, 1, *_in_two(self._lost))]
        return list(self._folder.problems)

    def file(self, path: str) -> bytes | None:
        """The file of the site at `path`, made now where it has not been: `s/<id>/...`, `assets/...`, `library/...`,
        `guide/...`.

        A path is only ever looked up among names that were made: it never reaches the disk. A student whose sheets
        have problems keeps the last good pages. Raises whatever goes wrong in making a page.
        """
        first, _, rest = path.partition("/")
        with self._lock:
            if first == "s":
                name, _, inside = rest.partition("/")
                return self._student_file(name, inside)
            if path == f"library/{CARDS}":
                return self._cards(path)
            if first in FIRST:
                return self._shared_files(first).get(path)
        return None

    def _cards(self, path: str) -> bytes | None:
        """To print takes longer than all pages of the library, and a machine without the layout engine shows these."""
        if self._home is not None and path not in self._shared:
            self._shared[path] = library_cards(self._home)
        return self._shared.get(path)

    def _shared_files(self, part: str) -> dict[str, bytes]:
        if f"{part}/{FIRST[part]}" not in self._shared:
            made = shared_files(part, self._folder, self._home, self.language().code)
            self._shared |= {f"{part}/{name}": data for name, data in made.items()}
        return self._shared

    def _student_file(self, name: str, inside: str) -> bytes | None:
        area = self._area(name)
        if area is None:
            return None
        if inside not in area.files:
            self._make(area, inside)
        return area.files.get(inside)

    def _area(self, name: str) -> Area | None:
        """The student's pages as the sheets stand; the last good ones where these have problems; None without any."""
        folder, home = self._folder, _sound(self._folder)
        student = folder.students.get(name)
        if student is None:
            return None
        judgeable = student.student and student.lessons and not student.problems
        if home and judgeable and (name in self._stale or name not in self._areas):
            judged = reports_of(student, home, folder.students)
            area = Area(home, tell_all(judged, home.library, reader_of(student.student, home)))
            self._make(area, "index.html")
            self._areas[name] = area
            self._stale.discard(name)
        if not judgeable and name in self._areas and self._may_not_be_shown(name):
            del self._areas[name]
        return self._areas.get(name)

    def _may_not_be_shown(self, name: str) -> bool:
        """Whether the last good pages show a picture for which there is no leave any more."""
        students = student_names(self._root)
        leave = cache(lambda whose: leave_in(self._root / "students" / whose))
        latest = today_in("UTC") + timedelta(days=1)
        return why_not(name, pictured_in(self._areas[name].reports), students, leave, latest) is not None

    def _make(self, area: Area, inside: str) -> None:
        """Make a file of a student's area: a recap alone, or a lesson's page with what stands on it; the first time
        the latest lesson's, with the pages that all lessons share."""
        home = area.home
        lesson, _, file = inside.partition("/")
        report = next((r for r in area.reports if r.lesson == lesson), None)
        if report is not None and file == "recap.pdf":
            area.files[inside] = lesson_recap(report, home)
        elif report is not None and file == "week.ics":
            with speaking(language_called(report.language, home.root)):
                calendar = week_calendar(report, home.academy)
            if calendar is not None:
                area.files[inside] = calendar
        elif report is not None or not area.files:
            wanted = lesson if report is not None else area.reports[-1].lesson
            area.files |= student_site(area.reports, home, lessons={wanted}, recaps=False)


def _sound(folder: AcademyFolder) -> SoundAcademy | None:
    """What all students share; None while that has problems."""
    return None if folder.shared_problems else sound(folder)


def _student_of(path: str) -> str | None:
    """The student whom a file belongs to; None where it belongs to everybody."""
    parts = path.split("/")
    return parts[1] if parts[0] == "students" and len(parts) > 2 else None


def _in_two(says: str) -> tuple[str, str]:
    wrong, _, mend = says.partition(". ")
    return wrong.rstrip("."), mend or "Mend it, and save."
