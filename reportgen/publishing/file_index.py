"""What stands on disk and is in it: every file is looked at, and only what moved since the last time is read."""

import os
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from hashlib import file_digest, sha256
from pathlib import Path
from stat import S_ISDIR, S_ISREG

from reportgen.records.bounds import CATALOGUE_BYTES, PICTURE_BYTES, SHEET_BYTES, TABLE_BYTES

Stamp = tuple[int, int, int, int]
"""Size, the times of the last change of content and of the entry itself (ns), and the number of the inode."""
Known = tuple[Stamp | None, str]
"""When a file was read, and the digest of what it held; without a stamp it is read again next time."""

LARGEST = max(PICTURE_BYTES, TABLE_BYTES, CATALOGUE_BYTES, SHEET_BYTES)
"""No page is made from a larger file: it is not read."""

SETTLED_AFTER = 2_000_000_000
"""Nanoseconds after which a file's time tells a later change apart; within them it could change unseen."""


@dataclass(frozen=True)
class FileIndex:
    """The files of some folders, by `<label>/<path below the folder>`."""

    files: Mapping[str, Known]

    def by_student(self) -> Mapping[str, str]:
        """The digest of each student's folder, by the student's id."""
        found: dict[str, list[tuple[str, str]]] = {}
        for name, (_, digest) in self.files.items():
            if is_of_a_student(name):
                found.setdefault(name.split("/")[2], []).append((name, digest))
        return {student: digest_of(files) for student, files in found.items()}

    def lessons(self) -> Mapping[str, int]:
        """How many lesson sheets each student has."""
        parts = (name.split("/") for name in self.files)
        return Counter(p[2] for p in parts if len(p) == 5 and p[:2] == ["academy", "students"] and p[3] == "lessons")


def digest_of(files: Iterable[tuple[str, str]]) -> str:
    """One digest of files' names and digests."""
    told = "".join(f"{name}\0{digest}\n" for name, digest in sorted(files))
    return sha256(told.encode("utf-8", "surrogateescape")).hexdigest()  # a name can be of bytes that are no text


def is_of_a_student(name: str) -> bool:
    """Whether a file of an index lies in the folder of a student."""
    return name.startswith("academy/students/") and name.count("/") > 2


def index_files(folders: Mapping[str, Path], known: Mapping[str, Known]) -> FileIndex:
    """Every file below `folders` (label -> folder), hidden ones and backups of editors left out.

    `known` is what an earlier index has: a file that has not moved since is not read again. A folder that is not
    there, or cannot be read, holds nothing. A file that cannot be read, or is larger than anything that pages are made
    from, is noted as such: whoever reads the academy tells it where it is asked for.
    """
    settled = time.time_ns() - SETTLED_AFTER
    found: dict[str, Known] = {}
    for label, folder in folders.items():
        for name, path, stat in _files(str(folder), label):
            stamp = (stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)
            before = known.get(name)
            if before is not None and before[0] == stamp:
                found[name] = before
            elif path is None:
                found[name] = (None, "no file")
            elif stat.st_size > LARGEST:
                found[name] = (None, f"{stat.st_size} bytes of {stat.st_mtime_ns}")
            else:
                found[name] = _read(path, stamp if max(stamp[1], stamp[2]) < settled else None)
    return FileIndex(found)


def _read(path: str, stamp: Stamp | None) -> Known:
    try:
        with open(path, "rb") as file:
            return stamp, file_digest(file, "sha256").hexdigest()
    except OSError as error:
        return None, f"cannot be read: {error.errno}"


def _files(folder: str, told: str) -> Iterator[tuple[str, str | None, os.stat_result]]:
    """Name, path and state of each file. A link is followed where it stays in the folder, from a folder that no link
    leads to: folders that link to each other would go on for ever. What has the name of a sheet and is no file has no
    path: whoever reads the academy tells it as a problem."""
    home = os.path.realpath(folder)
    waiting = [(folder, told, False)]
    while waiting:
        here, told, behind_a_link = waiting.pop()
        try:
            entries = list(os.scandir(here))
        except OSError:
            continue
        for entry in entries:
            if entry.name.startswith((".", "__pycache__")) or entry.name.endswith("~"):
                continue
            name = f"{told}/{entry.name}"
            link = entry.is_symlink()
            try:
                stat = entry.stat(follow_symlinks=not link or _stays(entry.path, home))
            except OSError:  # a link to nothing or in a circle, or taken away a moment ago
                with suppress(FileNotFoundError):
                    yield name, None, entry.stat(follow_symlinks=False)
                continue
            if S_ISDIR(stat.st_mode) and not (link and behind_a_link):
                waiting.append((entry.path, name, link or behind_a_link))
            is_file = S_ISREG(stat.st_mode)
            if is_file or entry.name.endswith((".yaml", ".md")):
                yield name, entry.path if is_file else None, stat


def _stays(link: str, home: str) -> bool:
    """Whether a link leads to something in the folder that is looked at, and to nothing that it lies in itself."""
    target = os.path.realpath(link)
    inside = target.startswith(home + os.sep)
    return inside and not os.path.realpath(os.path.dirname(link)).startswith(target + os.sep)
