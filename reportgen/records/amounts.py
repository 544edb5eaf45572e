"""Values a person writes as one short text: a quantity with its unit, a dose."""

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, StringConstraints

from reportgen.records.base import Record
from reportgen.records.bounds import Figure
from reportgen.records.units import UNITS, convert, convertible

_QUANTITY = r"([+-]?\d{1,6}(?:\.\d{1,12})?) ?([a-z/%]{1,10})"
_SETS = r"(\d{1,2}) ?[x×] ?(\d{1,3})(?: (slow|easy|full))?"
_MINUTES = r"(\d{1,3}) min"

Pace = Literal["slow", "easy", "full"]


class Quantity(Record):
    """A number with its unit, written as `1.00 m` or `21 deg`."""

    value: Figure
    unit: str = Field(max_length=10)


def _written(pattern: str) -> Any:
    """For the JSON Schema: a text of this form."""
    return Annotated[str, StringConstraints(pattern=f"^(?:{pattern})$")]


def _reader(si_unit: str, example: str, low: float, high: float) -> BeforeValidator:
    def read(written: Any) -> Any:
        if not isinstance(written, str):
            return written
        match = re.fullmatch(_QUANTITY, written.strip())
        if match is None or not convertible(match[2], si_unit):
            fitting = [name for name, unit in UNITS.items() if unit.dimension == UNITS[si_unit].dimension]
            raise ValueError("is not a number and a unit", f"Write it as {example} (units: {', '.join(fitting)}).")
        if not low <= convert(float(match[1]), match[2], si_unit) <= high:
            raise ValueError("is out of its limits", f"Write {low:g} to {high:g} {si_unit}.")
        return Quantity(value=float(match[1]), unit=match[2])

    return BeforeValidator(read, json_schema_input_type=_written(_QUANTITY))


Length = Annotated[Quantity, _reader("m", "1.00 m", 0.001, 200), Field(description="a length with its unit, as 1.00 m")]
Height = Annotated[Quantity, _reader("m", "1.20 m", 0, 50), Field(description="a height with its unit, as 1.20 m")]
Mass = Annotated[Quantity, _reader("kg", "48 kg", 1, 300), Field(description="a mass with its unit, as 48 kg")]
Angle = Annotated[Quantity, _reader("deg", "28 deg", -360, 360), Field(description="an angle with its unit, as 28 deg")]


class Dose(Record):
    """How much of a drill at one go: `3 x 10 slow` (sets, swings a set, pace) or `5 min`."""

    sets: int | None = Field(default=None, ge=1, le=20)
    reps: int | None = Field(default=None, ge=1, le=100)
    pace: Pace | None = None
    minutes: int | None = Field(default=None, ge=1, le=120)

    @property
    def swings(self) -> int:
        """Swings or repetitions in one go; 0 where the dose is a time."""
        return (self.sets or 0) * (self.reps or 0)

    def __str__(self) -> str:
        if self.minutes is not None:
            return f"{self.minutes} min"
        return f"{self.sets} × {self.reps}" + (f" {self.pace}" if self.pace else "")


def read_dose(written: Any) -> Any:
    """A Dose from what a person wrote; raises ValueError when it is neither form."""
    if not isinstance(written, str):
        return written
    if sets := re.fullmatch(_SETS, written.strip()):
        return Dose(sets=int(sets[1]), reps=int(sets[2]), pace=sets[3] or None)
    if minutes := re.fullmatch(_MINUTES, written.strip()):
        return Dose(minutes=int(minutes[1]))
    raise ValueError("is not a dose", "Write 3 x 10, 3 x 10 slow (or easy, or full), or 5 min.")


WrittenDose = Annotated[
    Dose,
    BeforeValidator(read_dose, json_schema_input_type=_written(f"{_SETS}|{_MINUTES}")),
    Field(description="a dose, as 3 x 10 slow or 5 min"),
]
