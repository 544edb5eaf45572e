"""What is kept of a report whose mail went: enough to say in one line what changed since."""

from collections.abc import Mapping
from dataclasses import dataclass

from reportgen.records.words import Verdict


@dataclass(frozen=True)
class MailedValue:
    """Where the player was said to be, in the metric's unit, and the verdict. Mails of the first edition told one
    lesson's own number, which is another thing: of them the verdict alone is known."""

    verdict: Verdict
    value: float | None = None
    unit: str | None = None


@dataclass(frozen=True)
class AsMailed:
    """Whether the report stopped the student, digests of its parts (those that are known), and its values by metric."""

    stopped: bool
    parts: Mapping[str, str]
    values: Mapping[str, MailedValue]
