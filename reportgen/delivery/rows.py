"""The rows of the journal: one for each mail, with a digest by which a damaged one is known."""

import json
import sqlite3
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from hashlib import sha256
from typing import Any

from reportgen.delivery.changes import read_mailed, written
from reportgen.delivery.entry import Entry, Reach, State, Via, all_of, as_a_whole
from reportgen.records.as_mailed import AsMailed

TABLE = """
CREATE TABLE IF NOT EXISTS mail (
    id INTEGER PRIMARY KEY,
    student TEXT,
    lesson TEXT NOT NULL,
    revision TEXT,
    message_id TEXT NOT NULL,
    addresses TEXT NOT NULL,
    facts TEXT NOT NULL,
    corrects INTEGER,
    state TEXT NOT NULL CHECK (state IN ('queued', 'sending', 'sent', 'failed', 'unknown')),
    via TEXT CHECK (via IN ('smtp', 'outbox')),
    at TEXT NOT NULL,
    says TEXT NOT NULL,
    digest TEXT NOT NULL,
    UNIQUE (student, lesson, revision)
)
"""
_COLUMNS = "id, student, lesson, revision, message_id, addresses, facts, corrects, state, via, at, says, digest"


_THEN = datetime.fromtimestamp(0, UTC)
"""When a mail whose row is damaged went; nobody knows."""


def entries(journal: sqlite3.Connection) -> tuple[Entry, ...]:
    """All mails, the oldest first; of one whose row is damaged what can be read, in the state `damaged`."""
    return _where(journal, "TRUE ORDER BY id")


def numbered(journal: sqlite3.Connection, mail: int) -> Entry:
    """The mail of that number."""
    (found,) = _where(journal, "id = ?", mail)
    return found


def put(journal: sqlite3.Connection, entry: Entry) -> None:
    """Keep a mail as it stands now; it is on the disk when this returns."""
    row = (entry.id, *_row(entry))
    places = ", ".join("?" * len(row))
    journal.execute(f"INSERT OR REPLACE INTO mail ({_COLUMNS}) VALUES ({places})", row)  # noqa: S608  our own names


def take_out(journal: sqlite3.Connection, mail: int) -> None:
    """Take the mail of that number out: the journal knows nothing of it any more."""
    journal.execute("DELETE FROM mail WHERE id = ?", (mail,))


@dataclass(frozen=True)
class MailToSend:
    """A mail that is to go to its `addresses`: about which revision of a lesson, the `facts` that it tells, the number
    of the mail that it `corrects`, and `others` who are to have it too."""

    student: str
    lesson: str
    revision: str
    message_id: str
    addresses: Collection[str]
    facts: AsMailed | None = None
    corrects: int | None = None
    others: Collection[str] = ()


def queue(journal: sqlite3.Connection, mail: MailToSend) -> int:
    """Note that a mail is to be sent, and give its number. Whom it reached before stays noted, and how it stands with
    its `others`; an earlier revision of the lesson waits for nobody any more, and is taken out where it reached
    nobody."""
    same, now = None, _now()
    for entry in _where(journal, "student = ? AND lesson = ?", mail.student, mail.lesson):
        if entry.revision == mail.revision:
            same = entry
        elif entry.state == "queued":
            left = {address: reach for address, reach in entry.addresses.items() if reach.state != "queued"}
            if left:
                put(journal, replace(entry, addresses=left).after({}, entry.at))
            else:
                take_out(journal, entry.id)
    known = same.addresses if same else {}
    stays = {
        address: reach
        for address, reach in known.items()
        if reach.state == "sent" or (address in mail.others and reach.state != "queued")
    }
    waiting = stays | all_of(mail.addresses, "queued")
    entry = Entry(
        id=same.id if same else _next_number(journal),
        student=mail.student,
        lesson=mail.lesson,
        revision=mail.revision,
        message_id=mail.message_id,
        addresses=waiting,
        facts=mail.facts,
        corrects=same.corrects if same else mail.corrects,
        state=as_a_whole(waiting) or "sent",
        via=same.via if same else None,
        at=now,
    )
    put(journal, entry)
    return entry.id


