"""What is kept of a report whose mail went: enough to say in one line what changed since."""

from collections.abc import Mapping
from dataclasses import dataclass

from reportgen.records.words import Verdict


@dataclass(frozen=True)
class MailedValue:
    """A value in its metric's unit, and its verdict. Of mails of the first edition only the words are known in which it
    was `said`."""

    verdict: Verdict
    value: float | None = None
    unit: str | None = None
    said: str | None = None


@dataclass(frozen=True)
class AsMailed:
    """Whether the report stopped the student, digests of its parts (those that are known), and its values by metric.
    `language` is that of values of which only the words are known."""

    stopped: bool
    parts: Mapping[str, str]
    values: Mapping[str, MailedValue]
    language: str | None = None
