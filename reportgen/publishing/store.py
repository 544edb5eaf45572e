"""What earlier publishes made each part of the site from: equal inputs, equal bytes, so it need not be made again.

DIR/.made/files.json           the survey of all files
DIR/.made/parts.json           the digest of what the shared parts and the desk were made from
DIR/.made/students/<id>.json   what a student's area was made from, and what the desk says of the student
DIR/.made/kept/<id>.zip        the files of each lesson (see kept.py)

All of it can be deleted: the next publish makes the same bytes again.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from reportgen.publishing.survey import Known

FORMAT = 2
"""Changes whenever what is kept means something else; what an older program kept is then no longer read."""


@dataclass(frozen=True)
class Note:
    """One student's area: `inputs` is the digest of what it was made from, its own sheets and those of the students
    that it `leans_on`; `place` its folder below upload/, where it has `pages`; `desk` what the desk says, as JSON."""

    inputs: str
    place: str
    pages: bool
    leans_on: tuple[str, ...]
    desk: dict[str, Any]


@dataclass(frozen=True)
class Store:
    """The notes in one folder."""

    folder: Path

    def survey(self) -> dict[str, Known]:
        """What the last survey found; nothing where it cannot be read."""
        read = _read(self.folder / "files.json").items()
        return {name: (tuple(stamp) if stamp else None, digest) for name, (stamp, digest) in read}

    def parts(self) -> dict[str, str]:
        """Digests of the shared parts, by name."""
        return _read(self.folder / "parts.json")

    def notes(self, students: Iterable[str]) -> dict[str, Note]:
        """The notes on those of the students who have one."""
        read = {name: _read(self._note(name)) for name in students}
        return {name: Note(**note | {"leans_on": tuple(note["leans_on"])}) for name, note in read.items() if note}

    def write_survey(self, files: Mapping[str, Known]) -> None:
        """Keep a survey."""
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
        self.kept(student).unlink(missing_ok=True)

    def students(self) -> list[str]:
        """Everybody of whom something is noted."""
        return [file.stem for file in (self.folder / "students").glob("*.json")]

    def kept(self, student: str) -> Path:
        """Where the files of a student's lessons are kept."""
        return self.folder / "kept" / f"{student}.zip"

    def _note(self, student: str) -> Path:
        return self.folder / "students" / f"{student}.json"


def _read(file: Path) -> dict[str, Any]:
    """What is kept in a file; nothing where it is not there, damaged or of another format."""
    try:
        head, _, body = file.read_bytes().partition(b"\n")
        return dict(json.loads(body)) if head == _head(body) else {}
    except OSError:
        return {}


def _write(file: Path, kept: Mapping[str, Any]) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    beside = file.with_suffix(".new")
    body = json.dumps(dict(kept), separators=(",", ":")).encode()
    beside.write_bytes(b"%b\n%b" % (_head(body), body))
    beside.replace(file)


def _head(body: bytes) -> bytes:
    """The first line of a file: whoever finds another one there does not read on."""
    return f"{FORMAT} {sha256(body).hexdigest()}".encode()
