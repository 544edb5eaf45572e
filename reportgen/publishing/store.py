"""What earlier publishes made each part of the site from: equal inputs, equal bytes, so it need not be made again.

DIR/.made/files.json           the index of all files
DIR/.made/parts.json           the digest of what the shared parts and the desk were made from
DIR/.made/students/<id>.json   what a student's area was made from, and what the desk says of the student
DIR/.made/kept/<id>.zip        the files of each lesson (see lesson_cache.py)

All of it can be deleted: the next publish makes the same bytes again.
"""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from reportgen.publishing.file_index import Known
from reportgen.records.taken_down import TakenDown
from reportgen.rights import FOLDER, write_atomically

FORMAT = 3
"""Changes whenever what is kept means something else; what an older program kept is then no longer read."""


@dataclass(frozen=True)
class Note:
    """One student's area: `inputs` is the digest of what it was made from, `sheets` that of its own sheets and of those
    of the students that it `leans_on`; `place` its folder below upload/, where it has `pages`; `desk` what the desk
    says, as JSON. Its pages `show` pictures of these students; where they were taken away, `down` says why."""

    inputs: str
    sheets: str
    place: str
    pages: bool
    leans_on: tuple[str, ...]
    shows: tuple[str, ...]
    desk: dict[str, Any]
    down: TakenDown | None = None


@dataclass(frozen=True)
class Store:
    """The notes in one folder."""

    folder: Path

    def file_index(self) -> dict[str, Known]:
        """The files of the last index; nothing where it cannot be read."""
        read = _read(self.folder / "files.json").items()
        return {name: (tuple(stamp) if stamp else None, digest) for name, (stamp, digest) in read}

    def parts(self) -> dict[str, str]:
        """Digests of the shared parts, by name."""
        return _read(self.folder / "parts.json")

    def notes(self) -> dict[str, Note]:
        """The notes on everybody who has one."""
        read = {name: _read(self._note(name)) for name in self.students()}
        return {name: _note_of(note) for name, note in read.items() if note}

    def write_file_index(self, files: Mapping[str, Known]) -> None:
        """Keep the files of an index."""
        _write(self.folder / "files.json", files)

    def write_parts(self, parts: Mapping[str, str]) -> None:
        """Keep the digests of the shared parts."""
        _write(self.folder / "parts.json", parts)

    def write_note(self, student: str, note: Note) -> None:
        """Keep what is noted of a student."""
        _write(self._note(student), asdict(note))

    def drop_note(self, student: str) -> None:
        """Forget what a student's pages were made from, so that the next publish makes them again."""
        self._note(student).unlink(missing_ok=True)

    def forget(self, student: str) -> None:
        """Forget a student."""
        self._note(student).unlink(missing_ok=True)
        self.lesson_cache(student).unlink(missing_ok=True)

    def students(self) -> list[str]:
        """Everybody of whom something is noted."""
        return [file.stem for file in (self.folder / "students").glob("*.json")]

    def lesson_cache(self, student: str) -> Path:
        """Where the files of a student's lessons are cached."""
        return self.lesson_caches / f"{student}.zip"

    @property
    def lesson_caches(self) -> Path:
        """The folder of all of them."""
        return self.folder / "kept"

    def note_file(self, student: str) -> Path:
        """Where it is noted what a student's pages were made from."""
        return self._note(student)

    def _note(self, student: str) -> Path:
        return self.folder / "students" / f"{student}.json"


def _note_of(read: Mapping[str, Any]) -> Note:
    lists = {name: tuple(read[name]) for name in ("leans_on", "shows")}
    return Note(**{**read, **lists, "down": TakenDown(**read["down"]) if read["down"] else None})


def _read(file: Path) -> dict[str, Any]:
    """What is kept in a file; nothing where it is not there, damaged or of another format."""
    try:
        head, _, body = file.read_bytes().partition(b"\n")
        return dict(json.loads(body)) if head == _head(body) else {}
    except OSError:
        return {}


def _write(file: Path, kept: Mapping[str, Any]) -> None:
    file.parent.mkdir(mode=FOLDER, parents=True, exist_ok=True)
    body = json.dumps(dict(kept), separators=(",", ":")).encode()
    write_atomically(file, b"%b\n%b" % (_head(body), body))  # not waited for: its sum tells one that a power cut broke


def _head(body: bytes) -> bytes:
    """The first line of a file: whoever finds another one there does not read on."""
    return f"{FORMAT} {sha256(body).hexdigest()}".encode()
