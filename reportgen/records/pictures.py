"""The pictures of a judged lesson, and what is drawn on them."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from reportgen.records.base import Pixel, Record, Slug
from reportgen.records.words import Checkpoint, Verdict, View


class Stroke(Record):
    """A line or a place to draw on a picture, through points in its pixels (x to the right, y down).

    `before` strokes are where something stood at an earlier moment, `plumb` ones the vertical or the level: both are
    references to hold the others against. `metric` and `value` (in `unit`) are what the line shows.
    """

    kind: Literal["line", "place", "plumb", "before"]
    points: Annotated[tuple[Pixel, ...], Field(min_length=1)]
    metric: Slug | None = None
    value: float | None = None
    unit: str | None = None
    verdict: Verdict = "not judged"


class DrawnStill(Record):
    """A picture file inside the academy, with what is drawn on it.

    `size` is width and height in pixels, upright; `px_per_m` its scale, where it has one; `centre` the middle between
    the hips, where they are marked; `caption` the instructor's own, where there is one.
    """

    file: str
    size: tuple[int, int]
    px_per_m: float | None
    centre: Pixel | None
    strokes: tuple[Stroke, ...]
    caption: str | None


class SwingValue(Record):
    """A value that was found at a checkpoint, in `unit`."""

    metric: Slug
    value: float
    unit: str
    verdict: Verdict


class SwingMoment(Record):
    """A checkpoint of a swing by its `frame` (the first is 0): the gravest verdict there, None where nothing was
    measured, what was found, the gravest first, and the lines of it, in pixels of the frame."""

    checkpoint: Checkpoint
    frame: int
    verdict: Verdict | None
    values: tuple[SwingValue, ...]
    strokes: tuple[Stroke, ...]


class DrawnSwing(Record):
    """A picture file inside the academy that holds the frames of a swing in rows of `columns`, each of `size` (width
    and height in pixels), with the `times` of the frames in seconds.

    `parts` says for each frame how far the swing has come, alike for every tempo: 0 at setup, 6 at finish, a whole
    number at each checkpoint, and the part of the time in between.
    """

    file: str
    columns: int
    size: tuple[int, int]
    times: tuple[float, ...]
    parts: tuple[float, ...]
    moments: tuple[SwingMoment, ...]


Withheld = Literal["taken back", "no leave of a guardian", "no leave", "no leave of another"]
"""Why a picture is not shown."""


class Picture(Record):
    """A still of the lesson, and the one to hold it against: of the same student `beside_on` a day, or, where that is
    None, of whom the student learns alongside. `still` is None where it is withheld."""

    view: View
    checkpoint: Checkpoint
    still: DrawnStill | None
    beside: DrawnStill | None
    beside_on: date | None = None
    withheld: Withheld | None


class SwingSeen(Record):
    """A swing of the lesson from one view, and the one to step through beside it: of the same student `beside_on` a
    day, or, where that is None, of whom the student learns alongside. `swing` is None where it is withheld."""

    view: View
    swing: DrawnSwing | None
    beside: DrawnSwing | None
    beside_on: date | None = None
    withheld: Withheld | None
