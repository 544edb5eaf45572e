"""A cell of a table -> a number, as devices and spreadsheets write it; never a guess.

A comma or point before three digits can part decimals or thousands: `2,845`. The other cells of the table decide, and
where they do not, the cell is refused.
"""

import re
from collections.abc import Callable, Iterable

from reportgen.records.units import UNITS, convertible
from reportgen.sheets.problems import shown

LONGEST = 40
"""Signs of a cell that can be a number, with unit and letter."""

_PLAIN = re.compile(r"[+-]?[0-9]{0,9}(?:\.(?:[0-9]{1,2}|[0-9]{4,12})|[0-9])")
"""Nearly all cells; three decimals could be thousands."""
_STEPS = tuple(10.0**-places for places in range(LONGEST))
_WRITTEN = re.compile(r"([RLrl])?\s*([-+\u2212\u2013])?\s*([.,]?[0-9](?:[0-9.,'\u2019\s]*[0-9])?)\s*(\D*)")
_GROUP = re.compile(r"[\s'\u2019]")
_IN_GROUPS = re.compile(r"[0-9]{1,3}(?:[\s'\u2019][0-9]{3})+(?:[.,][0-9]+)?")
_EITHER = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_DECIMAL = re.compile(r"[0-9]*[.,]?[0-9]+")
_BOTH = re.compile(r"[0-9]{1,3}(?:(?:,[0-9]{3})+(?:\.[0-9]+)?|(?:\.[0-9]{3})+(?:,[0-9]+)?)")

_DIGITS = "0123456789"
BLANK = frozenset(("", "-", "--", "\u2013", "\u2014", "n/a", "na", "nan", "null", "none"))
"""What devices write into a cell for which they have nothing, in small letters."""

_UNITS_AS_WRITTEN = {
    "°": "deg", "º": "deg", "degree": "deg", "degrees": "deg", "yds": "yd", "yard": "yd", "yards": "yd", "feet": "ft",
    "foot": "ft", "inch": "in", "inches": "in", "meter": "m", "meters": "m", "metre": "m", "metres": "m", "kmh": "km/h",
    "kph": "km/h", "mps": "m/s", "1/min": "rpm",
}  # fmt: skip


MEND = "Write the number, or leave the cell empty."


class CellError(ValueError):
    """A cell is no number that can be read: (what is wrong, how to mend it)."""


def is_blank(cell: str) -> bool:
    """Whether a cell holds nothing, or a sign for it."""
    return not cell or (cell[-1] not in _DIGITS and cell.lower() in BLANK)


def number_of(cell: str, unit: str, decimal: Callable[[], str]) -> tuple[float, float, str]:
    """The number of a cell whose column is in `unit`, the step of its last decimal, and `R` or `L` where a letter tells
    its side, else "". `decimal` gives the sign before decimals, "" where it is not
    known, and is asked only where a cell can be read in two ways. Raises CellError."""
    if _PLAIN.fullmatch(cell):
        return float(cell), _step(cell), ""
    match = _WRITTEN.fullmatch(cell) if len(cell) <= LONGEST else None
    if match is None:
        raise CellError(f"{shown(cell)!r} is no number", MEND)
    before, sign, digits, rest = match.groups()
    letter, rest = _letter(before, rest)
    _same_unit(cell, rest, unit)
    plain = _plain(digits, unit, decimal)
    if plain is None:
        raise CellError(f"{shown(cell)!r} is no number", MEND)
    if letter and sign:
        raise CellError(f"{shown(cell)!r} has a sign and a letter for its side", "Keep one of the two.")
    return (1.0 if sign in (None, "+") else -1.0) * float(plain), _step(plain), letter


def _step(plain: str) -> float:
    """The step of the last decimal of a number with a decimal point, or none."""
    return _STEPS[len(plain) - 1 - plain.index(".")] if "." in plain else 1.0


def decimal_sign(cells: Iterable[str]) -> str:
    """The sign before decimals in the cells of one table, by those that can be read in one way only; "" where there
    are none, or where they differ."""
    seen: set[str] = set()
    for cell in cells:
        match = _WRITTEN.fullmatch(cell) if len(cell) <= LONGEST else None
        digits = _GROUP.sub("", match[3]) if match else ""
        if match is None or _EITHER.fullmatch(digits):
            continue
        if _DECIMAL.fullmatch(digits):
            seen.update(sign for sign in digits if sign in ".,")
        elif _BOTH.fullmatch(digits):
            parted = max(digits.rfind("."), digits.rfind(","))
            both = "." in digits and "," in digits
            seen.add(digits[parted] if both else ("," if digits[parted] == "." else "."))
    return seen.pop() if len(seen) == 1 else ""


def unit_in(text: str) -> str | None:
    """The unit that a cell or the line below a heading names, in brackets or not; None where it names none."""
    bare = text.strip(" []()").lower()
    written = _UNITS_AS_WRITTEN.get(bare, bare)
    return written if written in UNITS and written != "1" else None


def _letter(before: str | None, rest: str) -> tuple[str, str]:
    """The letter for a side, before or behind the number, and what is left behind."""
    rest = rest.strip()
    if before:
        return before.upper(), rest
    if rest[-1:] in ("R", "L", "r", "l") and not rest[-2:-1].isalpha():
        return rest[-1].upper(), rest[:-1].strip()
    return "", rest


def _same_unit(cell: str, rest: str, unit: str) -> None:
    if not rest:
        return
    written = unit_in(rest)
    if written is None:
        raise CellError(f"{shown(cell)!r} is no number", MEND)
    if written != unit and not (convertible(written, unit) and UNITS[written] == UNITS[unit]):
        wrong = f"{shown(cell)!r} is in {written}, and the map says that the column is in {unit}"
        raise CellError(wrong, "Correct unit: in columns, or the cell.")


def _plain(digits: str, unit: str, decimal: Callable[[], str]) -> str | None:
    """The digits with a decimal point and nothing between thousands; None where they are no number."""
    if _GROUP.search(digits):
        if not _IN_GROUPS.fullmatch(digits):
            return None
        return _GROUP.sub("", digits).replace(",", ".")
    if _EITHER.fullmatch(digits):
        parts, sign = "," if "," in digits else ".", decimal()
        if not sign and (parts == "," or unit == "rpm"):
            wrong = f"{digits!r} can be read in two ways, and no other cell of the table tells which"
            mend = f"Write {digits.replace(parts, '')} or {digits.replace(parts, '.')}0."
            raise CellError(wrong, mend)
        return digits.replace(parts, ".") if sign in ("", parts) else digits.replace(parts, "")
    if _DECIMAL.fullmatch(digits):
        return digits.replace(",", ".")
    if _BOTH.fullmatch(digits):
        parted = max(digits.rfind("."), digits.rfind(","))
        if "." in digits and "," in digits:
            return digits[:parted].replace(".", "").replace(",", "") + "." + digits[parted + 1 :]
        return digits.replace(".", "").replace(",", "")
    return None