def note(journal: sqlite3.Connection, mail: int, happened: Mapping[str, Reach], via: Via, file: str = "") -> Entry:
    """Note what happened with some addresses of a mail, and into which `file` it was written; gives the mail as it
    stands now. It is on the disk when this returns."""
    entry = numbered(journal, mail).after(happened, _now())
    now = replace(entry, via=via, says=file or entry.says)
    put(journal, now)
    return now


def note_bounce(journal: sqlite3.Connection, entry: Entry, address: str, says: str) -> None:
    """Note that a mail came back from `address`."""
    put(journal, entry.after({address: Reach("bounced", says)}, entry.at))


def let_go(journal: sqlite3.Connection, today: date, keep_days: int | None) -> int:
    """Of the mails whose state was noted more than so many days ago keep that they went, when, and of which revision,
    and nothing else; of how many that was."""
    if keep_days is None:
        return 0
    last = today - timedelta(days=keep_days)
    old = [e for e in entries(journal) if e.at.date() < last and (e.addresses or e.facts or e.message_id or e.says)]
    for entry in old:
        put(journal, _emptied(entry))
    if old:
        scrub(journal)
    return len(old)


def forget(journal: sqlite3.Connection, student: str) -> int:
    """Of the mails about a student keep that they went and on which day, and not about whom; of how many that was."""
    theirs = [entry for entry in entries(journal) if entry.student == student]
    for entry in theirs:
        if entry.state == "damaged":
            take_out(journal, entry.id)
        else:
            put(journal, replace(_emptied(entry), student="", revision=""))
    return len(theirs)


def scrub(journal: sqlite3.Connection) -> None:
    """Overwrite in the file what the journal no longer holds."""
    journal.execute("VACUUM")
    journal.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def _emptied(entry: Entry) -> Entry:
    """That a mail went, or that it did not, and on which day."""
    day = datetime.combine(entry.at.date(), time(0), UTC)
    state: State = "sent" if entry.state == "queued" and entry.reached else entry.state
    return replace(entry, message_id="", addresses={}, facts=None, state=state, at=day, says="")


def _where(journal: sqlite3.Connection, condition: str, *values: object) -> tuple[Entry, ...]:
    rows = journal.execute(f"SELECT {_COLUMNS} FROM mail WHERE {condition}", values)  # noqa: S608  our own words
    return tuple(map(_entry, rows.fetchall()))


def _next_number(journal: sqlite3.Connection) -> int:
    return int(journal.execute("SELECT coalesce(max(id), 0) + 1 FROM mail").fetchone()[0])


def _row(entry: Entry) -> tuple[object, ...]:
    """The columns of a mail behind its number."""
    row = (
        entry.student or None,
        entry.lesson,
        entry.revision or None,
        entry.message_id,
        json.dumps({address: asdict(reach) for address, reach in entry.addresses.items()}, ensure_ascii=False),
        written(entry.facts) if entry.facts else "",
        entry.corrects,
        entry.state,
        entry.via,
        entry.at.isoformat(timespec="seconds"),
        entry.says,
    )
    return (*row, _digest(row))


def _digest(row: Sequence[object]) -> str:
    return sha256(repr(tuple(row)).encode()).hexdigest()[:16]


def _entry(row: Sequence[Any]) -> Entry:
    number, *inside, digest = row
    student, lesson, revision, message_id, addresses, facts, corrects, state, via, at, says = inside
    if digest != _digest(inside):
        about, of, text = (each if isinstance(each, str) else "" for each in (student, lesson, revision))
        return Entry(number, about, of, text, "", {}, None, None, "damaged", None, _THEN)
    reach = {address: Reach(**each) for address, each in json.loads(addresses).items()}
    return Entry(
        number, student or "", lesson, revision or "", message_id, reach, read_mailed(facts), corrects,
        state, via, datetime.fromisoformat(at), says,
    )  # fmt: skip


def _now() -> datetime:
    return datetime.now(UTC)
