"""The journal as version 1 of the program's had it, with the whole report of each mail."""

import json
import sqlite3
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from reportgen.delivery.entry import Entry, Reach, Reached
from reportgen.records.as_mailed import AsMailed, MailedValue

_COLUMNS = "id, student, lesson, revision, message_id, addresses, report, corrects, state, via, at, says, bounces"


def entries(journal: sqlite3.Connection) -> tuple[Entry, ...]:
    """All mails of a journal of version 1, the oldest first."""
    rows = journal.execute(f"SELECT {_COLUMNS} FROM mail ORDER BY id").fetchall()  # noqa: S608  only our own names
    return tuple(map(_entry, rows))


def _entry(row: Sequence[Any]) -> Entry:
    number, student, lesson, revision, message_id, addresses, report, corrects, state, via, at, says, bounces = row
    came_back = json.loads(bounces)
    by_server = says if via == "smtp" else ""
    reach = {address: _reach(address, state, by_server) for address in json.loads(addresses)}
    reach |= {address: Reach("bounced", why) for address, why in came_back.items()}
    facts, when, said = _as_mailed(report), datetime.fromisoformat(at), "" if via == "smtp" else says
    return Entry(number, student, lesson, revision, message_id, reach, facts, corrects, state, via, when, said)


def _reach(address: str, state: Reached, by_server: str) -> Reach:
    """How a mail stands with an address; one whom the server would not take it for is named in its words."""
    _, named, why = by_server.partition(f"not to {address}: ")
    return Reach("failed", why.partition("; not to ")[0]) if named else Reach(state, by_server)


def _as_mailed(report: str) -> AsMailed | None:
    """What is kept of a whole report; None where this program cannot read it."""
    try:
        found = json.loads(report)
        values = {f["metric"]: MailedValue(f["verdict"], float(f["value"]), str(f["unit"])) for f in found["findings"]}
        return AsMailed(bool(found["stopped"]), {}, values)
    except (ValueError, TypeError, KeyError):
        return None
