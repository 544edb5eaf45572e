"""Tables that a device exports, as academy.yaml and a sheet tell of them: which column holds what."""

from typing import Annotated

from pydantic import Field

from reportgen.records.base import Line, Record, Slug, UnitName
from reportgen.records.bounds import COLUMNS, MEANINGS, StandardUncertainty
from reportgen.records.words import Club, Plus, Surface


class ColumnOf(Record):
    """Which column of a file holds a quantity, by the name in its heading line, and the unit of its numbers.

    A column of words (the club, say) has no unit; `means` says in our words what its cells say. `plus` is the side that
    plus numbers are on, for quantities that have one; see `reportgen.records.shot_table.WORDS`.
    """

    column: Line
    unit: UnitName | None = None
    plus: Plus | None = None
    u: StandardUncertainty | None = None
    means: Annotated[dict[Line, Line], Field(max_length=MEANINGS)] = Field(default_factory=dict)


class ReadingsFrom(Record):
    """A table exported by a sensor: a text file of columns, one line a swing.

    `columns` maps metrics to columns; without it the academy's own map counts. `swing` names a column that numbers
    the swings; lines without a number there are left out.
    """

    file: Line
    columns: Annotated[dict[Slug, ColumnOf], Field(max_length=COLUMNS)] | None = None
    swing: Line | None = None


class ShotsFrom(Record):
    """A table of shots exported by a device: a text file of columns, one line a shot.

    `columns` maps what is known of a shot to columns; without it the academy's own map counts. What `club`, `surface`
    and `device` say holds for every shot of the table; without them the table's own columns count, and for the club
    the lesson's. `shot` names a column that numbers the shots; lines without a number there are no shots.
    """

    file: Line
    club: Club | None = None
    surface: Surface | None = None
    device: Line | None = None
    shot: Line | None = None
    columns: Annotated[dict[Slug, ColumnOf], Field(max_length=COLUMNS)] | None = None
