"""Whether the secret of an academy is one: nobody may guess it, since the addresses of students' pages come from it."""

from hashlib import sha256
from itertools import pairwise

SHORTEST = 20
"""Signs that a secret has at least, and that it may not only seem to have by repeating fewer."""
DIFFERENT = 8
"""Different signs that it has at least: a phrase of 20 signs has some twelve, 20 random digits have eight or nine."""

ANOTHER_SECRET = "Write a long phrase of your own."  # noqa: S105  the mend of a secret, and none itself
"""The mend of a secret that is none."""

_IN_ROWS = 2 / 3
"""The greatest part of its signs that may follow in a row, as in abcdefgh or 7654321."""

_OF_THE_DEMO = "Lanternfold Golf School"
"""The one academy whose secret may be known: nobody in it exists."""
_SHIPPED = {
    "e118a0a88914c3fe6c591f701c1a251733aba8a0ed3f92d755d6ebe374cb1dca": _OF_THE_DEMO,
    "f8c79d98cca32e8cf438db6f6ea34cb7a11c212452c0d5ab45049562257e3bfc": None,
}
"""SHA-256 of the secrets that are shipped, and whose they may be."""


def secret_fault(secret: str, academy: str) -> str | None:
    """What is wrong with the secret of the `academy` of that name; None where nothing is.

    >>> secret_fault("aaaaaaaaaaaaaaaaaaaaaaaa", "Ours")
    'repeats the same few signs'
    >>> secret_fault("nine words of my own, and a number: 4711", "Ours") is None
    True
    """
    shipped = sha256(secret.encode()).hexdigest()
    if shipped in _SHIPPED and _SHIPPED[shipped] != academy:
        return "is that of the shipped examples, which everybody can read"
    if _period(secret) < SHORTEST or len(set(secret)) < DIFFERENT:
        return "repeats the same few signs"
    steps = [ord(after) - ord(before) for before, after in pairwise(secret)]
    if sum(step in (-1, 0, 1) for step in steps) > _IN_ROWS * len(steps):
        return "is a row of signs that everybody knows"
    return None


def _period(text: str) -> int:
    """Length of the shortest piece of which a text is a repetition, the last one cut off or not."""
    return next(length for length in range(1, len(text) + 1) if text[length:] == text[:-length])
