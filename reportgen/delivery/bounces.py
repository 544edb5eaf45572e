"""Mails that came back: delivery status notifications (RFC 3464) -> notes in the journal."""

import mailbox
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from email import message_from_bytes
from email.message import Message
from pathlib import Path

from reportgen.delivery.entry import Entry, Reach
from reportgen.delivery.journal import open_journal
from reportgen.delivery.rows import entries, note_bounce
from reportgen.delivery.smtp import one_line
from reportgen.errors import ReportgenError


@dataclass(frozen=True)
class Bounce:
    """A mail did not reach `address`; `message_ids` are those that the notification may mean, the surest first."""

    message_ids: tuple[str, ...]
    address: str
    says: str


def bounces_in(mails: Path) -> Iterator[Bounce]:
    """The failures that the notifications in an mbox file, a Maildir, a folder of .eml files or one such file tell of.
    Delays and other mails are passed over. Raises ReportgenError where there is no such place."""
    for message in _messages(mails):
        if message.get_content_type() == "multipart/report":
            yield from _failures(message)


def read_bounces(journal_file: Path, mails: Path) -> list[str]:
    """Note in a journal what came back, and say it in a line for each mail. Raises ReportgenError."""
    if not journal_file.exists():
        raise ReportgenError(f"{journal_file} is not there: no mail was sent yet. Give the journal with --journal.")
    with open_journal(journal_file) as journal:
        noted = note_bounces(journal, mails)
    lines = [f"came back {e.id} {e.student} {e.lesson} from {b.address}: {b.says}" for e, b in noted]
    return lines or ["Nothing came back that was not noted before."]


def note_bounces(journal: sqlite3.Connection, mails: Path) -> list[tuple[Entry, Bounce]]:
    """Note in the journal which mails came back, and give those that were new."""
    noted = []
    for bounce in bounces_in(mails):
        sent = {entry.message_id: entry for entry in entries(journal) if entry.addresses}
        entry = next((sent[name] for name in bounce.message_ids if name in sent), None)
        if entry is None:
            continue
        address = _of(entry, bounce.address)
        if entry.addresses.get(address) != Reach("bounced", bounce.says):
            note_bounce(journal, entry, address, bounce.says)
            noted.append((entry, bounce))
    return noted


def _of(entry: Entry, told: str) -> str:
    """Which of the mail's addresses a notification is about; the only one where the mail was sent on to another."""
    known = list(entry.addresses)
    if told in known or len(known) > 1:
        return next((each for each in known if each.lower() == told.lower()), told)
    return known[0]


def _messages(mails: Path) -> Iterator[Message]:
    if mails.is_dir():
        if (mails / "cur").is_dir() and (mails / "new").is_dir():
            files = [file for name in ("cur", "new") for file in sorted((mails / name).iterdir()) if file.is_file()]
        else:
            files = sorted(mails.glob("*.eml"))
        for file in files:
            yield message_from_bytes(file.read_bytes())
    elif mails.is_file():
        with mails.open("rb") as opened:
            first = opened.read(5)
        if first == b"From ":
            box = mailbox.mbox(mails, create=False)
            try:
                yield from box
            finally:
                box.close()
        elif first:
            yield message_from_bytes(mails.read_bytes())
    else:
        raise ReportgenError(f"{mails} is not there. Give an mbox file, a Maildir, or a folder of .eml files.")


def _failures(report: Message) -> Iterator[Bounce]:
    parts = list(report.walk())
    status = next((part for part in parts if part.get_content_type() == "message/delivery-status"), None)
    fields = [block for block in (status.get_payload() if status else ()) if isinstance(block, Message)]
    returned = [part for part in _returned(parts) if part["Message-ID"]]
    told = [block["Original-Message-ID"] for block in fields]
    told += [part["Message-ID"] for part in returned]
    told += f"{report['In-Reply-To'] or ''} {report['References'] or ''}".split()
    message_ids = tuple(dict.fromkeys(str(name).strip() for name in told if name))
    for block in fields:
        if str(block["Action"]).strip().lower() == "failed":
            address = one_line(_value(block, "Original-Recipient") or _value(block, "Final-Recipient"))
            says = " ".join(filter(None, [str(block["Status"] or "").strip(), _value(block, "Diagnostic-Code")]))
            yield Bounce(message_ids, address, one_line(says) or "no reason given")


def _returned(parts: list[Message]) -> Iterator[Message]:
    """The mail that came back, or its header."""
    for part in parts:
        payload = part.get_payload()
        if part.get_content_type() == "message/rfc822" and isinstance(payload, list):
            yield from (inner for inner in payload if isinstance(inner, Message))
        elif part.get_content_type() == "text/rfc822-headers":
            written = part.get_payload(decode=True)
            yield message_from_bytes(written if isinstance(written, bytes) else b"")


def _value(block: Message, field: str) -> str:
    """What stands behind the type in a field such as `rfc822; mara@example.org`."""
    return str(block[field] or "").partition(";")[2].strip()
