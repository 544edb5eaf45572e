"""The files of each lesson as they were made, so that a changed sheet makes one lesson again and not ten, and a changed
word in it no picture."""

import os
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path

_ALWAYS_THE_SAME_TIME = (1980, 1, 1, 0, 0, 0)
_DAMAGED = (OSError, ValueError, EOFError, RuntimeError, zipfile.BadZipFile, zlib.error)
"""What reading a damaged archive can raise: RuntimeError where it calls itself encrypted, or of a later format."""


def read_kept(file: Path, keys: Mapping[str, str]) -> dict[str, dict[str, bytes]]:
    """Of the lessons in `keys` (name -> digest of what its files depend on) those that are kept under that very digest:
    name -> path inside the student's area -> bytes. What is damaged counts as not kept."""
    found: dict[str, dict[str, bytes]] = {}
    try:
        with zipfile.ZipFile(file) as kept:
            names = _names(kept)
            for lesson, key in keys.items():
                inside = f"{lesson}.{key}/"
                files = {f"{lesson}/{n.removeprefix(inside)}": kept.read(n) for n in names if n.startswith(inside)}
                if files:
                    found[lesson] = files
    except _DAMAGED:
        return {}
    return found


def read_photos(file: Path, drawn_by: str) -> dict[str, bytes]:
    """The photos of all lessons that are kept, by file name, whatever else has changed since: their names say what they
    are made from. None where another program than `drawn_by` (a digest) drew them."""
    try:
        with zipfile.ZipFile(file) as kept:
            if kept.comment.split()[:1] != [drawn_by.encode()]:
                return {}
            photos = (name for name in _names(kept) if name.endswith((".jpg", ".png")))
            return {name.rpartition("/")[2]: kept.read(name) for name in photos}
    except _DAMAGED:
        return {}


def _names(kept: zipfile.ZipFile) -> list[str]:
    """The names of all that is kept. Raises BadZipFile where they are not those that were written."""
    names = kept.namelist()
    if kept.comment.split()[1:] != [_sum(names)]:
        raise zipfile.BadZipFile("names have changed")
    return names


def _sum(names: list[str]) -> bytes:
    return sha256("\n".join(names).encode("utf-8", "surrogateescape")).hexdigest().encode()


@contextmanager
def keeping(file: Path, keys: Mapping[str, str], drawn_by: str) -> Iterator[Callable[[Mapping[str, bytes]], None]]:
    """Within it, what is called with files (path inside the student's area -> bytes), as they come, keeps those of the
    lessons in `keys`; at its end they take the place of what was kept before. `drawn_by` is the digest of the program.
    Raises OSError."""
    file.parent.mkdir(parents=True, exist_ok=True)
    beside = file.with_suffix(f".{os.getpid()}")
    try:
        with zipfile.ZipFile(beside, "w") as kept:

            def keep(files: Mapping[str, bytes]) -> None:
                for name, data in files.items():
                    lesson, _, inside = name.partition("/")
                    if lesson in keys:
                        kept.writestr(zipfile.ZipInfo(f"{lesson}.{keys[lesson]}/{inside}", _ALWAYS_THE_SAME_TIME), data)

            yield keep
            kept.comment = drawn_by.encode() + b" " + _sum(kept.namelist())
        beside.replace(file)
    finally:
        beside.unlink(missing_ok=True)
