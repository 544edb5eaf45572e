"""What a lesson needs of its films is kept: pictures of moments as stills of its sheet, the frames of the swing to step
through, a film where it is asked."""

import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from threading import Lock
from typing import Any

from reportgen.desk.films import Films
from reportgen.desk.lessons import Lessons
from reportgen.desk.moments import FilmMoments, Moments, Pair
from reportgen.desk.pictures import SHORT, new_file
from reportgen.desk.saving import Change
from reportgen.errors import ReportgenError
from reportgen.films.needs import FilmError
from reportgen.films.packing import packed
from reportgen.films.pairs import rate_of
from reportgen.films.reading import pictures
from reportgen.films.stills import as_jpeg
from reportgen.languages.speaking import say
from reportgen.records.base import Record
from reportgen.records.stills import Still, swing_numbers
from reportgen.records.words import CHECKPOINTS, Checkpoint
from reportgen.rights import close, own_folder
from reportgen.sheets.drafts import is_draft
from reportgen.sheets.stills_written import stills_written, views_of_swings


class SentKeep(Record):
    """What a page sends: of each film by its number, the moments to keep; whether the films are kept too."""

    moments: dict[int, tuple[Checkpoint, ...]]
    films: bool = False


@dataclass(frozen=True)
class Keeping:
    """Keeps what the films of a lesson show."""

    lessons: Lessons
    films: Films
    moments: Moments
    turn: Lock = field(default_factory=Lock, compare=False)

    def keep(self, student: str, name: str, sent: SentKeep) -> str:
        """Write the pictures of moments and the frames of the swing, and their rows into the sheet; the name of the
        first picture. All is kept or nothing, and of two windows that keep one after the other the first alone.
        Raises LookupError, ReportgenError where a moment is asked and nobody has confirmed it, OSError."""
        with self.turn:
            if any(one.note.kept for one in self.films.of_lesson(student, name) if one.number in sent.moments):
                raise ReportgenError(say("These pictures are kept already, in another window. Open the lesson again."))
            return self._kept(student, name, sent)

    def _kept(self, student: str, name: str, sent: SentKeep) -> str:
        pair = self.moments.pair(student, name)
        wanted = [(one, _wanted(one, sent)) for one in pair.films if one.film.number in sent.moments]
        if not any(moments for _, moments in wanted):
            raise ReportgenError(say("Nothing is chosen to keep."))
        sheet = self.lessons.sheet(student, name)
        before = [one.still for one in stills_written(sheet, sheet.parents[3])]
        swing, shown = _swing(before, wanted), {still.view for still in before} | views_of_swings(sheet)
        made: list[Path] = []
        try:
            rows = [
                row
                for one, moments in wanted
                for row in _rows(one, moments, pair, swing, sheet.parents[1] / "stills", name[:10], made)
            ]
            frames = [
                row
                for one, _ in wanted
                if one.view not in shown
                for row in _frames(one, sheet.parents[1] / "swings", name[:10], made)
            ]
            for one, _ in wanted if sent.films else ():
                made.append(_film_kept(one, sheet.parents[1] / "films", name[:10]))
            changes = [Change(("stills",), None, row, add=True) for row in rows]
            changes += [Change(("swings",), None, row, add=True) for row in frames]
            self.lessons.write(student, name, *changes)
        except BaseException:
            for file in made:
                file.unlink(missing_ok=True)
            raise
        for one, _ in wanted:
            self.films.change(one.film, kept=True)
            if not is_draft(None, sheet):  # what was opened again goes at once: no Ready will follow
                self.films.remove(student, name, one.film.number)
        return str(rows[0]["file"])


def _wanted(one: FilmMoments, sent: SentKeep) -> tuple[Checkpoint, ...]:
    """The moments of a film that are to be kept, in their order. Raises ReportgenError where one counts for nothing."""
    asked = sent.moments[one.film.number]
    if not all(one.counts(moment) for moment in asked):
        raise ReportgenError(say("Look at each moment that is asked, and confirm it before it is kept."))
    return tuple(moment for moment in CHECKPOINTS if moment in asked)


