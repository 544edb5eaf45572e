"""The pictures of a lesson as its page and its recap show them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from reportgen.drawing.photos import Photo, Reach, in_both, made_before, photo, photo_name
from reportgen.records.told import ToldLesson, ToldStill
from reportgen.records.words import Checkpoint
from reportgen.saying.wording import moment_name

IN_THE_RECAP = 2
"""Pictures of this lesson in a recap; each has the one that it is held against beside it."""


@dataclass(frozen=True)
class Shown:
    """A picture with what is drawn on it, ready to publish."""

    still: ToldStill
    photo: Photo


@dataclass(frozen=True)
class Pair:
    """A picture of this lesson and the one to hold it against, of one moment of the swing."""

    moment: Checkpoint
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

    def pair(moment: Checkpoint, now: ToldStill, beside: ToldStill | None) -> Pair:
        if beside is None:
            return Pair(moment, ready(now), None)
        reach = in_both(now, beside)
        return Pair(moment, ready(now, reach), ready(beside, reach))

    shown = ((picture.checkpoint, picture.still, picture.beside) for picture in report.pictures)
    return tuple(pair(moment, still, beside) for moment, still, beside in shown if still is not None)


def spoken_of(report: ToldLesson, pairs: Sequence[Pair]) -> list[Pair]:
    """The pictures for the recap, in the order of the lesson: those of the moments that the teacher's letter names,
    then those of what is worked on, then those with most values on them; at most `IN_THE_RECAP`."""
    letter, priorities = (report.notes or "").casefold(), {priority.metric for priority in report.priorities}
    worked_on = {finding.checkpoint for finding in report.findings if finding.metric in priorities}

    def named(pair: Pair) -> bool:
        return moment_name(pair.moment).casefold() in letter

    def values(pair: Pair) -> int:
        return sum(bool(stroke.says) for stroke in pair.now.still.strokes)

    def order(pair: Pair) -> tuple[bool, bool, bool, int]:
        return not named(pair), pair.moment not in worked_on, pair.beside is None, -values(pair)

    told = sorted(pairs, key=order)[:IN_THE_RECAP]
    return [pair for pair in pairs if pair in told]


@lru_cache(maxsize=32)
def _kept_photo(source: Path, stamp: tuple[int, int], still: ToldStill, reach: Reach | None) -> Photo:
    """The photo, kept: one picture stands in several lessons, and pages are made again while their sheet is written."""
    return photo(source, still, reach)


def photo_files(pairs: Sequence[Pair]) -> dict[str, Photo]:
    """The published files of the pictures, by name."""
    shown = [one for pair in pairs for one in (pair.now, pair.beside) if one is not None]
    return {one.photo.file: one.photo for one in shown}
