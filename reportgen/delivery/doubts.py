"""Mails of which nobody knows whether they arrived, and a person's word on each outside a run of `send`."""

from datetime import UTC, datetime
from pathlib import Path

from reportgen.delivery.choosing import Answers, answered
from reportgen.delivery.entry import Entry
from reportgen.delivery.journal import open_journal, read_entries
from reportgen.delivery.rows import entries, put
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import say


def in_doubt(journal_file: Path) -> tuple[Entry, ...]:
    """The mails that may have arrived, the oldest first, without those about somebody who was forgotten. Raises
    JournalError."""
    known = read_entries(journal_file)
    return tuple(entry for entry in known if entry.student and entry.state in ("unknown", "sending"))


def settle(journal_file: Path, mail: int, *, arrived: bool) -> None:
    """Keep a person's word on a mail in doubt: it arrived, or it goes again with the next run of `send`. Raises
    ReportgenError where there is no doubt about that mail, or another run has the journal open."""
    told = frozenset({mail})
    answers = Answers(arrived=told) if arrived else Answers(resend=told)
    with open_journal(journal_file) as journal:
        before = entries(journal)
        if not any(entry.id == mail and entry.state == "unknown" for entry in before):
            raise ReportgenError(say("There is no doubt about mail {mail} any more. Load the page again.", mail=mail))
        put(journal, next(entry for entry in answered(before, answers, datetime.now(UTC)) if entry.id == mail))
