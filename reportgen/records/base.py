"""What every record shares: frozen, no unknown keys, texts without stray white space."""

import re
from datetime import date
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

Slug = Annotated[
    str,
    StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60),
    Field(description="an id of small letters, digits and hyphens, as in side-bend-impact"),
]

Text = Annotated[str, StringConstraints(min_length=1, max_length=20_000, pattern=r"^[^\x00-\x08\x0b\x0c\x0e-\x1f]*$")]

Line = Annotated[
    str,
    StringConstraints(min_length=1, max_length=300, pattern=r"^[^\n\r\x00-\x1f]*$"),
    Field(description="one line of text"),
]

_DAY = re.compile(r"^(19|20)\d\d-\d\d-\d\d$")


def _read_day(written: Any) -> Any:
    if not isinstance(written, str):
        return written
    if not _DAY.match(written):
        raise ValueError("is not a date", "Write it as 2026-03-05 (year, month, day).")
    try:
        return date.fromisoformat(written)
    except ValueError:
        raise ValueError("is no day of the calendar", "Look at its month and day.") from None


Day = Annotated[
    date,
    BeforeValidator(_read_day, json_schema_input_type=str),
    Field(description="a day, as 2026-03-05"),
]


class Record(BaseModel):
    """Base of all records: plain values that never change after they are made.

    A check of our own raises `ValueError(wrong, mend)`: what is wrong with the value, without its name, and how to
    mend it.
    """

    model_config = ConfigDict(
        frozen=True,
        defer_build=True,
        extra="forbid",
        str_strip_whitespace=True,
        allow_inf_nan=False,
        populate_by_name=True,
    )
