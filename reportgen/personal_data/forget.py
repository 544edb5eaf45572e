"""`reportgen forget`: a student is taken out of everything beside the academy that the program keeps."""

import os
import re
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from reportgen.delivery import rows
from reportgen.delivery.entry import Entry
from reportgen.delivery.journal import open_journal, read_entries
from reportgen.errors import ReportgenError
from reportgen.films.working import films_of
from reportgen.personal_data.mentions import PICTURES, KnownBy, known_by, mentions, the_same_bytes
from reportgen.personal_data.papers import exports_of, mails_of, marking_pages, papers_of
from reportgen.personal_data.traces import (
    Trace,
    folder_trace,
    is_site_of,
    sites_beside,
    trace_of,
    traces_in,
    undo_before,
)
from reportgen.publishing.build_plan import student_names
from reportgen.publishing.lock import locked
from reportgen.publishing.store import Store
from reportgen.records.academy import Academy
from reportgen.rights import begun
from reportgen.sealing.keyring import Keyring, member_names, read_keyring, without_member, write_keyring
from reportgen.sealing.privacy import keyring_of
from reportgen.sheets.academy_folder import Home, NoAcademyError
from reportgen.sheets.reading import read_sheet

_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_SHARED = ("upload/assets", "upload/library", "desk/assets", "desk/guide")
"""Parts of a site that speak of no student."""
ELSEWHERE = (
    "your web host: publish, upload again, and delete there what is no longer in upload/",
    "mails that have arrived, pages that somebody has saved, and backups of these folders",
)
"""What no program on this computer reaches."""


@dataclass(frozen=True)
class Places:
    """Where the program keeps something of students: published folders besides those that stand beside the academy, the
    journal of mails, the outbox, and the folder in which recaps and letters were written."""

    sites: Sequence[Path]
    journal: Path
    outbox: Path
    here: Path


@dataclass(frozen=True)
class Forgotten:
    """What was taken away, or would be, and what only the instructor can; whether anything was known of the student."""

    removed: tuple[str, ...]
    left: tuple[str, ...]
    known: bool


def forget(root: Path, student: str, places: Places, ask: Callable[[], str], *, dry_run: bool = False) -> Forgotten:
    """Take a student out of everything that the program keeps beside the academy in `root`; with `dry_run` only say
    what that would be. The academy itself is never changed, and need not have the student any more. `ask` gives the
    instructor's passphrase where the student is a member. Whoever is ended in between begins again.

    Raises ReportgenError where the academy cannot be read, a folder is no publish of it, or another run is at work.
    """
    if not _ID.fullmatch(student):
        raise ReportgenError(f"{student!r} is not an id. Write small letters, digits and hyphens, as in mara-l.")
    home = _home(root)
    sites = _sites(student, home, places.sites)
    keyring, passphrase = keyring_of(root), ""
    if keyring.exists() and student in member_names(keyring) and not dry_run:
        passphrase = ask()
        read_keyring(keyring, passphrase)
    with ExitStack() as held:
        journal = None
        if not dry_run:
            for site in sites:
                held.enter_context(locked(site / ".made" / "lock"))
                undo_before(site, student, home)
            if places.journal.exists():
                journal = held.enter_context(open_journal(places.journal))
        known = read_entries(places.journal)
        person = _person(student, root, sites, known)
        everybody = {*student_names(root), *(entry.student for entry in known)} - {""}
        mails, in_doubt = mails_of(student, places.outbox, everybody, known)
        papers = papers_of(student, (root.resolve().parent, places.here))
        traces = [
            *_of_the_keyring(student, keyring, passphrase),
            *(trace_of(mail, "a mail to them") for mail in mails),
            *(trace_of(paper, "a recap of theirs, or the letter with their passphrase") for paper in papers),
            *_of_the_films(student, root),
            *_of_the_journal(student, places.journal, known, journal),
            *(trace for site in sites for trace in traces_in(site, person, home)),
        ]
        for trace in () if dry_run else traces:
            trace.remove()
        if journal is not None:
            rows.scrub(journal)
    going = [trace.says.partition(": ")[0] for trace in traces] if dry_run else []
    left = [*_in_the_academy(person, root), *_made_by_hand(student, in_doubt, (root.resolve().parent, places.here))]
    files = _to_look_into(root, student, sites, places, going)
    left += [f"{where} names them" for where in mentions(files, person.pattern())]
    return Forgotten(
        removed=tuple(trace.says for trace in traces),
        left=(*left, *(ELSEWHERE if traces else ())),
        known=bool(person.names or person.addresses or mails or any(entry.student == student for entry in known)),
    )