def _swing(before: Sequence[Still], wanted: Sequence[tuple[FilmMoments, Sequence[Checkpoint]]]) -> int | None:
    """The number of the swing, the same in both films; None for the first of a lesson."""
    again = {(one.view, moment) for one, moments in wanted for moment in moments}
    numbers = [max(number, 1) for number in swing_numbers(before)]
    there = [n for still, n in zip(before, numbers, strict=True) if (still.view, still.checkpoint) in again]
    return max(there) + 1 if there else None


def _rows(
    one: FilmMoments,
    moments: Sequence[Checkpoint],
    pair: Pair,
    swing: int | None,
    folder: Path,
    day: str,
    made: list[Path],
) -> list[dict[str, Any]]:
    """The rows of a film's moments; each picture is written into `folder` and noted in `made`."""
    at = {one.moments[moment].picture: moment for moment in reversed(moments)}
    folder.mkdir(exist_ok=True)
    found: dict[int, Path] = {}
    for picture in pictures(one.film.file, only=at.keys()):
        stem = f"{day}-{at[picture.number]}-{SHORT[one.view]}"
        found[picture.number] = new_file(folder, stem, as_jpeg(picture.pixels))
        made.append(found[picture.number])
        if len(found) == len(at):
            break
    return [_row(one, moment, found, pair, swing) for moment in moments]


def _row(
    one: FilmMoments, moment: Checkpoint, found: Mapping[int, Path], pair: Pair, swing: int | None
) -> dict[str, Any]:
    file = found[one.moments[moment].picture]
    row: dict[str, Any] = {"file": f"../stills/{file.name}", "view": one.view, "checkpoint": moment}
    row |= {"fps": rate_of(one.times), "time": round(one.taken(moment), 4)}
    if pair.clock is not None and one.view == "down-the-line":
        row["lag"] = {"seconds": round(pair.clock.seconds, 4), "by": pair.clock.by}
    return row | ({} if swing is None else {"swing": swing})


def _frames(one: FilmMoments, folder: Path, day: str, made: list[Path]) -> Iterator[dict[str, Any]]:
    """The row of the frames of a swing, from the first to the last moment that counts; none where it is not seen
    between them, or where they are not one after the other. The picture that holds them is written into `folder` and
    noted in `made`."""
    counting = [one.moments[moment] for moment in CHECKPOINTS if moment in one.moments and one.counts(moment)]
    stretched = one.film.note.stretched or 1.0
    if any(later.picture <= earlier.picture for earlier, later in pairwise(counting)):
        return
    try:
        found = packed(one.film.file, one.view, one.swing, counting, "", stretched=stretched, kept=one.film.folder)
    except FilmError:  # the stills are what was asked for
        return
    own_folder(folder)
    place = new_file(folder, f"{day}-{SHORT[one.view]}", found.data, found.record.file.rpartition(".")[2])
    made.append(place)
    record = found.record.model_copy(update={"file": f"../swings/{place.name}"})
    yield record.model_dump(mode="json", by_alias=True, exclude_none=True)


def _film_kept(one: FilmMoments, folder: Path, day: str) -> Path:
    """A copy of a film in the student's folder, under a name that is free."""
    own_folder(folder)
    stem, suffix = f"{day}-{SHORT[one.view]}", one.film.file.suffix
    places = (folder / f"{stem}{'' if number == 1 else f'-{number}'}{suffix}" for number in range(1, 100))
    place = next((place for place in places if not place.exists()), None)
    if place is None:
        raise ReportgenError(f"{folder / stem}{suffix} and 98 more are there already. Take some out.")
    try:
        shutil.copyfile(one.film.file, place)
        close(place)
    except BaseException:
        with suppress(OSError):
            place.unlink()
        raise
    return place
