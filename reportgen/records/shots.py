"""What a sheet says of shots: so many of so many that did what was counted, and where on the face they were struck."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from reportgen.records.amounts import Length
from reportgen.records.base import Line, Record, Slug
from reportgen.records.bounds import SHOTS_COUNTED
from reportgen.records.words import Club

Counted = Annotated[int, Field(ge=0, le=SHOTS_COUNTED)]
Size = Literal["width", "distance", "radius"]
"""A length that a count is told by: how wide a gate is, how far away it or the hole is, how large a circle."""

SIZES: tuple[Size, ...] = ("width", "distance", "radius")
FacePlace = Literal["heel", "middle", "toe", "high", "low"]
FACE: tuple[FacePlace, ...] = ("heel", "middle", "toe", "high", "low")
"""The places of the face, of which each shot counts in one."""


class Strike(Record):
    """How many shots met the face at each place, each shot once; `high` and `low` are above and below the middle."""

    heel: Counted = 0
    middle: Counted = 0
    toe: Counted = 0
    high: Counted = 0
    low: Counted = 0

    @model_validator(mode="after")
    def _some(self) -> Self:
        if self.of == 0:
            raise ValueError("counts no shot", "Write how many met the face at each place, as {heel: 3, middle: 7}.")
        return self

    @property
    def of(self) -> int:
        """All shots that were looked at."""
        return sum(getattr(self, place) for place in FACE)


class ShotCount(Record):
    """What was counted in a row of shots: `made` of `of` that did what `count` names, or that passed the test of a
    `drill`, or the `strike` of each. `width`, `distance` and `radius` say how large what was aimed at is and how far
    away. `when` tells a count before the lesson's work from one after it."""

    count: Slug | None = None
    drill: Slug | None = None
    strike: Strike | None = None
    made: Counted | None = None
    of: Annotated[int, Field(ge=1, le=SHOTS_COUNTED)] | None = None
    club: Club | None = None
    width: Length | None = None
    distance: Length | None = None
    radius: Length | None = None
    when: Literal["before", "after"] | None = None
    note: Line | None = None

    @model_validator(mode="after")
    def _one_thing(self) -> Self:
        if sum(what is not None for what in (self.count, self.drill, self.strike)) != 1:
            raise ValueError(
                "says none or several of count, drill and strike", "Write one of them: what was counted in this row."
            )
        return self

    @model_validator(mode="after")
    def _how_many(self) -> Self:
        if self.strike is not None:
            if self.made is not None or self.of is not None:
                raise ValueError("has made or of beside strike", "Take them out: the places add up to all shots.")
        elif self.made is None or self.of is None:
            raise ValueError("lacks made or of", "Write both, as made: 7, of: 10.")
        elif self.made > self.of:
            raise ValueError(f"has {self.made} made of {self.of}", "Write how many of all shots it were.")
        return self
