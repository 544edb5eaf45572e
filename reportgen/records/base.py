"""What every record shares: frozen, no unknown keys, texts without stray white space."""

import re
from collections.abc import Mapping
from datetime import date
from typing import Annotated, Any, ClassVar

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints, WithJsonSchema

from reportgen.records.bounds import LETTER, LINE, NAME, PIXELS, TEXT, UNIT
from reportgen.records.units import UNITS

_DEVICES = frozenset(("con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))))


def is_a_device(name: str) -> bool:
    """Whether Windows takes a name, in small letters, for a device: no file there can be called so, with any ending."""
    return name in _DEVICES


def _no_device(name: str) -> str:
    if is_a_device(name):
        raise ValueError("is a name that Windows keeps for a device", f"Choose a longer one, as in {name}-a.")
    return name


Slug = Annotated[
    str,
    StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=NAME),
    AfterValidator(_no_device),
    Field(description="an id of small letters, digits and hyphens, as in side-bend-impact"),
]

_PRINTABLE = r"^[^\x00-\x08\x0b\x0c\x0e-\x1f]*$"

Text = Annotated[str, StringConstraints(min_length=1, max_length=TEXT, pattern=_PRINTABLE)]
"""A text of some sentences, over several lines too."""
Letter = Annotated[str, StringConstraints(min_length=1, max_length=LETTER, pattern=_PRINTABLE)]
"""A text of any length that a person reads at one go."""

Line = Annotated[
    str,
    StringConstraints(min_length=1, max_length=LINE, pattern=r"^[^\n\r\x00-\x1f]*$"),
    Field(description="one line of text"),
]

_Side = Annotated[float, Field(ge=-PIXELS, le=PIXELS)]
Pixel = Annotated[tuple[_Side, _Side], Field(description="x to the right, y down, from the top left corner")]

UnitName = Annotated[str, StringConstraints(max_length=UNIT), WithJsonSchema({"type": "string", "enum": list(UNITS)})]
"""A unit; whether it is known, and fits what is measured, is looked at where both are known."""

_DAY = r"^(19|20)\d\d-\d\d-\d\d$"


_OTHER_DAY = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2((?:19|20)\d\d)")
"""A day before its month, or the other way about."""


def _mend_of_a_day(written: str) -> str:
    """With the day that must be meant: with points the day stands first, with strokes the one above 12 is the day."""
    found = _OTHER_DAY.fullmatch(written.strip())
    if found is not None:
        first, second, year = int(found[1]), int(found[3]), found[4]
        day, month = (second, first) if found[2] != "." and second > 12 else (first, second)
        if month <= 12 and day <= 31 and (found[2] == "." or day > 12):
            return f"Write {year}-{month:02}-{day:02} (year, month, day)."
    return "Write it as 2026-03-05 (year, month, day)."


def _read_day(written: Any) -> Any:
    if not isinstance(written, str):
        return written
    if not re.match(_DAY, written):
        raise ValueError("is not a date", _mend_of_a_day(written))
    try:
        return date.fromisoformat(written)
    except ValueError:
        raise ValueError("is no day of the calendar", "Look at its month and day.") from None


Day = Annotated[
    date,
    BeforeValidator(_read_day, json_schema_input_type=Annotated[str, StringConstraints(pattern=_DAY)]),
    Field(description="a day, as 2026-03-05"),
]


class Record(BaseModel):
    """Base of all records: plain values that never change after they are made.

    A check of our own raises `ValueError(wrong, mend)`: what is wrong with the value, without its name, and how to
    mend it.
    """

    GONE: ClassVar[Mapping[str, str]] = {}
    """Keys of earlier editions that mean nothing any more, and what to do about each."""

    model_config = ConfigDict(
        frozen=True,
        defer_build=True,
        extra="forbid",
        str_strip_whitespace=True,
        allow_inf_nan=False,
        populate_by_name=True,
    )
