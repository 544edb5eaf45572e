"""A HEIC is unpacked in a process of its own, as the library that does it dies of some garbled files: then the child
dies and the picture is called broken.

    python -m reportgen.films.heic FILE

writes the width, the height and the length of the notes (four bytes each), the notes (EXIF) and the pixels.
"""

import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import numpy as np

from reportgen.films.needs import FilmError, needed
from reportgen.films.reading import Pixels
from reportgen.records.bounds import PICTURE_MEGAPIXELS

PATIENCE_S = 60
_TOO_LARGE = 3
"""What the child's end says of a picture of too many pixels."""


class Unpacked(NamedTuple):
    """The pixels, upright as the file says, and the notes beside them (EXIF)."""

    pixels: Pixels
    notes: bytes


def unpacked(file: Path) -> Unpacked:
    """The picture of a HEIC. Raises FilmError where it is broken or too large, MissingFilmLibraryError."""
    with needed("Reading HEIC pictures"):
        import pi_heif  # noqa: F401 - the child needs it: say so before it starts
    command = [sys.executable, "-m", __name__, str(file.absolute())]
    try:
        done = subprocess.run(command, capture_output=True, check=False, timeout=PATIENCE_S)  # noqa: S603 - ourselves
    except subprocess.TimeoutExpired as late:
        raise _broken(file) from late
    if done.returncode == _TOO_LARGE:
        raise FilmError(f"{file.name}: the picture has more than {PICTURE_MEGAPIXELS} million pixels. Save it smaller.")
    if done.returncode:
        raise _broken(file)
    width, height, length = np.frombuffer(done.stdout[:12], "<u4").tolist()
    pixels = np.frombuffer(done.stdout[12 + length :], np.uint8).reshape(height, width, 3)
    return Unpacked(pixels, done.stdout[12 : 12 + length])


def _broken(file: Path) -> FilmError:
    return FilmError(f"{file.name}: the picture is broken or cut short. Copy it from the phone again.")


def _child(file: Path) -> int:
    import pi_heif

    opened = pi_heif.open_heif(file)
    width, height = opened.size
    if width * height > PICTURE_MEGAPIXELS * 1_000_000:
        return _TOO_LARGE
    picture, notes = opened.to_pillow().convert("RGB"), opened.info.get("exif") or b""
    sys.stdout.buffer.write(np.array([width, height, len(notes)], "<u4").tobytes() + notes + picture.tobytes())
    return 0


if __name__ == "__main__":
    sys.exit(_child(Path(sys.argv[1])))
