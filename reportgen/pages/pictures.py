"""The pictures of a lesson as its page and its recap show them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from reportgen.drawing.photos import Photo, Reach, in_both, made_before, photo, photo_name
from reportgen.records.report import LessonReport, Shot


@dataclass(frozen=True)
class Shown:
    """A picture with what is drawn on it, ready to publish."""

    shot: Shot
    photo: Photo


@dataclass(frozen=True)
class Pair:
    """A picture of this lesson and the one to hold it against."""

    now: Shown
    beside: Shown | None


def shown_pictures(
    report: LessonReport, root: Path, before: Mapping[str, bytes] = MappingProxyType({})
) -> tuple[Pair, ...]:
    """The pictures that may be shown, in the order of the sheet; `root` is the academy's folder. Of the photos that
    were made `before` (file name -> bytes) those that would come out the same are taken."""

    def ready(shot: Shot, reach: Reach | None = None) -> Shown:
        source = root / shot.file
        if before and (known := made_before(photo_name(source, shot, reach), before)) is not None:
            return Shown(shot, known)
        written = source.stat()
        wordless = shot.model_copy(update={"caption": "", "alt": ""})
        return Shown(shot, _kept_photo(source, (written.st_mtime_ns, written.st_size), wordless, reach))

    def pair(now: Shot, beside: Shot | None) -> Pair:
        if beside is None:
            return Pair(ready(now), None)
        reach = in_both(now, beside)
        return Pair(ready(now, reach), ready(beside, reach))

    return tuple(pair(picture.shot, picture.beside) for picture in report.pictures if picture.shot is not None)


@lru_cache(maxsize=32)
def _kept_photo(source: Path, stamp: tuple[int, int], shot: Shot, reach: Reach | None) -> Photo:
    """The photo, kept: one picture stands in several lessons, and pages are made again while their sheet is written."""
    return photo(source, shot, reach)


def photo_files(pairs: Sequence[Pair]) -> dict[str, Photo]:
    """The published files of the pictures, by name."""
    shown = [one for pair in pairs for one in (pair.now, pair.beside) if one is not None]
    return {one.photo.file: one.photo for one in shown}
