"""The films that lie beside lessons while these are written: taken in, read, looked at, and taken away again."""

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import RLock
from time import time
from typing import Any

from pydantic import ValidationError

from reportgen.desk.film_reading import Progress, Readers
from reportgen.desk.lessons import Lessons
from reportgen.films.needs import FilmError, film_libraries
from reportgen.films.reader import Filmed, lag_in, picture_file, swing_in, times_in
from reportgen.films.reading import film_facts
from reportgen.films.swings import STRETCHES, FilmedSwing, stretches
from reportgen.films.working import FILMS, films_of, new_folder
from reportgen.preview.watched import Watched
from reportgen.records.films import Lag, WorkingFilm
from reportgen.records.units import convert
from reportgen.records.words import Side, View
from reportgen.rights import owner_only, write_atomically
from reportgen.sheets.drafts import is_draft
from reportgen.sheets.stills_written import stills_written

NOTE = "film.json"
"""What is known of a film; a folder without it is of a film that never came to its end."""
KEPT_DAYS = 30
"""After so many days a film that nobody kept goes."""
USUAL_DISTANCE_M = 4.0
"""From the camera to the player, where no lesson says."""
_SAID: tuple[tuple[View, frozenset[str]], ...] = (
    ("face-on", frozenset({"fo", "face", "faceon"})),
    ("down-the-line", frozenset({"dtl", "line", "downtheline"})),
)
"""Words in the names of films that tell the view."""


@dataclass(frozen=True)
class Film:
    """A film of a lesson by its `number`: where it lies, what is known of it, and how far its reading is."""

    number: int
    file: Path
    note: WorkingFilm
    progress: Progress

    @property
    def folder(self) -> Path:
        return self.file.parent

    @property
    def read(self) -> bool:
        """Whether it has been read to its end."""
        return not self.progress.running and self.progress.wrong is None


