"""What a published folder keeps of a student, and of others because of that student."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from html import escape
from pathlib import Path

from reportgen.personal_data.mentions import KnownBy
from reportgen.publishing.build_plan import student_names
from reportgen.publishing.replacing import old_place, remove
from reportgen.publishing.staging import undo_what_was_ended
from reportgen.publishing.store import Note, Store
from reportgen.records.academy import Academy
from reportgen.sealing.addresses import token
from reportgen.sheets.academy_folder import Home


@dataclass(frozen=True)
class Trace:
    """Something that is kept of a student: what it is, and how it is taken away."""

    says: str
    remove: Callable[[], None]


def sites_beside(root: Path) -> list[Path]:
    """The folders beside an academy that something was published into."""
    beside = sorted(root.resolve().parent.iterdir())
    return [folder for folder in beside if (folder / ".made").is_dir()]


def is_site_of(to: Path, student: str, home: Home) -> bool:
    """Whether a folder holds a publish of this academy: the address of somebody's pages there comes from its secret."""
    store = Store(to / ".made")
    known = {student, *store.students(), *student_names(home.root)}
    notes = store.notes()
    places = {name: f"s/{token(name, home.academy)}" for name in known}
    return any((to / "upload" / place).is_dir() for place in places.values()) or any(
        note.place == places.get(name) for name, note in notes.items()
    )


def undo_before(to: Path, student: str, home: Home) -> None:
    """Put back what a publish that was killed had taken out of its place, so that all stands where it is looked for."""
    known = {student, *Store(to / ".made").students(), *student_names(home.root)}
    undo_what_was_ended(to, {name: f"s/{token(name, home.academy)}" for name in known})


def traces_in(to: Path, person: KnownBy, home: Home) -> Iterator[Trace]:
    """What a published folder keeps of a student, in the order in which it is taken away: who is ended in between finds
    by what is left what else there was."""
    store, student = Store(to / ".made"), person.id
    academy = home.academy
    yield from _desk(to, person, academy)
    notes = store.notes()
    for name in sorted({*store.students(), *student_names(home.root)} - {student}):
        yield from _others(name, notes.get(name), to, person, academy, store)
    area = to / "upload" / "s" / token(student, academy)
    if area.exists() or area.is_symlink():
        yield Trace(f"{area}: their pages", lambda: remove(area, old_place(to, area.name)))
    index = store.folder / "files.json"
    if index.is_file() and f'"academy/students/{student}/'.encode() in index.read_bytes():
        yield trace_of(index, "the names of their files")
    yield from (trace_of(file, "left by a publish that was ended") for file in _left_over(store.folder))
    for name in ("new", "old"):
        if any((store.folder / name).glob("*")):
            yield folder_trace(store.folder / name, "left by a publish that was ended")
    if store.lesson_cache(student).exists():
        yield trace_of(store.lesson_cache(student), "their pages, as they are kept")
    if student in store.students():
        yield Trace(f"{store.note_file(student)}: what the desk says of them", lambda: store.forget(student))


def _desk(to: Path, person: KnownBy, academy: Academy) -> Iterator[Trace]:
    wanted = [person.id, token(person.id, academy), *map(escape, person.names)]
    for name, again in (("index.html", "the next publish"), ("season.html", "reportgen season")):
        page = to / "desk" / name
        if page.is_file() and any(word.encode() in page.read_bytes() for word in wanted):
            yield trace_of(page, f"a page of your desk that names them; {again} makes it again")


def _others(name: str, note: Note | None, to: Path, person: KnownBy, academy: Academy, store: Store) -> Iterator[Trace]:
    """What is kept of another student and shows this one, or may."""
    area, kept = to / "upload" / "s" / token(name, academy), store.lesson_cache(name)
    there = [place for place in (area, kept) if place.exists()]
    if there and (note is None or person.id in note.leans_on):
        why = "may show pictures of theirs" if note is None else "use pictures or sheets of theirs"

        def take_away() -> None:
            if area.exists():
                remove(area, old_place(to, area.name))
            store.forget(name)

        yield Trace(f"{area}: the pages of {name}, which {why}; the next publish makes them again", take_away)
    elif note is not None and KnownBy(person.id).pattern().search(str(note.desk).encode()):
        yield trace_of(store.note_file(name), "it names them; the next publish writes it again")


def _left_over(made: Path) -> list[Path]:
    """Files that a publish was about to put in their places when it was ended."""
    kept = [file for file in (made / "kept").glob("*") if file.suffix != ".zip"]
    pages = [file for file in (made / name for name in ("desk.html", "season.html", "keys.html")) if file.is_file()]
    return sorted([*made.glob("*.new"), *(made / "students").glob("*.new"), *kept, *pages])


def folder_trace(folder: Path, what: str) -> Trace:
    """A folder that is kept of a student."""
    return Trace(f"{folder}: {what}", lambda: shutil.rmtree(folder, ignore_errors=True))


def trace_of(file: Path, what: str) -> Trace:
    """A file that is kept of a student."""
    return Trace(f"{file}: {what}", lambda: file.unlink(missing_ok=True))
