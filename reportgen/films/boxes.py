"""Whether a file is a whole MOV or MP4, by its outermost boxes (ISO/IEC 14496-12, 4.2), before a decoder sees it.

A film that a phone still copies has its first boxes and not its last: a decoder would read it as a shorter film.
"""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from reportgen.films.needs import FilmError

_FIRST = (b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip")
"""What a MOV or MP4 can begin with: older MOV films have no `ftyp`."""
_STILLS = (b"heic", b"heix", b"heim", b"heis", b"mif1", b"avif")
"""Brands of an `ftyp` that say that the file is a still picture."""


def whole_film(file: Path) -> None:
    """Returns where the outermost boxes of `file` fill it to its last byte and hold a table of pictures (`moov`).

    Raises FilmError for what is empty, cut short, a still, or no MOV or MP4 whatever its name says; OSError.
    """
    size = file.stat().st_size
    if size == 0:
        raise FilmError(f"{file.name}: the file is empty. Copy it from the phone again.")
    with file.open("rb") as opened:
        head = opened.read(12)
        if head[4:8] not in _FIRST:
            raise FilmError(f"{file.name}: this is not a MOV or MP4 film. Send the film as the phone saved it.")
        if head[4:8] == b"ftyp" and head[8:12] in _STILLS:
            raise FilmError(f"{file.name}: this is a still picture, not a film. Rename it to end in .heic.")
        kinds = [kind for kind, end in _boxes(opened, size) if end <= size]
        whole = _ends_at(opened, size)
    if not whole or b"moov" not in kinds:
        raise FilmError(f"{file.name}: the film is cut short. Wait until it is copied, or copy it again.")


def _boxes(opened: IO[bytes], size: int) -> Iterator[tuple[bytes, int]]:
    """(kind, where it ends) of each outermost box; the last may end behind the file."""
    at = 0
    while at < size:
        opened.seek(at)
        head = opened.read(16)
        if len(head) < 8:
            return
        length = int.from_bytes(head[:4])
        if length == 1:
            length = int.from_bytes(head[8:16])
        elif length == 0:
            length = size - at  # to the end of the file, however far it is
        if length < 8:
            return
        at += length
        yield head[4:8], at


def _ends_at(opened: IO[bytes], size: int) -> bool:
    opened.seek(0, os.SEEK_SET)
    return max((end for _, end in _boxes(opened, size)), default=0) == size
