"""Folders that are replaced in one step: readers see the old one or the new one, never a mixture."""

import shutil
from collections.abc import Mapping
from pathlib import Path, PurePosixPath


def write_tree(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write `files` (path inside the folder -> bytes) into a new folder. Raises OSError."""
    for name, data in files.items():
        path = PurePosixPath(name)
        if path.is_absolute() or ".." in path.parts:
            raise ValueError(f"{name} leaves the folder that it is written to")
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)


def replace_folder(new: Path, place: Path, old: Path) -> None:
    """Put the folder `new` in the place of `place`; what stood there goes to `old` and is deleted, or comes back where
    the replacement is stopped half way."""
    place.parent.mkdir(parents=True, exist_ok=True)
    if old.exists():
        shutil.rmtree(old)
    if place.exists():
        old.parent.mkdir(parents=True, exist_ok=True)
        place.rename(old)
    try:
        new.rename(place)
    except BaseException:
        if old.exists() and not place.exists():
            old.rename(place)
        raise
    if old.exists():
        shutil.rmtree(old)
