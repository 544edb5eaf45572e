"""What became of each mail: a small database beside the academy, so that no lesson's mail is sent twice.

A mail is `queued` for an address; `sending` from just before the server could take it to the server's answer; then
`sent` or `failed`. What a killed run left in `sending` may have arrived or not: it is `unknown` until a person says
which.

What is taken out of it is overwritten in the file too.
"""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from reportgen.delivery import journal_before
from reportgen.delivery.entry import Entry, all_of
from reportgen.delivery.rows import TABLE, entries, put, scrub
from reportgen.errors import ReportgenError
from reportgen.rights import FILE, close

_VERSION = 2
_OF_THE_DISK = ("SQLITE_FULL", "SQLITE_IOERR", "SQLITE_CANTOPEN", "SQLITE_READONLY", "SQLITE_PERM", "SQLITE_BUSY")
"""How the names of faults begin that are the disk's and not the journal's."""


class JournalError(ReportgenError):
    """The journal cannot be used; the message says why and how to mend it."""


def journal_of(academy: Path) -> Path:
    """Where the journal of an academy stands unless told otherwise: beside its folder."""
    home = academy.resolve()
    return home.parent / f"{home.name}.journal.sqlite"


@contextmanager
def open_journal(file: Path) -> Iterator[sqlite3.Connection]:
    """The journal in `file`, made where it is not there yet, for this run alone; one of an earlier program is brought
    into today's form, and what that no longer holds is gone from the file.

    What an earlier run left in `sending` is `unknown` from now on. Raises JournalError where another run has it open,
    or where the file is none or cannot be written.
    """
    with _told(file):
        _make_private(file)
        with _alone(file), _connected(file) as journal:
            journal.execute("PRAGMA journal_mode = WAL")  # one wait for the disk at each note, where others take four
            journal.execute("PRAGMA synchronous = FULL")
            journal.execute("PRAGMA secure_delete = ON")
            for beside in ("-wal", "-shm"):
                close(file.with_name(f"{file.name}{beside}"))
            _bring_up_to_date(journal, file)
            _check_whole(journal, file)
            for entry in entries(journal):
                if entry.state == "sending":
                    in_doubt = all_of(entry.with_each("sending"), "unknown", "the run was killed")
                    put(journal, replace(entry, state="unknown").after(in_doubt, entry.at))
            yield journal


def read_entries(file: Path) -> tuple[Entry, ...]:
    """All mails of the journal in `file`, the oldest first; none where there is no journal. Raises JournalError."""
    if not file.exists():
        return ()
    with _told(file), _connected(file) as journal:
        version = _version(journal, file)
        there = journal.execute("SELECT 1 FROM sqlite_master WHERE name = 'mail'").fetchone()
        if not there:
            return ()
        return journal_before.entries(journal) if version < _VERSION and _is_before(journal) else entries(journal)


def _bring_up_to_date(journal: sqlite3.Connection, file: Path) -> None:
    """A journal of today's version. Who is killed in between finds it in the one form or the other, and goes on."""
    if _version(journal, file) == _VERSION:
        return
    before = journal_before.entries(journal) if _is_before(journal) else ()
    journal.execute("BEGIN IMMEDIATE")
    with journal:
        if _is_before(journal):
            journal.execute("DROP TABLE mail")
        journal.execute(TABLE)
        for entry in before:
            put(journal, entry)
    scrub(journal)
    journal.execute(f"PRAGMA user_version = {_VERSION}")


def _check_whole(journal: sqlite3.Connection, file: Path) -> None:
    """Where a bit has flipped, the index is made anew from the rows; a damaged row is known by its digest. Raises
    JournalError where rows may be lost."""
    journal.execute("PRAGMA ignore_check_constraints = ON")
    if _faults(journal):
        journal.execute("REINDEX")
        if faults := _faults(journal):
            raise _damaged(file, faults)
    journal.execute("PRAGMA ignore_check_constraints = OFF")


def _faults(journal: sqlite3.Connection) -> str:
    found = [str(line[0]) for line in journal.execute("PRAGMA integrity_check (3)")]
    return "" if found == ["ok"] else "; ".join(found)


def _is_before(journal: sqlite3.Connection) -> bool:
    """Whether the mails stand in the form of version 1, with the whole report of each."""
    return any(column[1] == "report" for column in journal.execute("PRAGMA table_info (mail)"))


def _make_private(file: Path) -> None:
    """The journal holds names and addresses: for its owner's eyes alone."""
    for each in (file, _lock_of(file)):
        os.close(os.open(each, os.O_RDWR | os.O_CREAT, FILE))
        close(each)


@contextmanager
def _connected(file: Path) -> Iterator[sqlite3.Connection]:
    journal = sqlite3.connect(file, timeout=10, isolation_level=None)  # every statement is on disk at once
    journal.text_factory = lambda text: text.decode("utf-8", "backslashreplace")  # a damaged one is told, not raised
    try:
        yield journal
    finally:
        journal.close()


@contextmanager
def _alone(file: Path) -> Iterator[None]:
    """Keeps a second run out for as long as this one lives. An empty database is the lock: it works on every system,
    and the system itself lets go of it when a run is killed."""
    lock = sqlite3.connect(_lock_of(file), timeout=0, isolation_level=None)
    try:
        try:
            lock.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as error:
            if "locked" not in str(error):
                raise
            raise JournalError(f"{file}: another run is sending just now. Wait until it has ended.") from None
        yield
    finally:
        lock.close()


def _lock_of(file: Path) -> Path:
    return file.with_name(f"{file.name}-lock")


def _version(journal: sqlite3.Connection, file: Path) -> int:
    version = int(journal.execute("PRAGMA user_version").fetchone()[0])
    if version > _VERSION:
        raise JournalError(f"{file} was written by a later reportgen. Use that one.")
    return version


@contextmanager
def _told(file: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.DatabaseError as error:
        if getattr(error, "sqlite_errorname", "").startswith(_OF_THE_DISK):
            raise JournalError(f"{file}: {error}. Give another place with --journal, or free some.") from error
        raise _damaged(file, str(error)) from error
    except UnicodeDecodeError as error:  # the database's own complaint repeats a damaged name
        raise _damaged(file, "a name is no text") from error


def _damaged(file: Path, says: str) -> JournalError:
    line = " ".join("".join(sign if sign.isprintable() else " " for sign in says).split())
    return JournalError(f"{file} is no journal, or damaged ({line}). Put back a copy of it, or move it away.")
