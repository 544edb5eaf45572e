"""Files and folders for their owner's eyes alone, where the system knows such rights (on a Unix), and files that are
written in one step."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

from reportgen.patience import patiently

KNOWN = hasattr(os, "geteuid")
"""Whether the system knows rights of owner, group and others: it does where users have numbers."""

FOLDER, FILE = 0o700, 0o600
PUBLISHED_FILE = 0o666
"""As far as the user's own mask lets others in: what goes to a web host must be read there."""


def own_folder(folder: Path) -> Path:
    """Make a folder, where it is not there, that its owner alone can look into. One that was open to others was made by
    an earlier program: then all that lies in it is closed too. Raises OSError where it cannot be made."""
    folder.mkdir(mode=FOLDER, parents=True, exist_ok=True)
    if is_open(folder):
        close_tree(folder)
    return folder


def close_tree(folder: Path) -> None:
    """Close a folder and all that lies in it to others."""
    for at, folders, files in os.walk(folder):
        for name in files:
            close(Path(at) / name)
        for name in folders:
            close(Path(at) / name)
    close(folder)


def close(path: Path) -> None:
    """Close a file or folder to others; what is not there, or belongs to somebody else, stays as it is."""
    if is_open(path) and not path.is_symlink():
        with suppress(OSError):  # a disk that knows no rights, or not our own
            path.chmod(FOLDER if path.is_dir() else FILE)


def owner_only(path: str, flags: int) -> int:
    """An opener for `open`: a file that it makes is for its owner alone."""
    return os.open(path, flags, FILE)


def begun(place: Path) -> Path:
    """Where a file stands until it takes the place of `place`; who is killed in between leaves it there."""
    return place.with_name(f".{place.name}.new")


@contextmanager
def replacing(place: Path, rights: int = FILE) -> Iterator[IO[bytes]]:
    """A file to be written within, for its owner alone unless its `rights` are others; at its end it takes the place of
    `place` in one step. Raises OSError, and then leaves nothing behind."""
    beside = begun(place)
    beside.unlink(missing_ok=True)
    try:
        with open(beside, "x+b", opener=lambda path, flags: os.open(path, flags, rights)) as stream:
            yield stream
        patiently(lambda: beside.replace(place))
    finally:
        beside.unlink(missing_ok=True)


def write_atomically(place: Path, data: bytes, rights: int = FILE, *, on_disk: bool = False) -> None:
    """Write a file in one step, as `replacing` does. With `on_disk` it is on the disk before it is in its place: a
    power cut leaves the old file or the new one. Raises OSError, and then leaves nothing behind."""
    with replacing(place, rights) as stream:
        stream.write(data)
        if on_disk:
            bring_to_disk(stream)


def bring_to_disk(stream: IO[bytes]) -> None:
    """Wait until what was written is on the disk: for what is not made again where a power cut takes it."""
    stream.flush()
    os.fsync(stream.fileno())


def is_open(path: Path) -> bool:
    """Whether others can look into a file or folder; no where the system knows no rights, or nothing is there."""
    try:
        return KNOWN and path.stat().st_mode & 0o077 != 0
    except OSError:
        return False
