"""Pictures that may no longer be shown go before anything else is done, even if what replaces their pages cannot be
made: leave was taken back, two students no longer share, or somebody left the academy."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

from reportgen.publishing.file_index import digest_of
from reportgen.publishing.replacing import old_place, remove
from reportgen.publishing.staging import undo_what_was_ended
from reportgen.publishing.store import Note, Store
from reportgen.records.taken_down import TakenDown, Why
from reportgen.sheets.leave import Leave, leave_in
from reportgen.sheets.today import today_in

LeaveOf = Callable[[str], Leave | None]
"""What a student's file says of pictures; None where it cannot be known."""


def take_down(
    root: Path, to: Path, store: Store, students: Iterable[str], sheets: Mapping[str, str]
) -> list[TakenDown]:
    """Take away the pages in `to` that show pictures which may no longer be shown, and what is kept of them.

    `students` are those in the academy, `sheets` the digest of each one's folder: where no folder has changed since the
    pages were made, nothing is read. Raises OSError.
    """
    there = set(students)
    leave = cache(lambda name: leave_in(root / "students" / name) if name in there else None)
    found, notes = [], store.notes()
    undo_what_was_ended(to, {name: note.place for name, note in notes.items()})  # what comes back later would stay
    for note, down in pages_to_take_down(notes, there, sheets, leave):
        name = down.student
        if note.pages and (area := to / "upload" / note.place).exists():
            remove(area, old_place(to, area.name))  # under a student's id it would be put back after a kill
            found.append(down)
        store.lesson_cache(name).unlink(missing_ok=True)
        if name in there:
            store.write_note(name, replace(note, inputs="", pages=False, shows=(), down=down))
        else:
            store.forget(name)
    return found


def pages_to_take_down(
    notes: Mapping[str, Note], there: set[str], sheets: Mapping[str, str], leave: LeaveOf
) -> Iterator[tuple[Note, TakenDown]]:
    """The notes on students whose pages show what may no longer be shown, and why; `there` are those in the academy."""
    latest = today_in("UTC") + timedelta(days=1)  # nowhere on Earth is it later
    for name, note in notes.items():
        if name in there and note.sheets == sheets_digest(name, note.leans_on, sheets):
            continue
        down = why_not(name, note.shows, there, leave, latest)
        if down is not None:
            yield note, down


def told_of(down: TakenDown, what: str = "Taken down") -> str:
    """The line of the terminal about pages that were taken away."""
    if down.student == down.whose:
        return f"{what}: {down.student}, {_THEIRS[down.why]}."
    return f"{what}: {down.student}, with pictures of {down.whose}, {_THEIRS[down.why]}."


_THEIRS: dict[Why, str] = {
    "gone": "who is no longer in the academy",
    "not known": "whose student.yaml does not say clearly whether pictures may be shown",
    "no leave": "whose leave to show pictures is not on file",
    "taken back": "whose permission to show pictures was taken back",
    "to come": "whose leave to show pictures is given on a day still to come",
    "not shared": "and the two no longer share their pictures",
}


def why_not(
    student: str, shows: Iterable[str], students: Iterable[str], leave: LeaveOf, latest: date
) -> TakenDown | None:
    """Why pages of `student` that show pictures of everybody in `shows` may not be shown; None where they may be.

    `latest` is the last day on which leave that counts was given.
    """
    there = set(students)
    if student not in there:
        return TakenDown(student, student, "gone")
    for whose in shows:
        why: Why | None = "gone" if whose not in there else _without_leave(leave(whose), latest)
        if why is None and whose != student and not _share(student, whose, leave):
            why = "not shared"
        if why is not None:
            return TakenDown(student, whose, why)
    return None


def sheets_digest(student: str, leans_on: Iterable[str], sheets: Mapping[str, str]) -> str:
    """One digest of a student's folder and of those that it leans on."""
    return digest_of((name, sheets.get(name, "none")) for name in (student, *leans_on))


def _without_leave(leave: Leave | None, latest: date) -> Why | None:
    if leave is None:
        return "not known"
    if leave.pictures is None:
        return "no leave"
    if leave.pictures.withdrawn_on is not None:
        return "taken back"
    return "to come" if leave.pictures.given_on > latest else None


def _share(one: str, other: str, leave: LeaveOf) -> bool:
    return all(
        (said := leave(who)) is not None and whom in said.shares_with for who, whom in ((one, other), (other, one))
    )
