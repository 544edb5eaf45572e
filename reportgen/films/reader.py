"""A film is read in a process of its own: its memory ends with it, and whatever breaks a decoder ends the child alone.

    python -m reportgen.films.reader FILE FOLDER

writes each picture into FOLDER as soon as it is read, tells its number in a line, and at the end writes what was seen
and heard. It ends by itself as soon as nobody listens any more.
"""

import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

import numpy as np

from reportgen.errors import ReportgenError
from reportgen.films.following import followed
from reportgen.films.needs import FilmError
from reportgen.films.pose import Pose
from reportgen.films.reading import pictures
from reportgen.films.sound import AIR_S_PER_M, strikes_heard
from reportgen.films.stills import shown_jpeg
from reportgen.films.swings import TRACKED, FilmedSwing, on_one_clock, swing_of
from reportgen.films.tracks import Seen
from reportgen.records.films import FilmFacts, Lag
from reportgen.records.words import Side, View

SEEN = "seen.npz"
"""What was seen and heard, as it is kept in the folder of a film; it is there as soon as the film has been read."""
MOST_PICTURES = 7_200
"""A minute at 120 a second. A swing takes three seconds; a longer film is no film of one."""
_PROGRAM_MB, _PICTURES_HELD = 180, 10
"""What a film is read with: libraries, the model and the pictures that are made, and as many as a decoder holds."""
_REFUSED = 3
"""What the child's end says of a film that cannot be used."""


class ReadFilm(NamedTuple):
    """What was seen in each picture of a film, and when a strike was heard; both on the film's own clock as it plays,
    and as if the camera stood where the ball lies."""

    seen: tuple[Seen, ...]
    heard: tuple[float, ...]


@dataclass(frozen=True)
class Filmed:
    """How a film was taken: `view`, how the player `plays`, by how much it is `stretched`, and how far from the player
    the camera stood."""

    view: View
    plays: Side
    stretched: float
    distance_m: float


def megabytes(facts: FilmFacts) -> int:
    """What the process that reads such a film takes at most: 1080p of 8 bits 211 (measured: 180), 4K of 10 bits 429
    (measured: 403). Of a picture all brightness and a quarter of each colour is held, as phones
    pack them."""
    bytes_each = 1.5 * facts.coded[0] * facts.coded[1] * (1 if facts.bits <= 8 else 2)
    return round(_PROGRAM_MB + _PICTURES_HELD * bytes_each / 1e6)


def picture_file(folder: Path, number: int) -> Path:
    """Where the picture of a number is kept, from the moment at which its number was told."""
    return folder / f"{number:05d}.jpg"


def read_into(
    file: Path, folder: Path, begun: Callable[[subprocess.Popen[bytes]], None], at: Callable[[int], None]
) -> None:
    """Read a film from beginning to end; `begun` is given the process, `at` the number of pictures read so far. Raises
    FilmError, without the name of the file, for what cannot be used."""
    command = [sys.executable, "-X", "utf8", "-m", __name__, str(file.absolute()), str(folder.absolute())]
    none, pipe = subprocess.DEVNULL, subprocess.PIPE
    with subprocess.Popen(command, stdin=none, stdout=pipe, stderr=pipe) as process:  # noqa: S603 - ourselves
        begun(process)
        for line in process.stdout or ():
            at(int(line) + 1)
        said = process.stderr.read().decode("utf-8", "replace") if process.stderr else ""
    if process.returncode == _REFUSED:
        raise FilmError(said.strip().removeprefix(f"{file.name}: "))
    if process.returncode:
        raise FilmError("the film could not be read. Copy it from the phone again.")


def read_back(folder: Path) -> ReadFilm:
    """What was seen and heard in a film that has been read. Raises OSError where it has not been."""
    with np.load(folder / SEEN, allow_pickle=False) as kept:
        rows = zip(*(kept[name] for name in ("number", "time", "score", "points", "sure")), strict=True)
        seen = tuple(
            Seen(int(number), float(time), Pose(float(score), points, sure) if score >= 0 else None)
            for number, time, score, points, sure in rows
        )
        return ReadFilm(seen, tuple(map(float, kept["heard"])))


def times_in(folder: Path) -> tuple[float, ...]:
    """When each picture of a film that has been read is, in seconds of the film as it plays. Raises OSError."""
    return _times_in(folder, (folder / SEEN).stat().st_mtime_ns)


@lru_cache(maxsize=16)
def _times_in(folder: Path, written: int) -> tuple[float, ...]:
    with np.load(folder / SEEN, allow_pickle=False) as kept:
        return tuple(map(float, kept["time"]))


def swing_in(folder: Path, filmed: Filmed) -> FilmedSwing:
    """The swing in a film that has been read. Raises OSError where it has not been."""
    return _swing_in(folder, (folder / SEEN).stat().st_mtime_ns, filmed)


@lru_cache(maxsize=16)
def _swing_in(folder: Path, written: int, filmed: Filmed) -> FilmedSwing:
    film = read_back(folder)
    seen = [one._replace(time=one.time / filmed.stretched) for one in film.seen]
    heard = tuple(time / filmed.stretched - filmed.distance_m * AIR_S_PER_M for time in film.heard)
    return swing_of(seen, heard, filmed.view, filmed.plays)


def lag_in(first: tuple[Path, Filmed], second: tuple[Path, Filmed]) -> Lag:
    """By how much the second film's clock is to be put forward to be the first's, of two that have been read. Raises
    OSError."""
    written = tuple((folder / SEEN).stat().st_mtime_ns for folder, _ in (first, second))
    return _lag_in(first, second, written)


@lru_cache(maxsize=16)
def _lag_in(first: tuple[Path, Filmed], second: tuple[Path, Filmed], written: tuple[int, ...]) -> Lag:
    return on_one_clock(swing_in(*first), swing_in(*second))


def _write_seen(folder: Path, seen: Sequence[Seen], heard: Sequence[float]) -> None:
    nobody = Pose(-1.0, np.zeros((35, 2)), np.zeros(33))
    poses = [one.pose or nobody for one in seen]
    beside = folder / f".{SEEN}"
    with beside.open("wb") as stream:
        np.savez(
            stream,
            number=np.array([one.number for one in seen]),
            time=np.array([one.time for one in seen]),
            score=np.array([pose.score for pose in poses]),
            points=np.array([pose.points for pose in poses]),
            sure=np.array([pose.seen for pose in poses]),
            heard=np.array(heard),
        )
    beside.replace(folder / SEEN)


def _read(file: Path, folder: Path) -> None:
    seen: list[Seen] = []
    for picture, one in followed(pictures(file, longest=TRACKED)):
        if picture.number >= MOST_PICTURES:
            raise FilmError(f"the film has more than {MOST_PICTURES} pictures. Cut it to the swing on the phone.")
        picture_file(folder, picture.number).write_bytes(shown_jpeg(picture.pixels))
        seen.append(one)
        sys.stdout.write(f"{picture.number}\n")
        sys.stdout.flush()
    _write_seen(folder, seen, strikes_heard(file, distance_m=0))


def _child(file: Path, folder: Path) -> int:
    os.umask(0o077)
    try:
        _read(file, folder)
    except BrokenPipeError:
        os._exit(0)  # whoever started this has gone
    except (ReportgenError, OSError) as error:
        sys.stderr.write(str(error))
        return _REFUSED
    return 0


if __name__ == "__main__":
    sys.exit(_child(Path(sys.argv[1]), Path(sys.argv[2])))
