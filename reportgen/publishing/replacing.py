"""Folders that are replaced in one step: readers see the old one or the new one, never a mixture."""

import ctypes
import errno
import os
import shutil
from collections.abc import Mapping
from functools import cache
from pathlib import Path, PurePosixPath
from typing import Any

_HERE = -100
"""AT_FDCWD: a path counts from the working folder."""
_EXCHANGE = 2
"""RENAME_EXCHANGE: the two paths change places."""


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


def replace_folder(new: Path, place: Path, old: Path) -> None:
    """Put the folder `new` in the place of `place`; what stood there is deleted. Raises OSError, and then what stood
    there still does.

    Where the system can, the two change places in one step. Otherwise what stood there waits in `old` for a moment; who
    is killed just then finds it there.
    """
    settle(new)
    place.parent.mkdir(parents=True, exist_ok=True)
    if place.is_symlink() or not place.is_dir():  # not ours: a link, or a file
        place.unlink(missing_ok=True)
    if not place.exists():
        new.rename(place)
    elif _exchanged(new, place):
        shutil.rmtree(new)
    else:
        _replaced_in_two_steps(new, place, old)


def remove(place: Path, old: Path) -> None:
    """Take the folder `place` away in one step; it is deleted in `old`. A file or a link goes too. Raises OSError."""
    if place.is_symlink() or not place.is_dir():
        place.unlink()
        return
    if old.exists():
        shutil.rmtree(old)
    old.parent.mkdir(parents=True, exist_ok=True)
    place.rename(old)
    shutil.rmtree(old)


def _replaced_in_two_steps(new: Path, place: Path, old: Path) -> None:
    if old.exists():
        shutil.rmtree(old)
    old.parent.mkdir(parents=True, exist_ok=True)
    place.rename(old)
    try:
        new.rename(place)
    except BaseException:
        old.rename(place)
        raise
    shutil.rmtree(old)


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
    at = os.open(folder, os.O_RDONLY)
    try:
        syncfs = getattr(_libc(), "syncfs", None)
        if syncfs is not None and syncfs(at) == 0:
            return
    finally:
        os.close(at)
    for file in folder.rglob("*"):
        if file.is_file():
            with file.open("rb") as written:
                os.fsync(written.fileno())


@cache
def _libc() -> Any:
    """The C library; None on systems that do not give it."""
    try:
        return ctypes.CDLL(None, use_errno=True)
    except (OSError, TypeError):
        return None
