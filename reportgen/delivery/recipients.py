"""To whom the mail about a lesson goes, as names and addresses that are safe in a header."""

import unicodedata
from dataclasses import dataclass
from datetime import date

from reportgen.errors import ReportgenError
from reportgen.records.academy import ADULT_FROM, Student

_TURN_THE_LINE = frozenset("\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_MAPPED_TWO_WAYS = frozenset("ßς\u200c\u200d")
"""IDNA 2003, which the standard library has, sends these letters to another domain than IDNA 2008 does."""


class NoRecipientError(ReportgenError):
    """Nobody to write to; the message says what to write into student.yaml."""


@dataclass(frozen=True)
class Recipients:
    """Who reads a mail. `guardian` is that adult's name where the student is a minor."""

    name: str
    addresses: tuple[str, ...]
    guardian: str | None = None


def recipients(student: Student, name: str, on: date) -> Recipients:
    """The addresses of the student of the id `name`, or the guardian's alone where the student is a minor on the day
    `on`, that of sending.

    Raises NoRecipientError.
    """
    if student.age_on(on) < ADULT_FROM:
        guardian = student.guardian
        if guardian is None or guardian.mail is None:
            raise NoRecipientError(
                f"{name} is under 18 and has no guardian's address. Write guardian: {{name: ..., mail: ...}}."
            )
        return Recipients(one_line(guardian.name), (address(guardian.mail),), one_line(guardian.name))
    if not student.mail.to:
        raise NoRecipientError(f"{name} has no address. Write mail: [...] into student.yaml.")
    return Recipients(one_line(student.name), tuple(dict.fromkeys(address(mail) for mail in student.mail.to)))


def one_line(text: str) -> str:
    """`text` as it may stand in a header: one line, nothing that a mail reader obeys or decodes.

    The mark of an encoded word (RFC 2047) is broken up: what is written by a person is text, never code.
    """
    kept = "".join(" " if unicodedata.category(s) in ("Cc", "Zl", "Zp") else s for s in text if s not in _TURN_THE_LINE)
    return " ".join(kept.replace("=?", "= ?").split())


def address(written: str) -> str:
    """A mail address with its domain in ASCII (RFC 5890); the part before the @ stays as it is written.

    Raises NoRecipientError where it cannot stand in a header, or where its domain could be read as two.
    """
    local, _, domain = written.rpartition("@")
    unfit = any(
        not sign.isprintable() or sign.isspace() or sign in '()<>[]:;@\\,"' for sign in written.replace("@", "", 1)
    )
    if not local or unfit or local.startswith(".") or local.endswith(".") or ".." in local:
        raise NoRecipientError(f"{written!r} is not an address that mail can go to. Write it as mara@example.org.")
    if _MAPPED_TWO_WAYS & set(domain):
        raise NoRecipientError(f"the domain of {written!r} can be read in two ways. Write it in its form with xn--.")
    try:
        return f"{local}@{domain.encode('idna').decode('ascii').lower()}"
    except UnicodeError:
        raise NoRecipientError(
            f"{written!r} has no domain that mail can go to. Look at what stands after the @."
        ) from None


def domain_of(mail: str) -> str:
    """What stands after the @."""
    return mail.rpartition("@")[2]
