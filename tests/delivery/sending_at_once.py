"""Sends prepared letters without a pause, and tells how they stand in the journal."""

import sqlite3
from collections.abc import Callable

from reportgen.delivery.letter import Letter
from reportgen.delivery.rows import entries
from reportgen.delivery.sending import Pace, send_all
from reportgen.delivery.server import Server

AT_ONCE = Pace(per_minute=1e6, back_off=(0.0, 0.0, 0.0))
Queued = Callable[[list[Letter]], list[Letter]]


def states(journal: sqlite3.Connection) -> list[str]:
    return [entry.state for entry in entries(journal)]


def sent(mails: list[Letter], server: Server, journal: sqlite3.Connection) -> list[str]:
    """Send, and give what was told."""
    told: list[str] = []
    send_all(mails, server, journal, AT_ONCE, told.append)
    return told
