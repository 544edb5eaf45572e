"""Films of a swing -> frames from setup to finish, cut to the player and packed into one picture, to step through.

The frames are even in the swing's own time, with its moments among them, and all have one cut, so that the player
moves and the picture does not.
"""

import io
import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from hashlib import file_digest, sha256
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from reportgen.films.crops import Array
from reportgen.films.needs import FilmError
from reportgen.films.reading import LONGEST, Pixels, pictures_at
from reportgen.films.swings import TRACKED, FilmedSwing
from reportgen.films.tracks import Track
from reportgen.records.films import ProposedMoment
from reportgen.records.swings import Cut, SwingFrames
from reportgen.records.words import Checkpoint, View
from reportgen.rights import write_atomically

if TYPE_CHECKING:
    from PIL import Image

FRAMES = 24
"""Frames of a swing: one every 70 ms or so."""
COLUMNS = 6
HIGH = 520
"""Pixels of a frame's height, at most: twice what a phone shows of it beside another."""
HEAVIEST = 220_000
"""Bytes of the picture that holds them, at most: two dates in two views and the rest of a page stay under 1.5 MB."""
_QUALITIES = ((74, 62), (62, 48), (50, 36), (38, 26), (26, 16))
"""Of JPEG and of WebP, which look alike; the first that is light enough is taken."""
_SIDEWAYS, _ABOVE, _BELOW = 0.42, 0.2, 0.1
"""What is kept around the player for the club, in parts of their height."""
_SURE = 0.5
_NOSE, _ANKLES = 0, (27, 28)


class Packed(NamedTuple):
    """The picture with all frames, and the row of the lesson sheet that says where they are."""

    data: bytes
    record: SwingFrames


class Part(NamedTuple):
    """A part of a picture in its pixels."""

    left: int
    top: int
    right: int
    bottom: int


def packed(
    film: Path,
    view: View,
    swing: FilmedSwing,
    moments: Sequence[ProposedMoment],
    stem: str,
    *,
    stretched: float = 1,
    kept: Path | None = None,
) -> Packed:
    """The frames of the film's `swing` from the first to the last of its `moments`, as a person let them stand.

    `stem` is how the sheet will name the picture, without its ending (.jpg or .webp, whichever is smaller), as in
    ../swings/2026-11-19-fo. `cut` of the record counts in pixels of `films.reading.pictures`. What was made of the same
    film and moments is taken from the folder `kept`, where there is one. Raises FilmError, also where fewer than two
    moments are given or the player is not seen between them; MissingFilmLibraryError; OSError.
    """
    key = _digest(film, view, moments, stretched)
    if kept is not None and (found := _kept(kept, key, stem)) is not None:
        return found
    chosen = frames_of(swing.track, {one.moment: one.picture for one in moments})
    if len(moments) < 2 or len(chosen) < 2:
        raise FilmError(f"{film.name}: the swing is not seen from its beginning to its end. Set its moments first.")
    times, shown, part = [], [], None
    for picture in pictures_at(film, _times(swing.track, chosen, moments), longest=LONGEST, stretched=stretched):
        part = part or cut_of(swing.track, chosen, picture.pixels)
        times.append(round(picture.time, 4))
        shown.append(_cut(picture.pixels, part))
    if part is None or len(shown) != len(chosen):
        raise FilmError(f"{film.name}: it is another film than the one that was looked at. Drop it again.")
    data, ending = _light(shown)
    record = SwingFrames(
        file=f"{stem}.{ending}",
        view=view,
        columns=COLUMNS,
        frame=shown[0].size,
        times=tuple(times),
        checkpoints={one.moment: chosen.index(one.picture) for one in moments},
        cut=Cut.model_validate({"from": part[:2], "to": part[2:]}),
    )
    if kept is not None:
        _keep(kept, key, Packed(data, record))
    return Packed(data, record)


def frames_of(track: Track, moments: Mapping[Checkpoint, int]) -> list[int]:
    """The numbers of the pictures to show, in their order: every moment's, and the others as even in time between the
    first and the last as they can be, FRAMES together where the film has so many."""
    if not moments or not len(track.numbers):
        return []
    fixed = sorted(set(moments.values()))
    at = np.interp(fixed, track.numbers, track.times)
    wanted = np.linspace(at[0], at[-1], FRAMES)
    free = set(range(FRAMES))
    for time in at:
        free.discard(min(free, key=lambda place: abs(wanted[place] - time)))
    between = (track.numbers >= fixed[0]) & (track.numbers <= fixed[-1])
    numbers, times = track.numbers[between], track.times[between]
    if not len(numbers):
        return fixed
    others = {int(numbers[np.abs(times - wanted[place]).argmin()]) for place in free}
    return sorted(others | set(fixed))