class Films:
    """The films of one academy's lessons; every method may be called from any thread."""

    def __init__(self, root: Path, watched: Watched, lessons: Lessons) -> None:
        self._root, self._watched, self._lessons = root, watched, lessons
        self._at, self._lock, self.readers = films_of(root), RLock(), Readers()

    def of_lesson(self, student: str, name: str) -> tuple[Film, ...]:
        """The films of a lesson in the order in which they came. Raises LookupError."""
        self._lessons.sheet(student, name)
        folder = self._at / student / name
        numbers = sorted(int(one.name) for one in folder.iterdir() if one.name.isdecimal()) if folder.is_dir() else []
        found = ((number, self._noted(folder / str(number))) for number in numbers)
        return tuple(
            Film(number, noted[0], noted[1], self.readers.progress(noted[0])) for number, noted in found if noted
        )

    def film(self, student: str, name: str, number: int) -> Film:
        """One film of a lesson. Raises LookupError."""
        for one in self.of_lesson(student, name):
            if one.number == number:
                return one
        raise LookupError(number)

    def place_for(self, student: str, name: str, called: str) -> Path:
        """A new file for a film that a phone called so, in a folder of its own. Raises LookupError,
        MissingFilmLibraryError, ReportgenError, OSError."""
        self._lessons.sheet(student, name)
        film_libraries()
        suffix = Path(called).suffix.lower()
        with self._lock:
            return new_folder(self._at / student / name) / f"film{suffix if suffix in FILMS else '.mov'}"

    def take_copy(self, student: str, name: str, file: Path) -> int:
        """Take in a copy of a film that lies elsewhere and stays there; its number. Raises as `place_for` and `take`
        do."""
        place = self.place_for(student, name, file.name)
        try:
            with file.open("rb") as read, open(place, "xb", opener=owner_only) as stream:
                shutil.copyfileobj(read, stream)
        except BaseException:
            self.drop(place)
            raise
        return self.take(place, file.name)

    def take(self, file: Path, called: str) -> int:
        """Take in the film that has been written into `file`, and begin to read it; its number. What cannot be used is
        taken away again. Raises FilmError, OSError."""
        try:
            facts = film_facts(file)
            note = WorkingFilm(
                name=called,
                size=file.stat().st_size,
                facts=facts,
                view=guessed_view(called),
                stretched=facts.stretched if facts.may_be_stretched or facts.stretched else 1.0,
            )
            self._write(file.parent, note)
        except FilmError as error:
            self.drop(file)
            raise FilmError(str(error).replace(file.name, called, 1)) from error
        except BaseException:
            self.drop(file)
            raise
        self.readers.progress(file)
        return int(file.parent.name)

    def drop(self, file: Path) -> None:
        """Take away a film that is not taken in."""
        shutil.rmtree(file.parent, ignore_errors=True)

    def change(self, film: Film, **values: Any) -> None:
        """Note something of a film. Raises LookupError, OSError."""
        with self._lock:
            self._write(film.folder, self.noted(film).model_copy(update=values))

    def remove(self, student: str, name: str, number: int) -> None:
        """Take a film away. Raises LookupError."""
        self._remove(self.film(student, name, number).folder)

    def lesson_is_ready(self, student: str, name: str) -> None:
        """Take away the films of a lesson that is a draft no longer. Raises LookupError."""
        sheet = self._lessons.sheet(student, name)
        if not is_draft(None, sheet):
            for folder in self._folders(self._at / student / name):
                self._remove(folder)

    def sweep(self) -> None:
        """Take away what is left of films that never came to their end, and those that nobody kept for a month."""
        for lesson in self._at.glob("*/*"):
            for folder in self._folders(lesson):
                age = time() - folder.stat().st_mtime
                if not (folder / NOTE).exists() or age > KEPT_DAYS * 86_400:
                    self._remove(folder)

    def picture(self, student: str, name: str, number: int, picture: int) -> Path:
        """The file of a picture that has been read. Raises LookupError."""
        file = picture_file(self.film(student, name, number).folder, picture)
        if not file.is_file():
            raise LookupError(picture)
        return file

    def swing(self, film: Film, student: str, name: str, stretched: float | None = None) -> FilmedSwing:
        """The swing in a film that was read and whose view is known; as if it were `stretched` by so much."""
        return swing_in(film.folder, self._filmed(film, student, name, stretched))

    def lag(self, first: Film, second: Film, student: str, name: str) -> Lag:
        """By how much the clock of the second of two films that were read is to be put forward to be the first's."""
        return lag_in(*((one.folder, self._filmed(one, student, name)) for one in (first, second)))

    def times(self, film: Film) -> list[float]:
        """When each picture of a film that was read is, in seconds of the world."""
        return [time / (film.note.stretched or 1.0) for time in times_in(film.folder)]

    def may_be_stretched(self, film: Film, student: str, name: str) -> tuple[float, ...]:
        """By how much a film may be stretched that does not say, so that its downswing takes as long as one does; all
        that there are where no swing tells."""
        view = film.note.view
        if view is None:
            return ()
        return stretches(self.swing(film, student, name, 1.0), view, self.plays(student)) or STRETCHES

    def plays(self, student: str) -> Side:
        """How the student plays."""
        theirs = self._watched.folder.students[student].student
        return theirs.plays if theirs else "right"

    def noted(self, film: Film) -> WorkingFilm:
        """What is known of a film by now. Raises LookupError where it has gone."""
        noted = self._noted(film.folder)
        if noted is None:
            raise LookupError(film.number)
        return noted[1]

    def _filmed(self, film: Film, student: str, name: str, stretched: float | None = None) -> Filmed:
        view = film.note.view
        if view is None:
            raise LookupError(film.number)
        factor = stretched or film.note.stretched or 1.0
        return Filmed(view, self.plays(student), factor, self._distance(student, name, view))

    def _distance(self, student: str, name: str, view: View) -> float:
        """How far the camera of a view stood from the player, in metres, by this lesson or the latest before it."""
        sheet = self._lessons.sheet(student, name)
        earlier = sorted((one for one in sheet.parent.glob("*.yaml") if one.stem < name), reverse=True)[:1]
        for one in (sheet, *earlier):
            for written in stills_written(one, self._root):
                if written.still.view == view and written.still.camera is not None:
                    distance = written.still.camera.distance
                    return convert(distance.value, distance.unit, "m")
        return USUAL_DISTANCE_M

    def _noted(self, folder: Path) -> tuple[Path, WorkingFilm] | None:
        """A film's file and what is known of it; None of one that has not come to its end."""
        try:
            note = WorkingFilm.model_validate_json((folder / NOTE).read_bytes())
            return next(folder.glob("film.m*")), note
        except (OSError, ValidationError, StopIteration):
            return None

    def _write(self, folder: Path, note: WorkingFilm) -> None:
        write_atomically(folder / NOTE, note.model_dump_json().encode())

    def _folders(self, lesson: Path) -> Iterator[Path]:
        yield from (one for one in lesson.glob("*") if one.is_dir() and one.name.isdecimal())

    def _remove(self, folder: Path) -> None:
        self.readers.stop(folder)
        shutil.rmtree(folder, ignore_errors=True)
        for around in (folder.parent, folder.parent.parent):
            try:
                around.rmdir()
            except OSError:  # another film lies in it
                return


def guessed_view(called: str) -> View | None:
    """The view that a film's name tells, as `swing-fo.mov` does; None where it tells none."""
    said = set(re.split(r"[^a-z]+", called.lower()))
    return next((view for view, words in _SAID if said & words), None)
