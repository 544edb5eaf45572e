"""How values, ranges, verdicts and dates read in a sentence: the one place that turns numbers into words."""

from datetime import date

from reportgen.records.content import SignWords
from reportgen.records.words import Moment, Verdict

MINUS = "−"
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")

SHAPES: dict[Verdict, str] = {
    "in range": "●",
    "above range": "▲",
    "below range": "▼",
    "too close to call": "◇",
    "no range": "·",
}
"""A verdict is never colour alone: this shape goes with its word."""

MOMENT_NAMES: dict[Moment, str] = {
    "setup": "Setup",
    "takeaway": "Takeaway",
    "top": "Top",
    "transition": "Transition",
    "delivery": "Delivery",
    "impact": "Impact",
    "finish": "Finish",
    "whole-swing": "Whole swing",
}

HOW_NAMES = {
    ("by-eye", 1): "by eye",
    ("by-eye", 2): "by eye",
    ("still", 1): "from one picture",
    ("still", 2): "from two pictures",
    ("sensor", 1): "by a sensor",
    ("sensor", 2): "by a sensor",
}


def number(value: float, decimals: int) -> str:
    """`value` with that many decimals, a true minus sign, and never a negative zero."""
    text = f"{value:.{decimals}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", MINUS)


def unit_mark(unit: str) -> str:
    """What stands behind a number: `°` without a space, other units after a no-break space, nothing for a ratio."""
    if unit == "deg":
        return "°"
    return "" if unit == "1" else f"\u00a0{unit}"


def amount(value: float, unit: str, decimals: int, sign: SignWords | None = None) -> str:
    """A value as it is said: `62° open`, `2.1 cm`, `−0.4 cm`. With sign words the number carries no sign."""
    shown = number(value, decimals)
    if sign is None:
        return shown + unit_mark(unit)
    word = sign.minus if shown.startswith(MINUS) else sign.plus
    text = shown.lstrip(MINUS) + unit_mark(unit)
    return text if float(shown.replace(MINUS, "-")) == 0 else f"{text} {word}"


def limits(low: float | None, high: float | None, unit: str, decimals: int, sign: SignWords | None = None) -> str:
    """A range as it is said: `35° to 55° open`, `up to 4 cm`, `23° or more`, `at most 5° closed`."""
    if low is None and high is None:
        raise ValueError("a range has at least one limit")
    decimals = max(_decimals_used(low, decimals), _decimals_used(high, decimals))
    if low is None or high is None:
        return _one_sided(low, high, unit, decimals, sign)
    if sign is None:
        first = number(low, decimals) + ("°" if unit == "deg" else "")
        return f"{first} to {amount(high, unit, decimals)}"
    same_side = (low >= 0) == (high >= 0)
    first = amount(low, unit, decimals, None if same_side else sign)
    if same_side:
        first = first.lstrip(MINUS).removesuffix("" if unit == "deg" else unit_mark(unit))
    return f"{first} to {amount(high, unit, decimals, sign)}"


def _one_sided(low: float | None, high: float | None, unit: str, decimals: int, sign: SignWords | None) -> str:
    limit = (low if high is None else high) or 0.0
    said = amount(limit, unit, decimals, sign)
    if sign is not None and limit < 0:  # said with the minus word, more of it is further down
        return f"{said} or more" if low is None else f"at most {said}"
    return f"up to {said}" if low is None else f"{said} or more"


def _decimals_used(limit: float | None, at_most: int) -> int:
    """The fewest decimals that show `limit` as it stands, so that 0 to 4 cm does not read 0.0 to 4.0 cm."""
    if limit is None:
        return 0
    return next((d for d in range(at_most) if round(limit, d) == round(limit, at_most)), at_most)


def size(value: float, unit: str, decimals: int) -> str:
    """The size of a change, without a sign: `17°`, `1.2 cm`."""
    return number(abs(value), decimals) + unit_mark(unit)


def day(of: date) -> str:
    """`5 March`."""
    return f"{of.day} {_MONTHS[of.month - 1]}"


def full_day(of: date) -> str:
    """`5 March 2026`."""
    return f"{day(of)} {of.year}"


def past_day(of: date, today: date) -> str:
    """`5 August` in the same year, `5 August 2025` in another."""
    return day(of) if of.year == today.year else full_day(of)


def weekday(of: date) -> str:
    """`Thursday`."""
    return _WEEKDAYS[of.weekday()]


def short_day(of: date) -> str:
    """`5 Mar`, for chart axes."""
    return f"{of.day} {_MONTHS[of.month - 1][:3]}"


def listed(words: list[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else ""


def club_name(club: str) -> str:
    """`7-iron` as it is, `sand-wedge` as `sand wedge`, `no-club` as `no club`."""
    return club if club[0].isdigit() else club.replace("-", " ")
