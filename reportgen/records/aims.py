"""What the lessons are for, as a person writes it: the goal, the next lesson, the rounds that were played."""

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, StringConstraints

from reportgen.records.base import Day, Line, Record
from reportgen.records.bounds import LONGEST_LESSON, NAME
from reportgen.records.words import Skill

_CLOCK = r"([01]?\d|2[0-3]):([0-5]\d)"


def _read_clock(written: Any) -> Any:
    if not isinstance(written, str):
        return written
    found = re.fullmatch(_CLOCK, written.strip())
    if found is None:
        raise ValueError("is no time of day", 'Write it as "17:30" (hours 0 to 23, minutes; in quotes).')
    return f"{int(found[1]):02}:{found[2]}"


ClockTime = Annotated[
    str,
    BeforeValidator(_read_clock, json_schema_input_type=Annotated[str, StringConstraints(pattern=f"^{_CLOCK}$")]),
    Field(description="a time of day, as 17:30, in quotation marks"),
]
"""Hours and minutes in two digits each, as the academy's clocks show them."""


def _read_holes(written: Any) -> Any:
    if not isinstance(written, str):
        return written
    if written not in ("9", "18"):
        raise ValueError("is neither 9 nor 18", "Write the number of holes that were played, 9 or 18.")
    return int(written)


Holes = Annotated[Literal[9, 18], BeforeValidator(_read_holes, json_schema_input_type=Literal[9, 18])]

Handicap = Annotated[
    str,
    StringConstraints(min_length=1, max_length=NAME, pattern=r"^[^\n\r\x00-\x1f]*$"),
    Field(description="a handicap, as the student says it"),
]
"""A text, printed as it is: to compute one belongs to a rating body."""

_HIGHEST = 54
"""No handicap is higher, so a larger number in the text is something else, a year say."""
_LOW, _HIGH = 5, 20
"""Up to the one a player is practised, from the other on not yet (common practice, no source)."""


def skill_by(handicap: Handicap | None) -> Skill | None:
    """How practised somebody is who says this of their handicap: by the first number in it that can be one. `+2` is
    better than 0. None where it has no such number."""
    said = re.findall(r"([+\-−]?)(\d+(?:[.,]\d+)?)", handicap or "")
    known = [-float(n.replace(",", ".")) if sign == "+" else float(n.replace(",", ".")) for sign, n in said]
    number = next((n for n in known if n <= _HIGHEST), None)
    if number is None:
        return None
    return "low-handicap" if number <= _LOW else "high-handicap" if number >= _HIGH else "middle-handicap"


class Goal(Record):
    """What the student wants to reach, by when, and how one will see that it is reached."""

    what: Line
    by: Day | None = None
    seen_by: Line | None = None


class NextLesson(Record):
    """When and where the next lesson is, by the clocks of the academy; `minutes` is how long it takes."""

    date: Day
    time: ClockTime
    minutes: Annotated[int, Field(ge=5, le=LONGEST_LESSON)] = 60
    place: Line | None = None


class PlayedRound(Record):
    """A round that the student has played: strokes in all, and the par of the holes played where it is known."""

    date: Day
    score: Annotated[int, Field(ge=18, le=300)]
    holes: Holes = 18
    par: Annotated[int, Field(ge=27, le=90)] | None = None
    course: Line | None = None
    competition: bool = False
