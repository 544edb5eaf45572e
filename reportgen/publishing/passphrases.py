"""Passphrases: made for members, asked of the instructor."""

import os
import re
import secrets
import unicodedata
from collections.abc import Callable
from functools import cache
from importlib.resources import files
from pathlib import Path

from reportgen.errors import ReportgenError

WORDS = 6
"""Words of a member's passphrase: each of 7776, together 77.5 bits."""

SHORTEST = 12
"""Signs that the instructor's own passphrase has at least."""

VARIABLE, FILE_VARIABLE = "REPORTGEN_PASSPHRASE", "REPORTGEN_PASSPHRASE_FILE"


class NoPassphraseError(ReportgenError):
    """The instructor's passphrase cannot be had; the message says why."""


@cache
def word_list() -> tuple[str, ...]:
    """The long list of the Electronic Frontier Foundation (2016), one word for each throw of five dice."""
    lines = (files("xkcdpass") / "static" / "eff-long").read_text(encoding="utf-8").split()
    return tuple(sorted(set(lines)))


def new_passphrase() -> str:
    """WORDS words, each as likely as every other."""
    return " ".join(secrets.choice(word_list()) for _ in range(WORDS))


def as_typed(passphrase: str) -> str:
    """A member's passphrase however it was typed: small letters, one space where anything else stands between."""
    return re.sub(r"[^a-z0-9]+", " ", unicodedata.normalize("NFKC", passphrase).lower()).strip()


def instructors_passphrase(ask: Callable[[], str] | None) -> str:
    """From the environment, from the file that the environment names, or asked for; `ask` is None where nobody is
    there to answer. Raises NoPassphraseError."""
    given = os.environ.get(VARIABLE)
    if given is None and (file := os.environ.get(FILE_VARIABLE)):
        try:
            given = Path(file).read_text(encoding="utf-8").rstrip("\r\n")
        except (OSError, UnicodeError):
            raise NoPassphraseError(f"{FILE_VARIABLE} names {file}, which cannot be read.") from None
    if given is None and ask is not None:
        given = ask()
    if given is None:
        raise NoPassphraseError(
            f"The keyring needs your passphrase. Set {VARIABLE}, or {FILE_VARIABLE} to a file that holds it."
        )
    return given
