"""How the mail about each student's latest lesson stands, for the instructor's desk."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from reportgen.delivery.journal import Entry

Standing = Literal["mailed", "written", "bounced", "refused", "in doubt", "waiting"]


@dataclass(frozen=True)
class Delivery:
    """How the mail about `lesson` stands since the day `on` (UTC); `says` gives the reason where it did not arrive."""

    lesson: str
    standing: Standing
    on: date
    says: str


def delivery_status(entries: Iterable[Entry]) -> Mapping[str, Delivery]:
    """By student, the mail about the latest lesson that has one. A student whom nothing was sent to is not in it."""
    latest: dict[str, Entry] = {}
    for entry in entries:
        known = latest.get(entry.student)
        if known is None or (entry.lesson, entry.id) > (known.lesson, known.id):
            latest[entry.student] = entry
    return {name: _delivery(entry) for name, entry in latest.items()}


def _delivery(entry: Entry) -> Delivery:
    says = "; ".join(f"{address}: {why}" for address, why in entry.bounces.items()) or entry.says
    return Delivery(entry.lesson, _standing(entry), entry.at.date(), says)


def _standing(entry: Entry) -> Standing:
    if entry.bounces:
        return "bounced"
    if entry.state == "sent":
        return "written" if entry.via == "outbox" else "mailed"
    if entry.state == "failed":
        return "refused"
    return "waiting" if entry.state == "queued" else "in doubt"
