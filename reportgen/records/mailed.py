"""How the mail about a lesson stands, as the journal has it."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

Standing = Literal["mailed", "written", "bounced", "refused", "in doubt", "waiting"]
"""Sent to the server, written into the outbox, sent back, refused by the server, sent or not, not sent yet."""


@dataclass(frozen=True)
class Mailed:
    """How the mail about `lesson` stands since the day `on` (UTC); `says` gives the reason where it did not arrive."""

    lesson: str
    standing: Standing
    on: date
    says: str