def _home(root: Path) -> Home:
    if not (root / "academy.yaml").is_file():
        raise NoAcademyError(f"{root} holds no academy.yaml. Give the folder of an academy.")
    sheet, problems = read_sheet(root / "academy.yaml", "academy.yaml", Academy)
    if sheet is None:
        raise ReportgenError(f"{problems[0]} The addresses of pages come from that file.")
    return Home(root, sheet.record)


def _sites(student: str, home: Home, given: Iterable[Path]) -> list[Path]:
    for site in given:
        if not (site / ".made").is_dir() or not is_site_of(site, student, home):
            raise ReportgenError(f"{site} holds no publish of this academy. Look at --to.")
    beside = [site for site in sites_beside(home.root) if is_site_of(site, student, home)]
    return list({site.resolve(): site for site in (*beside, *given)}.values())


def _person(student: str, root: Path, sites: Iterable[Path], known: Iterable[Entry]) -> KnownBy:
    noted = [Store(site / ".made").notes() for site in sites]
    desks = [notes[student].desk for notes in noted if student in notes]
    addresses = {address for entry in known if entry.student == student for address in entry.addresses}
    return known_by(student, root, desks, addresses)


def _of_the_keyring(student: str, keyring: Path, passphrase: str) -> Iterator[Trace]:
    if begun(keyring).exists():
        yield trace_of(begun(keyring), "a keyring that was being written")
    if keyring.exists() and student in member_names(keyring):
        says = f"{keyring}: their passphrase and the key of their pages; the drill library has a new key"

        def take_out() -> None:
            write_keyring(keyring, _without(student, keyring, passphrase), passphrase)

        yield Trace(says, take_out)


def _without(student: str, keyring: Path, passphrase: str) -> Keyring:
    return without_member(read_keyring(keyring, passphrase), student)


def _of_the_films(student: str, root: Path) -> Iterator[Trace]:
    folder = films_of(root) / student
    if folder.exists():
        yield folder_trace(folder, "their films, and what was seen in them")


def _of_the_journal(
    student: str, file: Path, known: Sequence[Entry], journal: sqlite3.Connection | None
) -> Iterator[Trace]:
    went = sum(entry.student == student for entry in known)

    def forget_mails() -> None:
        if journal is not None:
            rows.forget(journal, student)

    if went:
        whom = "to whom a mail went and what it told" if went == 1 else f"to whom {went} mails went and what they told"
        yield Trace(f"{file}: {whom}; that mail went, and when, is kept", forget_mails)


def _in_the_academy(person: KnownBy, root: Path) -> Iterator[str]:
    own = root / "students" / person.id
    if own.exists():
        yield f"{own}: delete this folder. While it is there, the next publish makes the pages again."
        pictures = [file for file in _files_below(own) if file.suffix.lower() in PICTURES]
        for copy in the_same_bytes(pictures, _files_below(root, own)):
            yield f"{copy}: a copy of one of their pictures"


def _made_by_hand(student: str, in_doubt: Iterable[Path], folders: Sequence[Path]) -> Iterator[str]:
    """What somebody made with the program and may still need."""
    for mail in in_doubt:
        yield f"{mail}: a mail to {student}, or to somebody whose id ends in the same way: look yourself"
    for export in exports_of(student, folders):
        yield f"{export}: what you exported for them; delete it when they have it"
    for page in marking_pages(folders):
        yield f"{page}: a page for setting marks; it holds the pictures that it was made with"


def _to_look_into(
    root: Path, student: str, sites: Iterable[Path], places: Places, going: Sequence[str]
) -> Iterator[Path]:
    """Every file that may still name a student, those left out that are `going`."""
    yield from _files_below(root, root / "students" / student)
    kept = [places.journal, keyring_of(root), *_files_below(places.outbox)]
    for site in sites:
        kept += _files_below(site, *(site / part for part in _SHARED))
    yield from (file for file in kept if not str(file).startswith(tuple(going)))


def _files_below(folder: Path, *but: Path) -> Iterator[Path]:
    for at, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if Path(at) / name not in but)
        yield from (Path(at) / name for name in sorted(files))
