"""Films that were kept in the student's folder and are opened again, so that other pictures can be taken from
them later."""

from dataclasses import dataclass
from pathlib import Path

from reportgen.desk.films import Films
from reportgen.desk.lessons import Lessons
from reportgen.films.working import FILMS


@dataclass(frozen=True)
class KeptFilms:
    """The films in the folders of one academy's students."""

    lessons: Lessons
    films: Films

    def of_lesson(self, student: str, name: str) -> tuple[Path, ...]:
        """The kept films of a lesson's day that are not open now. Raises LookupError."""
        folder = self.lessons.sheet(student, name).parents[1] / "films"
        is_open = {(one.note.name, one.note.size) for one in self.films.of_lesson(student, name) if not one.note.kept}
        found = sorted(folder.glob(f"{name[:10]}-*")) if folder.is_dir() else []
        films = (one for one in found if one.suffix.lower() in FILMS and one.is_file() and not one.is_symlink())
        return tuple(one for one in films if (one.name, one.stat().st_size) not in is_open)

    def open(self, student: str, name: str, called: str) -> int:
        """Lay a copy of a kept film beside the lesson and read it; its number there. Raises LookupError where none of
        that name is kept: no name of a page reaches the disk. Raises MissingFilmLibraryError, ReportgenError,
        OSError."""
        film = next((one for one in self.of_lesson(student, name) if one.name == called), None)
        if film is None:
            raise LookupError(called)
        return self.films.take_copy(student, name, film)
