"""The pictures of a lesson as its page and its recap show them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from reportgen.drawing.photos import Photo, Reach, in_both, made_before, photo, photo_name
from reportgen.records.told import ToldLesson, ToldStill


@dataclass(frozen=True)
class Shown:
    """A picture with what is drawn on it, ready to publish."""

    still: ToldStill
    photo: Photo


@dataclass(frozen=True)
class Pair:
    """A picture of this lesson and the one to hold it against."""

    now: Shown
    beside: Shown | None


def shown_pictures(
    report: ToldLesson, root: Path, before: Mapping[str, bytes] = MappingProxyType({})
) -> tuple[Pair, ...]:
    """The pictures that may be shown, in the order of the sheet; `root` is the academy's folder. Of the photos that
    were made `before` (file name -> bytes) those that would come out the same are taken."""

    def ready(still: ToldStill, reach: Reach | None = None) -> Shown:
        source = root / still.file
        if before and (known := made_before(photo_name(source, still, reach), before)) is not None:
            return Shown(still, known)
        written = source.stat()
        wordless = still.model_copy(update={"caption": "", "alt": ""})
        return Shown(still, _kept_photo(source, (written.st_mtime_ns, written.st_size), wordless, reach))

    def pair(now: ToldStill, beside: ToldStill | None) -> Pair:
        if beside is None:
            return Pair(ready(now), None)
        reach = in_both(now, beside)
        return Pair(ready(now, reach), ready(beside, reach))

    return tuple(pair(picture.still, picture.beside) for picture in report.pictures if picture.still is not None)


@lru_cache(maxsize=32)
def _kept_photo(source: Path, stamp: tuple[int, int], still: ToldStill, reach: Reach | None) -> Photo:
    """The photo, kept: one picture stands in several lessons, and pages are made again while their sheet is written."""
    return photo(source, still, reach)


def photo_files(pairs: Sequence[Pair]) -> dict[str, Photo]:
    """The published files of the pictures, by name."""
    shown = [one for pair in pairs for one in (pair.now, pair.beside) if one is not None]
    return {one.photo.file: one.photo for one in shown}
