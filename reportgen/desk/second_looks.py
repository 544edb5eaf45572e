"""Pictures that are marked a second time at the desk, unseen: neither whose they are nor the earlier marks are told."""

from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import Any

from reportgen.authoring.again import Offered, choose, name_of_marker, offered, with_marks
from reportgen.authoring.own_figures import own_figures
from reportgen.desk.marks import SentChanges, Shown, where_taken
from reportgen.desk.saving import ChangedMeanwhileError
from reportgen.errors import ReportgenError
from reportgen.measuring.asked import marks_shown
from reportgen.preview.watched import Watched
from reportgen.records.base import Pixel
from reportgen.records.rounds import Round
from reportgen.records.stills import Placed
from reportgen.records.words import Mark
from reportgen.rights import write_atomically
from reportgen.sheets.picture_files import picture_size
from reportgen.sheets.reading import Sheet
from reportgen.sheets.rounds import FOLDER, is_round, name_of_round, read_rounds, round_text
from reportgen.sheets.today import build_day


class SecondLooks:
    """The second looks of one academy, kept in its folder `rounds`; every method may be called from any thread."""

    def __init__(self, root: Path, watched: Watched) -> None:
        self._root, self._watched, self._lock = root, watched, Lock()

    def rounds(self) -> list[Shown]:
        """What was marked again so far, the latest first."""
        found = [
            {
                "name": _stem(sheet),
                "date": sheet.record.date,
                "by": sheet.record.marked_by,
                "count": len(sheet.record.stills),
            }
            for sheet in self._rounds()
        ]
        return sorted(found, key=lambda one: (one["date"], one["name"]), reverse=True)

    def figures(self) -> Sequence[str]:
        """What all second looks tell, as lines; none before the first. Raises ReportgenError."""
        return own_figures(self._watched.folder) if self._rounds() else ()

    def begin(self, by: str | None) -> tuple[str, str | None]:
        """The name of a round of today by that marker, and the marker as rounds have it: one that is not whole is gone
        on with, otherwise a new one, which is kept from the first point on. Raises ReportgenError where no still can be
        offered."""
        marker = name_of_marker(by, self._watched.folder)
        if not self._chosen(None):
            needs = "it needs marks, a scale, and a student whose pictures were not withdrawn."
            raise ReportgenError(f"No still can be marked again: {needs}")
        for one in self.rounds():
            of_today = (one["date"], one["by"]) == (self._today(), marker)
            if of_today and one["count"] < len(self._chosen(one["name"])):
                return one["name"], marker
        taken = [file.name for file in (self._root / FOLDER).glob("*")]
        return name_of_round(self._today(), marker, taken).removesuffix(".yaml"), marker

    def pictures(self, name: str) -> Sequence[int]:
        """The numbers of the pictures of a round."""
        return range(len(self._chosen(name)))

    def picture(self, name: str, number: int) -> Path:
        """The file of a picture. Raises LookupError."""
        return self._one(name, number).file

    def still(self, name: str, number: int) -> Shown:
        """A picture with the points that its sheet has, to be set again, and those of this round. Raises
        LookupError."""
        one, kept = self._one(name, number), self._kept(name)
        asked = [mark for mark in marks_shown(one.still.view) if mark in one.still.marks]
        marks = _marks_of(kept.record, one) if kept else {}
        return {
            "number": number,
            "view": one.still.view,
            "checkpoint": one.still.checkpoint,
            "file": _digest(one),
            "where": where_taken(one.still),
            "size": picture_size(one.file),
            "written": {"marks": marks} if marks else {},
            "asked": {"focus": asked, "all": asked},
            "shown": asked,
            "lent": {},
            "proposed": {},
            "before": None,
        }

    def keep(self, name: str, number: int, sent: SentChanges, by: str | None) -> None:
        """Write the points that were set. Raises LookupError, ChangedMeanwhileError where another picture has that
        number by now or another point stands there, OSError."""
        with self._lock:
            one, sheet = self._one(name, number), self._kept(name)
            if sent.file != _digest(one):
                raise ChangedMeanwhileError(number)
            kept = sheet.record if sheet else None
            marks: dict[Mark, Pixel] = dict(_marks_of(kept, one)) if kept else {}
            for at, was, value in sent.changes:
                mark = next((mark for mark in one.still.marks if at == ("marks", mark)), None)
                if mark is None:
                    raise LookupError(at)
                if marks.get(mark) != _place(was):
                    raise ChangedMeanwhileError(marks.get(mark))
                place = _place(value)
                marks = {other: at for other, at in marks.items() if other != mark}
                if place is not None:
                    marks[mark] = place
            self._write(name, with_marks(kept, one, marks, self._today(), name_of_marker(by, self._watched.folder)))

    def _write(self, name: str, fresh: Round | None) -> None:
        place = self._root / FOLDER / f"{name}.yaml"
        if not is_round(place.name):
            raise LookupError(name)
        if fresh is None:
            place.unlink(missing_ok=True)
            return
        if self._kept(name) is None and place.exists():
            raise ReportgenError(f"{FOLDER}/{place.name} has problems. Mend it, or take it out.")
        place.parent.mkdir(exist_ok=True)
        write_atomically(place, round_text(fresh).encode(), on_disk=True)

    def _today(self) -> Any:
        academy = self._watched.folder.academy
        if academy is None:
            raise ReportgenError("academy.yaml has problems.")
        return build_day(academy)

    def _rounds(self) -> Sequence[Sheet[Round]]:
        return read_rounds(self._watched.folder).rounds

    def _kept(self, name: str) -> Sheet[Round] | None:
        return next((sheet for sheet in self._rounds() if _stem(sheet) == name), None)

    def _chosen(self, name: str | None) -> Sequence[Offered]:
        """The pictures of a round, the same from its first point to its last: its own file has no say in them."""
        others = [sheet.record for sheet in self._rounds() if _stem(sheet) != name]
        return choose(offered(self._watched.folder), others)

    def _one(self, name: str, number: int) -> Offered:
        chosen = self._chosen(name)
        if number >= len(chosen):
            raise LookupError(number)
        return chosen[number]


def _stem(sheet: Sheet[Round]) -> str:
    return Path(sheet.path).stem


def _digest(one: Offered) -> str:
    """By which a page knows a picture without being told whose it is."""
    return sha256(one.file.read_bytes()).hexdigest()


def _marks_of(kept: Round, one: Offered) -> dict[Mark, Pixel]:
    found = (entry.marks for entry in kept.stills if (entry.student, entry.lesson, entry.file) == one.key)
    return next(found, {})


def _place(written: Any) -> Pixel | None:
    return None if written is None else Placed(at=written["at"] if isinstance(written, dict) else written).at
