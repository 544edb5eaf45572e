"""How the mail about a lesson stands, as the journal has it."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

Standing = Literal["mailed", "written", "bounced", "refused", "in part", "in doubt", "waiting"]
"""Sent to the server, written into the outbox, sent back, refused by the server, refused for some of its addresses,
sent or not, not sent yet."""


@dataclass(frozen=True)
class Mailed:
    """How the mail about `lesson` stands since the day `on` (UTC); `says` names whom it did not reach, and why."""

    lesson: str
    standing: Standing
    on: date
    says: str
