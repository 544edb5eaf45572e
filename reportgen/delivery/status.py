"""How the mail about each student's latest lesson stands, for the instructor's desk."""

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from reportgen.delivery.entry import Entry
from reportgen.delivery.journal import JournalError, read_entries
from reportgen.records.mailed import Mailed, Standing


def delivery_status(entries: Iterable[Entry]) -> Mapping[str, Mailed]:
    """By student, the mail about the latest lesson that has one. A student whom nothing was sent to is not in it."""
    latest: dict[str, Entry] = {}
    for entry in (entry for entry in entries if entry.student and entry.state != "damaged"):
        known = latest.get(entry.student)
        if known is None or (entry.lesson, entry.id) > (known.lesson, known.id):
            latest[entry.student] = entry
    return {name: _delivery(entry) for name, entry in latest.items()}


def mailed_so_far(journal: Path, tell: Callable[[str], None]) -> Mapping[str, Mailed]:
    """How the mail about each student stands by a journal. One that cannot be read, or not in full, is told, and keeps
    nobody from publishing."""
    try:
        known = read_entries(journal)
    except JournalError as error:
        tell(f"The desk says nothing of mail: {error}")
        return {}
    if damaged := [str(entry.id) for entry in known if entry.state == "damaged"]:
        tell(f"The journal of mails is damaged, so the desk says nothing of mail {', '.join(damaged)}.")
    return delivery_status(known)


def _delivery(entry: Entry) -> Mailed:
    return Mailed(entry.lesson, _standing(entry), entry.at.date(), entry.why)


def _standing(entry: Entry) -> Standing:
    if entry.state in ("unknown", "sending"):
        return "in doubt"
    if entry.bounced:
        return "bounced"
    if entry.missed or entry.state == "failed":
        return "in part" if entry.reached else "refused"
    if entry.state == "queued":
        return "waiting"
    return "written" if entry.via == "outbox" else "mailed"
