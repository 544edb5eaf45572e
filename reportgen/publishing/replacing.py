"""Folders that are replaced in one step: readers see the old one or the new one, never a mixture."""

import ctypes
import errno
import os
import shutil
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path, PurePosixPath
from typing import Any

from reportgen.patience import patiently

_HERE = -100
"""AT_FDCWD: a path counts from the working folder."""
_EXCHANGE = 2
"""RENAME_EXCHANGE: the two paths change places."""
_ASIDE = ("new", "old", "gone")
"""What stands for a moment beside a place on another disk: what comes, what is replaced, what goes for good."""


def write_tree(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write `files` (path inside the folder -> bytes) into a folder that is new, or that was begun in this way. Raises
    OSError."""
    for name, data in files.items():
        path = PurePosixPath(name)
        if path.is_absolute() or ".." in path.parts:
            raise ValueError(f"{name} leaves the folder that it is written to")
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)


def old_place(to: Path, name: str) -> Path:
    """Where a folder of the site in `to` waits while its new one is put in its place; a student's id has no
    underscore."""
    return to / ".made" / "old" / name.replace("/", "_")


def replace_folder(new: Path, place: Path, old: Path) -> None:
    """Put the folder `new` in the place of `place`; what stood there is deleted. Raises OSError, and then what stood
    there still does.

    Where the system can, the two change places in one step. Otherwise what stood there waits in `old` for a moment; who
    is killed just then finds it there. Where `place` is on another disk, the new folder is copied beside it first.
    """
    place.parent.mkdir(parents=True, exist_ok=True)
    if place.is_symlink() or not place.is_dir():  # not ours: a link, or a file
        place.unlink(missing_ok=True)
    if new.stat().st_dev == place.parent.stat().st_dev:
        _replace_on_one_disk(new, place, old)
        return
    beside = _beside(place, "new")
    shutil.copytree(new, beside)
    _replace_on_one_disk(beside, place, _beside(place, "old"))
    _delete(new)


def _replace_on_one_disk(new: Path, place: Path, old: Path) -> None:
    settle(new)
    if not place.exists():
        _move(new, place)
    elif _exchanged(new, place):
        _delete(new)
    else:
        _replaced_in_two_steps(new, place, old)


def remove(place: Path, old: Path) -> None:
    """Take the folder `place` away in one step; it is deleted in `old`. A file or a link goes too. Raises OSError."""
    if place.is_symlink() or not place.is_dir():
        patiently(place.unlink)
        return
    old.parent.mkdir(parents=True, exist_ok=True)
    if place.stat().st_dev != old.parent.stat().st_dev:
        old = _beside(place, "gone")  # as "old" it would be put back after a kill
    if old.exists():
        _delete(old)
    _move(place, old)
    _delete(old)


def put_back(old: Path, place: Path) -> None:
    """Put the folder `old` back where it was taken from to be replaced, or delete it where something stands there
    again. Raises OSError."""
    if place.exists():
        _delete(old)
    else:
        place.parent.mkdir(parents=True, exist_ok=True)
        _move(old, place)


def undo_beside(places: Iterable[Path]) -> None:
    """Put back what killed runs have left beside `places` and not yet replaced, and delete what else they have left
    there. Raises OSError."""
    known = set(places)
    for folder in {place.parent for place in known}:
        for left in folder.glob(".*"):
            name, _, what = left.name[1:].rpartition(".")
            if folder / name not in known or what not in _ASIDE or not left.is_dir():
                continue
            if what == "old":
                put_back(left, folder / name)
            else:
                _delete(left)


def _beside(place: Path, what: str) -> Path:
    """The name of a folder beside `place`, on the same disk, where nothing stands; what a killed run left goes."""
    beside = place.with_name(f".{place.name}.{what}")
    shutil.rmtree(beside, ignore_errors=True)
    return beside


def _replaced_in_two_steps(new: Path, place: Path, old: Path) -> None:
    if old.exists():
        _delete(old)
    old.parent.mkdir(parents=True, exist_ok=True)
    _move(place, old)
    try:
        _move(new, place)
    except BaseException:
        _move(old, place)
        raise
    _delete(old)


def _move(folder: Path, to: Path) -> None:
    patiently(lambda: folder.rename(to))


def _delete(folder: Path) -> None:
    patiently(lambda: shutil.rmtree(folder))


def _exchanged(one: Path, other: Path) -> bool:
    """Let two folders change places; False where the system or the disk cannot do it in one step. Raises OSError."""
    renameat2 = getattr(_libc(), "renameat2", None)
    if renameat2 is None:
        return False
    if renameat2(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP):
        return False
    raise OSError(number, os.strerror(number), str(one))


def settle(folder: Path) -> None:
    """Wait until what was written into a folder is on the disk: a power cut right after the exchange must not leave
    empty pages. Raises OSError.

    One call for all that the disk has to write costs a tenth of one call for each file.
    """
    if _settled_at_once(folder):
        return
    for file in folder.rglob("*"):
        if file.is_file():
            with file.open("r+b") as written:  # Windows brings nothing to the disk that was opened to be read
                os.fsync(written.fileno())


def _settled_at_once(folder: Path) -> bool:
    """Whether the system could be asked to write all that is waiting; a folder cannot be opened everywhere."""
    syncfs = getattr(_libc(), "syncfs", None)
    if syncfs is None:
        return False
    at = os.open(folder, os.O_RDONLY)
    try:
        return bool(syncfs(at) == 0)
    finally:
        os.close(at)


@cache
def _libc() -> Any:
    """The C library; None on systems that do not give it."""
    try:
        return ctypes.CDLL(None, use_errno=True)
    except (OSError, TypeError):
        return None
