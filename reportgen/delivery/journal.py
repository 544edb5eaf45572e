"""What became of each mail: a small database beside the academy, so that no lesson's mail is sent twice.

A mail is `queued`; `sending` from just before the server could take it to the server's answer; then `sent` or `failed`.
What a killed run left in `sending` may have arrived or not: it is `unknown` until a person says which.
"""

import json
import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from reportgen.errors import ReportgenError

State = Literal["queued", "sending", "sent", "failed", "unknown"]
Via = Literal["smtp", "outbox"]

_VERSION = 1
_TABLE = """
CREATE TABLE IF NOT EXISTS mail (
    id INTEGER PRIMARY KEY,
    student TEXT NOT NULL,
    lesson TEXT NOT NULL,
    revision TEXT NOT NULL,
    message_id TEXT NOT NULL,
    addresses TEXT NOT NULL,
    report TEXT NOT NULL,
    corrects INTEGER REFERENCES mail (id),
    state TEXT NOT NULL CHECK (state IN ('queued', 'sending', 'sent', 'failed', 'unknown')),
    via TEXT CHECK (via IN ('smtp', 'outbox')),
    at TEXT NOT NULL,
    says TEXT NOT NULL DEFAULT '',
    bounces TEXT NOT NULL DEFAULT '{}',
    UNIQUE (student, lesson, revision)
)
"""
_COLUMNS = "id, student, lesson, revision, message_id, addresses, report, corrects, state, via, at, says, bounces"


class JournalError(ReportgenError):
    """The journal cannot be used; the message says why and how to mend it."""


@dataclass(frozen=True)
class Entry:
    """One mail. `at` is when its state was noted (UTC), `says` what the server or a person said, `bounces` which of its
    addresses sent it back and why, `corrects` the mail that it takes the place of."""

    id: int
    student: str
    lesson: str
    revision: str
    message_id: str
    addresses: tuple[str, ...]
    report: str
    corrects: int | None
    state: State
    via: Via | None
    at: datetime
    says: str
    bounces: dict[str, str]

    @property
    def bounced(self) -> bool:
        """It came back from everybody whom it was sent to."""
        return len(self.bounces) >= len(self.addresses)


def journal_of(academy: Path) -> Path:
    """Where the journal of an academy stands unless told otherwise: beside its folder."""
    home = academy.resolve()
    return home.parent / f"{home.name}.journal.sqlite"


@contextmanager
def open_journal(file: Path) -> Iterator[sqlite3.Connection]:
    """The journal in `file`, made where it is not there yet, for this run alone.

    What an earlier run left in `sending` is `unknown` from now on. Raises JournalError where another run has it open,
    or where the file is none or cannot be written.
    """
    with _told(file):
        _make_private(file)
        with _alone(file), _connected(file) as journal:
            journal.execute("PRAGMA journal_mode = WAL")  # one wait for the disk at each note, where others take four
            journal.execute("PRAGMA synchronous = FULL")
            _check_version(journal, file)
            journal.execute(_TABLE)
            journal.execute(f"PRAGMA user_version = {_VERSION}")
            journal.execute("UPDATE mail SET state = 'unknown', says = 'the run was killed' WHERE state = 'sending'")
            yield journal


def read_entries(file: Path) -> tuple[Entry, ...]:
    """All mails of the journal in `file`, the oldest first; none where there is no journal. Raises JournalError."""
    if not file.exists():
        return ()
    with _told(file), _connected(file) as journal:
        _check_version(journal, file)
        there = journal.execute("SELECT 1 FROM sqlite_master WHERE name = 'mail'").fetchone()
        return entries(journal) if there else ()


def entries(journal: sqlite3.Connection) -> tuple[Entry, ...]:
    """All mails, the oldest first."""
    rows = journal.execute(f"SELECT {_COLUMNS} FROM mail ORDER BY id").fetchall()  # noqa: S608  only our own names
    return tuple(map(_entry, rows))


def queue(
    journal: sqlite3.Connection,
    student: str,
    lesson: str,
    revision: str,
    message_id: str,
    addresses: Sequence[str],
    report: str,
    corrects: int | None,
) -> int:
    """Note that a mail is to be sent, and give its number. One that failed or came back is queued anew with the
    addresses of now; an earlier revision of the lesson that was never sent is taken out."""
    journal.execute(
        "DELETE FROM mail WHERE student = ? AND lesson = ? AND revision <> ? AND state = 'queued'",
        (student, lesson, revision),
    )
    journal.execute(
        "INSERT INTO mail (student, lesson, revision, message_id, addresses, report, corrects, state, at)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, 'queued', ?)"
        " ON CONFLICT (student, lesson, revision) DO UPDATE SET state = 'queued', addresses = excluded.addresses,"
        " message_id = excluded.message_id, bounces = '{}', at = excluded.at",
        (student, lesson, revision, message_id, json.dumps(list(addresses)), report, corrects, _now()),
    )
    found = journal.execute(
        "SELECT id FROM mail WHERE student = ? AND lesson = ? AND revision = ?", (student, lesson, revision)
    ).fetchone()
    return int(found[0])


def note(journal: sqlite3.Connection, mail: int, state: State, via: Via | None = None, says: str = "") -> None:
    """Note the state of a mail; it is on the disk when this returns."""
    journal.execute(
        "UPDATE mail SET state = ?, via = coalesce(?, via), says = ?, at = ? WHERE id = ?",
        (state, via, says, _now(), mail),
    )


def note_bounce(journal: sqlite3.Connection, entry: Entry, address: str, says: str) -> None:
    """Note that a mail came back from `address`."""
    bounces = json.dumps({**entry.bounces, address: says})
    journal.execute("UPDATE mail SET bounces = ? WHERE id = ?", (bounces, entry.id))


def _entry(row: Sequence[object]) -> Entry:
    number, student, lesson, revision, message_id, addresses, report, corrects, state, via, at, says, bounces = row
    return Entry(
        id=int(str(number)),
        student=str(student),
        lesson=str(lesson),
        revision=str(revision),
        message_id=str(message_id),
        addresses=tuple(json.loads(str(addresses))),
        report=str(report),
        corrects=None if corrects is None else int(str(corrects)),
        state=state,  # type: ignore[arg-type]  # the table lets no other in
        via=via,  # type: ignore[arg-type]
        at=datetime.fromisoformat(str(at)),
        says=str(says),
        bounces=json.loads(str(bounces)),
    )


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")


def _make_private(file: Path) -> None:
    """The journal holds names and addresses: for its owner's eyes alone."""
    os.close(os.open(file, os.O_RDWR | os.O_CREAT, 0o600))


@contextmanager
def _connected(file: Path) -> Iterator[sqlite3.Connection]:
    journal = sqlite3.connect(file, timeout=10, isolation_level=None)  # every statement is on disk at once
    try:
        yield journal
    finally:
        journal.close()


@contextmanager
def _alone(file: Path) -> Iterator[None]:
    """Keeps a second run out for as long as this one lives. An empty database is the lock: it works on every system,
    and the system itself lets go of it when a run is killed."""
    lock_file = file.with_name(f"{file.name}-lock")
    lock = sqlite3.connect(lock_file, timeout=0, isolation_level=None)
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


def _check_version(journal: sqlite3.Connection, file: Path) -> None:
    version = journal.execute("PRAGMA user_version").fetchone()[0]
    if version > _VERSION:
        raise JournalError(f"{file} was written by a later reportgen. Use that one.")


@contextmanager
def _told(file: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.DatabaseError as error:
        raise JournalError(f"{file}: {error}. Give another place with --journal, or free some.") from error
