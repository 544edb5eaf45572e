"""Cells of a table of shots -> what they say in our words, units and signs."""

import re
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, NamedTuple, get_args

from reportgen.records.shot_table import WORDS
from reportgen.records.tables import ColumnOf
from reportgen.records.units import UNITS, convert
from reportgen.records.words import Plus, Result, Side, SpinSource, Surface
from reportgen.sheets.cells import MEND, CellError, number_of
from reportgen.sheets.problems import shown

_TO_THE_RIGHT: Mapping[Plus, float] = {"right of target": 1.0, "left of target": -1.0, "letters R and L": 1.0}
_BY_THE_PLAYER: Mapping[Plus, float] = {
    "trail side": 1.0,
    "lead side": -1.0,
    "toward the toe": 1.0,
    "toward the heel": -1.0,
}
_WORDS_OF: Mapping[str, Any] = {"surface": Surface, "spin-source": SpinSource, "result": Result}
_CLUB = re.compile(r"driver|[2-9]-wood|[1-7]-hybrid|[1-9]-iron|(pitching|gap|sand|lob)-wedge|putter|no-club")
_KINDS = {"w": "wood", "h": "hybrid", "hy": "hybrid", "i": "iron", "wood": "wood", "hybrid": "hybrid", "iron": "iron"}
_WEDGES = {"pw": "pitching-wedge", "gw": "gap-wedge", "aw": "gap-wedge", "sw": "sand-wedge", "lw": "lob-wedge"}
_NUMBERED = re.compile(r"(\d)[ -]?([a-z]+)|([a-z]+)[ -]?(\d)")
_DAYS = (re.compile(r"(\d{4})-(\d\d)-(\d\d)(?:[ T].*)?"), re.compile(r"(\d\d?)\.(\d\d?)\.(\d{4})(?: .*)?"))


class Column(NamedTuple):
    """A column of a table: where it stands, the word for what it holds and the field of a shot for it; of numbers the
    unit they are written in, how many of the word's unit one of it is, and the sign that turns plus to ours."""

    at: int
    word: str
    field: str
    of: ColumnOf
    unit: str = ""
    factor: float = 1.0
    turn: float = 1.0


def column(at: int, word: str, of: ColumnOf, plays: Side) -> Column:
    """How the column at `at` is read, for a player of that hand."""
    field = word.replace("-", "_")
    if word not in WORDS:
        return Column(at, word, field, of)
    unit = of.unit or WORDS[word].unit
    return Column(at, word, field, of, unit, convert(1.0, unit, WORDS[word].unit), turn_of(of.plus, plays))


def turn_of(plus: Plus | None, plays: Side) -> float:
    """The sign that turns a column's plus to the trail side, or toward the toe. A side that is said by the target
    turns with the hand; one that is said by the player, or by the face, does not."""
    if plus is None:
        return 1.0
    if plus in _BY_THE_PLAYER:
        return _BY_THE_PLAYER[plus]
    return _TO_THE_RIGHT[plus] * (1.0 if plays == "right" else -1.0)


def number_in(cell: str, of: Column, decimal: Callable[[], str]) -> tuple[float, float]:
    """The number of a cell in the word's unit with our sign, and the step of its last decimal. Raises CellError."""
    value, step, letter = number_of(cell, of.unit, decimal)
    if letter or of.of.plus == "letters R and L":
        value = _by_letter(cell, value, letter, of)
    value = value * of.factor * of.turn + 0.0  # no minus before a zero
    _, low, high, _ = WORDS[of.word]
    if not low <= value <= high:
        raise CellError(f"{shown(cell)!r} cannot be right for {of.word}", _within(of))
    return value, step * of.factor


def _by_letter(cell: str, value: float, letter: str, of: Column) -> float:
    """The number with its sign, + to the right, where a letter tells the side."""
    if WORDS[of.word].side != "target":
        raise CellError(f"{shown(cell)!r} is no number", MEND)
    if of.of.plus != "letters R and L":
        wrong = f"{shown(cell)!r} has a letter for its side, and the map does not say so"
        raise CellError(wrong, f"Write plus: letters R and L for {of.word}, or take the letter out.")
    if not letter and value:
        wrong = f"{shown(cell)!r} has no letter for its side, and the map says that a letter tells it"
        raise CellError(wrong, f"Write R or L behind it, or correct plus: of {of.word}.")
    return -value if letter == "L" else value


def _within(of: Column) -> str:
    unit, low, high, _ = WORDS[of.word]
    ends = f"{convert(low, unit, of.unit):.6g} to {convert(high, unit, of.unit):.6g}"
    told = ends if of.unit == "1" else f"{ends} {of.unit}"
    return f"Look at the number and its unit ({told}); leave the cell empty where the device missed it."


def text_of(cell: str, of: Column) -> str:
    """What a cell of words says in ours. Raises CellError."""
    means = {key.casefold(): said for key, said in of.of.means.items()}
    said = means.get(cell.casefold(), cell)
    if of.word == "device":
        return said
    if of.word == "club":
        found, known = club_of(said), "as 7-iron"
    else:
        ours: tuple[str, ...] = get_args(_WORDS_OF[of.word])
        found, known = (said.lower() if said.lower() in ours else None), " or ".join(ours)
    if found is None:
        wrong = f"the {of.word} {shown(cell)!r} is not known"
        raise CellError(wrong, f"Say what it is ({known}): means: {{{shown(cell)}: ...}} in the map for {of.word}.")
    return found


def club_of(written: str) -> str | None:
    """A club by the ways in which it is written everywhere (7-iron, 7 Iron, Iron 7, 7i, PW); None for any other."""
    plain = " ".join(written.lower().replace("-", " ").split())
    plain = _WEDGES.get(plain, plain)
    if match := _NUMBERED.fullmatch(plain):
        number, kind = match[1] or match[4], _KINDS.get(match[2] or match[3], "")
        plain = f"{number}-{kind}"
    plain = plain.replace(" ", "-")
    return plain if _CLUB.fullmatch(plain) else None


def day_of(cell: str) -> date | None:
    """The day that a cell says as 2026-03-05 or 5.3.2026, with or without a time behind it. None for any other form: a
    spreadsheet's serial number has two beginnings, and 05/03/26 is two days or three."""
    for pattern, order in zip(_DAYS, ((1, 2, 3), (3, 2, 1)), strict=True):
        if match := pattern.fullmatch(cell):
            year, month, day = (int(match[part]) for part in order)
            try:
                return date(year, month, day)
            except ValueError:
                return None
    return None


def same_unit(written: str, of: Column) -> bool:
    """Whether a unit named below the heading is that of the map."""
    return written == of.unit or UNITS[written] == UNITS[of.unit]
