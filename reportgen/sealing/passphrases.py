"""Passphrases: made for members, asked of the instructor."""

import os
import re
import secrets
import unicodedata
from collections.abc import Callable
from pathlib import Path

from reportgen.errors import ReportgenError

SIGNS = "234679cdfghjkmnpqrtvwx"
"""What a member's passphrase is made of: no two look alike in print, and without vowels no word comes about by chance
that nobody would hand to a child."""

GROUPS, IN_A_GROUP = 6, 3
"""Groups and signs in each: 18 signs of 22 kinds, 80.3 bits. Threes are easy to read aloud and to type."""

SHORTEST = 12
"""Signs that the instructor's own passphrase has at least."""

VARIABLE, FILE_VARIABLE = "REPORTGEN_PASSPHRASE", "REPORTGEN_PASSPHRASE_FILE"


class NoPassphraseError(ReportgenError):
    """The instructor's passphrase cannot be had; the message says why."""


def new_passphrase() -> str:
    """Groups of signs, each sign as likely as every other."""
    return " ".join("".join(secrets.choice(SIGNS) for _ in range(IN_A_GROUP)) for _ in range(GROUPS))


def as_typed(passphrase: str) -> str:
    """A member's passphrase however it was typed: small letters and digits, nothing between them."""
    return re.sub(r"[^a-z0-9]+", "", unicodedata.normalize("NFKC", passphrase).lower())


def instructors_passphrase(ask: Callable[[], str] | None) -> str:
    """From the environment, from the file that the environment names, or asked for; `ask` is None where nobody is
    there to answer. Raises NoPassphraseError."""
    given = os.environ.get(VARIABLE)
    if given is None and (file := os.environ.get(FILE_VARIABLE)):
        try:
            given = Path(file).read_text(encoding="utf-8-sig").rstrip("\r\n")
        except (OSError, UnicodeError):
            raise NoPassphraseError(f"{FILE_VARIABLE} names {file}, which cannot be read.") from None
    if given is None and ask is not None:
        given = ask()
    if given is None:
        raise NoPassphraseError(
            f"The keyring needs your passphrase. Set {VARIABLE}, or {FILE_VARIABLE} to a file that holds it."
        )
    return given
