"""What a phone has copied into the inbox: whole films and pictures, the newest first. Nothing there is ever changed."""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from time import time

from reportgen.errors import ReportgenError
from reportgen.films.boxes import whole_film
from reportgen.films.working import FILMS, PICTURES
from reportgen.records.academy import Academy
from reportgen.sheets.inbox import inbox_of

SHOWN = 12
"""The newest files that a lesson lists."""
SETTLED_S = 2.0
"""A file that was written to just now may not be whole."""


@dataclass(frozen=True)
class Arrived:
    """A file of the inbox by its way in it, what it is, and how many bytes it has."""

    name: str
    file: Path
    film: bool
    size: int


def arrived(academy: Academy | None) -> tuple[Arrived, ...]:
    """The newest whole files of the inbox; none where there is no inbox, or none on this computer."""
    folder = inbox_of(academy) if academy is not None else None
    if folder is None or not folder.is_dir():
        return ()
    newest = sorted(_settled(folder), key=lambda found: -found[0])
    shown: list[Arrived] = []
    for _, one in newest:
        if not one.film or _whole(one.file):
            shown.append(one)
        if len(shown) == SHOWN:
            break
    return tuple(shown)


def taken_from(academy: Academy | None, name: str) -> Arrived:
    """The file of that name. Raises LookupError where the inbox lists none: no name of a page reaches the disk."""
    for one in arrived(academy):
        if one.name == name:
            return one
    raise LookupError(name)


def _settled(folder: Path) -> Iterator[tuple[float, Arrived]]:
    """The films and pictures of a folder and of those in it, with when each was written; no links, no hidden ones."""
    for at, inner, files in os.walk(folder):
        inner[:] = [] if Path(at) != folder else [name for name in inner if not name.startswith(".")]
        for file in (Path(at) / name for name in files if not name.startswith(".")):
            suffix = file.suffix.lower()
            if suffix not in FILMS + PICTURES or file.is_symlink():
                continue
            try:
                stat = file.stat()
            except OSError:
                continue
            if stat.st_size and time() - stat.st_mtime > SETTLED_S:
                name = file.relative_to(folder).as_posix()
                yield stat.st_mtime, Arrived(name, file, suffix in FILMS, stat.st_size)


def _whole(film: Path) -> bool:
    try:
        whole_film(film)
    except (ReportgenError, OSError):
        return False
    return True
