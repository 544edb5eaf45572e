"""A student's cache: the files of each lesson as they were made, so that a changed sheet makes one lesson again and not
ten, and a changed word in it no picture."""

import zipfile
import zlib
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path

from reportgen.rights import FOLDER, replacing

_ALWAYS_THE_SAME_TIME = (1980, 1, 1, 0, 0, 0)
_DAMAGED = (OSError, ValueError, EOFError, RuntimeError, zipfile.BadZipFile, zlib.error)
"""What reading a damaged archive can raise: RuntimeError where it calls itself encrypted, or of a later format."""


def cached_lessons(file: Path, keys: Mapping[str, str]) -> dict[str, dict[str, bytes]]:
    """Of the lessons in `keys` (name -> digest of what its files depend on) those that are cached under that very
    digest: name -> path inside the student's area -> bytes. What is damaged counts as not cached."""
    found: dict[str, dict[str, bytes]] = {}
    try:
        with zipfile.ZipFile(file) as cache:
            names = _names(cache)
            for lesson, key in keys.items():
                inside = f"{lesson}.{key}/"
                files = {f"{lesson}/{n.removeprefix(inside)}": cache.read(n) for n in names if n.startswith(inside)}
                if files:
                    found[lesson] = files
    except _DAMAGED:
        return {}
    return found


def cached_photos(file: Path, program_digest: str) -> dict[str, bytes]:
    """The photos of all cached lessons, by file name, whatever else has changed since: their names say what they
    are made from. None where another program than that of `program_digest` drew them."""
    try:
        with zipfile.ZipFile(file) as cache:
            if cache.comment.split()[:1] != [program_digest.encode()]:
                return {}
            photos = (name for name in _names(cache) if name.endswith((".jpg", ".png")))
            return {name.rpartition("/")[2]: cache.read(name) for name in photos}
    except _DAMAGED:
        return {}


def _names(cache: zipfile.ZipFile) -> list[str]:
    """The names of all that is cache. Raises BadZipFile where they are not those that were written."""
    names = cache.namelist()
    if cache.comment.split()[1:] != [_sum(names)]:
        raise zipfile.BadZipFile("names have changed")
    return names


def _sum(names: list[str]) -> bytes:
    return sha256("\n".join(names).encode("utf-8", "surrogateescape")).hexdigest().encode()


def write_cache(file: Path, files: Mapping[str, bytes], keys: Mapping[str, str], program_digest: str) -> None:
    """Cache, of `files` (path inside the student's area -> bytes), those of the lessons in `keys` and no others.
    `program_digest` is the digest of the program. Raises OSError, and then the cache is as before."""
    file.parent.mkdir(mode=FOLDER, parents=True, exist_ok=True)
    with replacing(file) as stream, zipfile.ZipFile(stream, "w") as cache:
        for name, data in files.items():
            lesson, _, inside = name.partition("/")
            if lesson in keys:
                cache.writestr(zipfile.ZipInfo(f"{lesson}.{keys[lesson]}/{inside}", _ALWAYS_THE_SAME_TIME), data)
        cache.comment = program_digest.encode() + b" " + _sum(cache.namelist())
