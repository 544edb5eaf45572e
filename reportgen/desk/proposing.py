"""Marks proposed for a picture that is open at the desk, worked out beside whatever else the desk answers.

They are shown hollow, and nothing here writes or measures: a person confirms each of them, or moves it.
"""

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from reportgen.desk.lent import ground, moved, places
from reportgen.films.needs import INSTALL, FilmError, MissingFilmLibraryError
from reportgen.films.proposals import START_ONLY, Still, proposed_marks
from reportgen.films.stills import still_picture
from reportgen.measuring.asked import marks_shown
from reportgen.records.stills import Scale
from reportgen.records.words import Checkpoint, Mark, Side
from reportgen.sheets.stills_written import WrittenStill

KEPT = 256
"""Pictures whose proposals are kept while the desk is open: those of a day."""
ON_THE_GROUND: frozenset[Mark] = frozenset(
    ("ball", "lead-ankle", "trail-ankle", "lead-heel", "trail-heel", "lead-toe", "trail-toe")
)
"""What can be where it was at another moment; all else of a body has moved by then."""

Place = tuple[float, float]


@dataclass(frozen=True)
class Proposed:
    """Hollow marks in pixels of the picture: `marks` can be confirmed as they are, and each of `start_only` is a place
    to start from, which must be moved. `lacks` is the line that installs the model, None where it has looked."""

    marks: dict[Mark, Place]
    start_only: dict[Mark, Place]
    lacks: str | None


class Proposals:
    """What is proposed for pictures, one picture after the other, in a thread of its own."""

    def __init__(self) -> None:
        self._worker = ThreadPoolExecutor(1, "proposals")
        self._seen = lru_cache(KEPT)(_seen)

    def of(self, one: WrittenStill, same_view: Sequence[WrittenStill], plays: Side) -> Proposed:
        """The marks that the model tells from the picture of `one`, and for those that it does not tell the marks of
        the first of the other pictures of the `same_view` that has any. Of a picture in which the model sees nobody
        the ball alone."""
        try:
            told = self._worker.submit(self._told, one, same_view, plays).result()
        except MissingFilmLibraryError:
            told = Proposed({}, {}, INSTALL)
        carried = next((other for other in same_view if other.still.marks), None)
        if carried is None:
            return told
        nobody = told.lacks is None and not (told.marks or told.start_only)
        lent = {mark: at for mark, at in places(carried, one).items() if mark == "ball" or not nobody}
        return _with_lent(told, lent, one.still.checkpoint, carried.still.checkpoint)

    def _told(self, one: WrittenStill, same_view: Sequence[WrittenStill], plays: Side) -> Proposed:
        scale = ground((one, *same_view), one).get("scale")
        px_per_m = Scale.model_validate(scale).px_per_m if scale else None
        still = Still(one.still.view, plays, one.still.checkpoint, px_per_m)
        return self._seen(one.picture, sha256(one.picture.read_bytes()).digest(), still, one.size)


def _seen(picture: Path, digest: bytes, still: Still, size: tuple[int, int]) -> Proposed:
    """What the model tells from a picture that has that digest, in pixels of its own `size`; nothing from one that
    cannot be unpacked. Raises MissingFilmLibraryError, OSError."""
    try:
        pixels = still_picture(picture).pixels
    except FilmError:
        return Proposed({}, {}, None)
    has = pixels.shape[1], pixels.shape[0]
    px_per_m = still.px_per_m and still.px_per_m * has[0] / size[0]
    told = proposed_marks(pixels, still._replace(px_per_m=px_per_m), marks_shown(still.view))
    sure, start_only = (
        {one.mark: moved(one.at, has, size) for one in told if one.start_only is start} for start in (False, True)
    )
    return Proposed(sure, start_only, None)


def _with_lent(told: Proposed, lent: Mapping[Mark, Place], here: Checkpoint, there: Checkpoint) -> Proposed:
    """The same with marks of another picture, taken `there`, where the model tells none."""
    more = {mark: at for mark, at in lent.items() if mark not in told.marks and mark not in told.start_only}
    stays = {mark for mark in more if (here == there or mark in ON_THE_GROUND) and (here, mark) not in START_ONLY}
    return Proposed(
        told.marks | {mark: more[mark] for mark in more if mark in stays},
        told.start_only | {mark: more[mark] for mark in more if mark not in stays},
        told.lacks,
    )
