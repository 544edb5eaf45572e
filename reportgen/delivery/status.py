"""How the mail about each student's latest lesson stands, for the instructor's desk."""

from collections.abc import Iterable, Mapping

from reportgen.delivery.journal import Entry
from reportgen.records.mailed import Mailed, Standing


def delivery_status(entries: Iterable[Entry]) -> Mapping[str, Mailed]:
    """By student, the mail about the latest lesson that has one. A student whom nothing was sent to is not in it."""
    latest: dict[str, Entry] = {}
    for entry in entries:
        known = latest.get(entry.student)
        if known is None or (entry.lesson, entry.id) > (known.lesson, known.id):
            latest[entry.student] = entry
    return {name: _delivery(entry) for name, entry in latest.items()}


def _delivery(entry: Entry) -> Mailed:
    says = "; ".join(f"{address}: {why}" for address, why in entry.bounces.items()) or entry.says
    return Mailed(entry.lesson, _standing(entry), entry.at.date(), says)


def _standing(entry: Entry) -> Standing:
    if entry.bounces:
        return "bounced"
    if entry.state == "sent":
        return "written" if entry.via == "outbox" else "mailed"
    if entry.state == "failed":
        return "refused"
    return "waiting" if entry.state == "queued" else "in doubt"
