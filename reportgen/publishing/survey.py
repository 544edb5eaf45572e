"""What stands on disk and is in it: every file is looked at, and only what moved since the last time is read."""

import os
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

Stamp = tuple[int, int, int, int]
"""Size, the times of the last change of content and of the entry itself (ns), and the number of the inode."""
Known = tuple[Stamp | None, str]
"""When a file was read, and the digest of what it held; without a stamp it is read again next time."""

SETTLED_AFTER = 2_000_000_000
"""Nanoseconds after which a file's time tells a later change apart; within them it could change unseen."""


@dataclass(frozen=True)
class Survey:
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
    """Whether a file of a survey lies in the folder of a student."""
    return name.startswith("academy/students/") and name.count("/") > 2


def survey(folders: Mapping[str, Path], known: Mapping[str, Known]) -> Survey:
    """Every file below `folders` (label -> folder), hidden ones and backups of editors left out.

    `known` is what an earlier survey found: a file that has not moved since is not read again. A folder that is not
    there holds nothing. Raises OSError where a file cannot be read.
    """
    settled = time.time_ns() - SETTLED_AFTER
    found: dict[str, Known] = {}
    for label, folder in folders.items():
        for name, path, stat in _files(str(folder), label, ()):
            stamp = (stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)
            before = known.get(name)
            if before is not None and before[0] == stamp:
                found[name] = before
            elif path is None:
                found[name] = (None, "no file")
            else:
                with open(path, "rb") as file:
                    digest = sha256(file.read()).hexdigest()
                found[name] = (stamp if max(stamp[1], stamp[2]) < settled else None, digest)
    return Survey(found)


def written_since(file: Path, folder: Path) -> bool:
    """Whether anything below `folder` was written after `file` was; no where `file` is not there. A quick look: what
    was taken away, or copied with its old time, it does not see."""
    try:
        since = file.stat().st_mtime_ns
        return any(stat.st_mtime_ns > since for _, _, stat in _files(str(folder), "", ()))
    except OSError:
        return False


def _files(
    folder: str, told: str, around: tuple[tuple[int, int], ...]
) -> Iterator[tuple[str, str | None, os.stat_result]]:
    """Name, path and state of each file, links followed; a link to a folder around it is not. What has the name of a
    sheet and is no file has no path: whoever reads the academy tells it as a problem."""
    try:
        entries = list(os.scandir(folder))
    except (FileNotFoundError, NotADirectoryError):
        return
    for entry in entries:
        if entry.name.startswith((".", "__pycache__")) or entry.name.endswith("~"):
            continue
        try:
            stat = entry.stat()
        except OSError:  # a link to nothing or in a circle, or taken away a moment ago
            with suppress(FileNotFoundError):
                yield f"{told}/{entry.name}", None, entry.stat(follow_symlinks=False)
            continue
        if entry.is_dir():
            here = (stat.st_dev, stat.st_ino)
            if here not in around:
                yield from _files(entry.path, f"{told}/{entry.name}", (*around, here))
        if entry.is_file() or entry.name.endswith((".yaml", ".md")):
            yield f"{told}/{entry.name}", entry.path if entry.is_file() else None, stat
