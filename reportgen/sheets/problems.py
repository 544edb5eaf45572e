"""A problem: faulty input, with its place and how to mend it."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from unicodedata import normalize


@dataclass(frozen=True, order=True)
class Problem:
    """What is wrong in one file of the academy.

    `path` is relative to the academy folder (or begins with `content/` for the shipped library); `line` and `column`
    count from 1.
    """

    path: str
    line: int
    column: int
    wrong: str
    mend: str

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}: {self.wrong}. {self.mend}"


_UNPRINTABLE = re.compile("[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
"""Signs that a terminal acts upon, or by which a line reads otherwise than it is written."""

_OTHER = {"left": "right", "right": "left"}


def shown(written: str) -> str:
    """A name from outside as it is told: on one line, not too long, and free of signs that a screen cannot print."""
    clean = _UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", written)
    return clean if len(clean) <= 60 else clean[:59] + "…"


def shown_line(said: str) -> str:
    """A sentence that quotes something from outside, on one line and free of signs that a screen cannot print."""
    return _UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", said)[:300]


def is_hidden(path: str) -> bool:
    """Whether a path leads through a name that systems and editors keep to themselves: what changes there, a publish
    does not look at."""
    parts = [part for part in path.replace("\\", "/").split("/") if part not in ("", ".", "..")]
    return any(part.startswith(".") or part.endswith("~") for part in parts)


def nearest(written: str, known: Iterable[str], otherwise: str | None = None) -> str:
    """The mend for a misspelt name: the nearest valid one, or `otherwise` (by default the names there are, in the order
    of `known` where it has one)."""
    names = list(known) if isinstance(known, Sequence) else sorted(known)
    side, _, part = written.partition("-")
    if side in _OTHER and {f"lead-{part}", f"trail-{part}"} <= set(names):
        told = f"{side} is lead for who plays {_OTHER[side]}-handed, and trail for who plays {side}-handed"
        return f"Write lead-{part} or trail-{part}: {told}."
    small = written[:100].lower()
    close = get_close_matches(small, names, n=1, cutoff=0.6) or [name for name in names if small.startswith(name)]
    if len(close) == 1:
        return f"Did you mean {close[0]}?"
    if otherwise is not None:
        return otherwise
    shown = names if len(names) <= 24 else [*names[:24], "..."]
    return f"Known here: {', '.join(shown)}." if names else "Nothing is known here yet."


_OTHER_UNITS: dict[str, str] = {
    **dict.fromkeys(("°", "º", "degree", "degrees", "grad", "degré", "degrés"), "deg"),
    **dict.fromkeys(("meter", "meters", "metre", "metres", "mètre", "mètres"), "m"),
    **dict.fromkeys(("yard", "yards", "yds"), "yd"),
    **dict.fromkeys(("inch", "inches", "zoll", "pouce", "pouces", '"', "″"), "in"),
    **dict.fromkeys(("foot", "feet", "fuß", "pied", "pieds", "'", "′"), "ft"),
    **dict.fromkeys(("prozent", "pour cent", "pct"), "percent"),
    **dict.fromkeys(("kmh", "kph", "kmph"), "km/h"),
}
"""Other signs and names of units, in small letters."""


def nearest_unit(written: str, known: Iterable[str]) -> str:
    """The mend for a unit that is not known: the one that is meant, or the nearest by its letters."""
    meant = _OTHER_UNITS.get(written.strip().lower())
    return f"Write {meant}." if meant is not None else nearest(written, known)


def as_an_id(written: str) -> str | None:
    """The id that a name or a title becomes: `Coin under the trail heel` is coin-under-the-trail-heel; None where
    nothing is left of it."""
    plain = normalize("NFKD", written[:200]).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or None
