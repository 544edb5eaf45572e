"""What a reader should know of a lesson's tables of shots before believing them: codes, figures and lines."""

from typing import Literal

from pydantic import Field

from reportgen.records.base import Line, Record
from reportgen.records.words import Club, Surface

ShotCode = Literal[
    "sign doubted", "face computed", "difference off", "ratio off", "spins off", "ratio too high", "mishits",
    "spin estimated", "devices apart", "clubs apart", "surfaces apart", "blank cells", "no shot", "summed up",
    "column absent", "day not read", "other day",
]  # fmt: skip


class At(Record):
    """A line of a table: `file` is where that lies below the academy."""

    file: str
    line: int


class ShotRemark(Record):
    """Something that a reader should know of shots; `words` are those of `records.shot_table.WORDS` it is about.

    `sign doubted`: the two `words` go against each other (`r`, over `shots`); the second can be `curve`.
    `face computed`: start = `face` · face + `path` · path with no residual above `residual` degrees, over `shots`.
    `difference off`, `ratio off`, `spins off`: at those lines, of `shots`, the columns do not agree within rounding.
    `ratio too high`: no clubhead gives more than `highest`. `mishits`: the carry is below `percent` of the median of
    `shots`. `spin estimated`: among `shots` with a spin so many are `measured` and `estimated`. `... apart`: there are
    `groups` of them, which are not pooled. `blank cells`, `no shot`, `summed up`, `day not read`, `other day`: at those
    lines. `column absent`: the table has no column for the `words`.

    `club`, `surface` and `device` say of which shots, where it is not all.
    """

    code: ShotCode
    words: tuple[str, ...] = ()
    figures: dict[str, float] = Field(default_factory=dict)
    at: tuple[At, ...] = ()
    club: Club | None = None
    surface: Surface | None = None
    device: Line | None = None
