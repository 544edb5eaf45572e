"""How the mail about each student's latest lesson stands, for the instructor's desk."""

from collections.abc import Iterable, Mapping

from reportgen.delivery.entry import Entry
from reportgen.records.mailed import Mailed, Standing


def delivery_status(entries: Iterable[Entry]) -> Mapping[str, Mailed]:
    """By student, the mail about the latest lesson that has one. A student whom nothing was sent to is not in it."""
    latest: dict[str, Entry] = {}
    for entry in (entry for entry in entries if entry.student and entry.state != "damaged"):
        known = latest.get(entry.student)
        if known is None or (entry.lesson, entry.id) > (known.lesson, known.id):
            latest[entry.student] = entry
    return {name: _delivery(entry) for name, entry in latest.items()}


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