def _times(track: Track, chosen: Sequence[int], moments: Sequence[ProposedMoment]) -> list[float]:
    """When the pictures of those numbers were taken, in seconds on the film's own clock."""
    at = {one.picture: one.time for one in moments}
    at |= {int(number): float(time) for number, time in zip(track.numbers, track.times, strict=True)}
    return [at[number] for number in chosen]


def cut_of(track: Track, chosen: Sequence[int], pixels: Pixels) -> Part:
    """The one part of all pictures that shows the player in every frame, with room for the club."""
    high, wide = pixels.shape[:2]
    scale = max(1.0, max(high, wide) / TRACKED)
    within = (track.numbers >= chosen[0]) & (track.numbers <= chosen[-1])
    points, sure = track.points[within] * scale, track.seen[within] > _SURE
    tall = _stature(points)
    x, y = points[..., 0][sure], points[..., 1][sure]
    left, right = x.min() - _SIDEWAYS * tall, x.max() + _SIDEWAYS * tall
    top, bottom = y.min() - _ABOVE * tall, y.max() + _BELOW * tall
    return Part(max(0, round(left)), max(0, round(top)), min(wide, round(right)), min(high, round(bottom)))


def _stature(points: Array) -> float:
    """From nose to ankles while the player stands, in pixels."""
    upright = points[:, list(_ANKLES), 1].mean(axis=1) - points[:, _NOSE, 1]
    return max(1.0, float(np.percentile(upright, 75)))


def _cut(pixels: Pixels, part: Part) -> "Image.Image":
    from PIL import Image

    piece = Image.fromarray(pixels[part.top : part.bottom, part.left : part.right])
    scale = min(1.0, HIGH / piece.height)
    size = max(16, round(piece.width * scale)), max(16, round(piece.height * scale))
    return piece.resize(size, Image.Resampling.BOX if scale < 0.5 else Image.Resampling.BICUBIC)


def _light(shown: Sequence["Image.Image"]) -> tuple[bytes, str]:
    """All frames as one picture, and how the name of its file ends."""
    from PIL import Image

    width, height = shown[0].size
    whole = Image.new("RGB", (width * min(COLUMNS, len(shown)), height * ceil(len(shown) / COLUMNS)))
    for number, frame in enumerate(shown):
        whole.paste(frame, (number % COLUMNS * width, number // COLUMNS * height))
    smallest = b"", "jpg"
    for made in _encoded(whole):
        if not smallest[0] or len(made[0]) < len(smallest[0]):
            smallest = made
        if len(smallest[0]) <= HEAVIEST and made[1] == "webp":
            break
    return smallest


def _encoded(whole: "Image.Image") -> Iterator[tuple[bytes, str]]:
    for jpeg, webp in _QUALITIES:
        for form, ending, quality in (("JPEG", "jpg", jpeg), ("WEBP", "webp", webp)):
            out = io.BytesIO()
            whole.save(out, form, quality=quality, method=1)
            yield out.getvalue(), ending


def _digest(film: Path, view: View, moments: Sequence[ProposedMoment], stretched: float) -> str:
    """Of all that the frames are made from."""
    with film.open("rb") as opened:
        content = file_digest(opened, "sha256").hexdigest()
    at, made_as = [(one.moment, one.picture) for one in moments], (FRAMES, HIGH, HEAVIEST, _QUALITIES)
    return sha256(f"{content} {view} {at} {stretched} {made_as}".encode()).hexdigest()[:16]


def _kept(folder: Path, key: str, stem: str) -> Packed | None:
    """What was made before under that key; None where it is not there or cannot be read."""
    with suppress(OSError, ValueError, KeyError):
        told = json.loads((folder / f"{key}.json").read_text(encoding="utf-8"))
        ending = told["file"].rpartition(".")[2]
        data = (folder / f"{key}.{ending}").read_bytes()
        return Packed(data, SwingFrames.model_validate(told | {"file": f"{stem}.{ending}"}))
    return None


def _keep(folder: Path, key: str, made: Packed) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    ending = made.record.file.rpartition(".")[2]
    write_atomically(folder / f"{key}.{ending}", made.data)
    told = made.record.model_dump(mode="json", by_alias=True, exclude_none=True)
    write_atomically(folder / f"{key}.json", json.dumps(told).encode())
