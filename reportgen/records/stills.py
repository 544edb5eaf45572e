"""A still of a lesson sheet: one picture of one moment, what was marked in it, and how its camera stood."""

from collections.abc import Sequence
from functools import cached_property
from itertools import count
from math import hypot
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from reportgen.records.amounts import Height, Length
from reportgen.records.base import Line, Pixel, Record
from reportgen.records.bounds import FRAMES, SECONDS, WORDS
from reportgen.records.units import convert
from reportgen.records.words import Checkpoint, Mark, View

Frame = Annotated[int, Field(ge=0, le=FRAMES)]


class Scale(Record):
    """A known length in the player's plane, by its two ends in the picture. With `is_stick` it is the very stick on the
    ground that the other view marks as its own, which then tells how far from the player it lies."""

    from_: Pixel = Field(alias="from")
    to: Pixel
    length: Length
    is_stick: bool = False

    @property
    def px_per_m(self) -> float:
        """Pixels a metre in the player's plane."""
        (x0, y0), (x1, y1) = self.from_, self.to
        return hypot(x1 - x0, y1 - y0) / convert(self.length.value, self.length.unit, "m")


class Stick(Record):
    """A stick on the ground that runs away from the camera, by its two ends in the picture, in either order:
    down-the-line the one along the target line, face-on one square to it. It tells how the camera is turned."""

    from_: Pixel = Field(alias="from")
    to: Pixel


class Camera(Record):
    """Where the camera stood: distance of the lens from the player's plane, height above the ground."""

    distance: Length
    height: Height | None = None


class Placed(Record):
    """Where a point was marked, and how the mark came about: `hand` where somebody set it on the bare picture,
    `confirmed` where it was proposed and somebody let it stand or moved it, since who is shown a place leans to it.
    A mark that is a pair of numbers alone does not say."""

    at: Pixel
    by: Literal["hand", "confirmed"] | None = None


def _read_placed(written: Any) -> Any:
    return {"at": written} if isinstance(written, (list, tuple)) else written


class FilmLag(Record):
    """By how many seconds the clock of a film is to be put forward to be the face-on film's, and what told it: the
    sound of the strike in both, the pictures of both, or a person who picked impact in both."""

    seconds: Annotated[float, Field(ge=-SECONDS, le=SECONDS)]
    by: Literal["sound", "pictures", "hand"]


class Still(Record):
    """One picture of one checkpoint from one view."""

    file: Line
    view: View
    checkpoint: Checkpoint
    caption: Line | None = None
    scale: Scale | None = None
    stick: Stick | None = None
    camera: Camera | None = None
    fps: Annotated[float, Field(ge=10, le=2000)] | None = None
    frame: Frame | None = None
    time: Annotated[float, Field(ge=-SECONDS, le=SECONDS)] | None = None
    lag: FilmLag | None = None
    swing: Annotated[int, Field(ge=1, le=50)] | None = None
    placed: Annotated[
        dict[Mark, Annotated[Placed, BeforeValidator(_read_placed, json_schema_input_type=Pixel | Placed)]],
        Field(max_length=WORDS),
    ] = Field(default_factory=dict, alias="marks")

    @model_validator(mode="after")
    def _frame_of_a_rate(self) -> Self:
        if self.frame is not None and self.fps is None:
            raise ValueError("has a frame and no fps", "Write fps: and how many frames a second the film has.")
        return self

    @model_validator(mode="after")
    def _lag_of_a_time(self) -> Self:
        if self.lag is not None and self.seconds is None:
            raise ValueError("has a lag and no time", "Write time: and when it was taken, by the clock of its film.")
        return self

    @cached_property
    def marks(self) -> dict[Mark, Pixel]:
        """Where each point was marked."""
        return {mark: placed.at for mark, placed in self.placed.items()}

    @property
    def seconds(self) -> float | None:
        """When it was taken, by the clock of its own film; None where the sheet does not say."""
        if self.time is not None:
            return self.time
        return None if self.frame is None or self.fps is None else self.frame / self.fps


def swing_numbers(stills: Sequence[Still]) -> tuple[int, ...]:
    """The swing each still belongs to: its own number, otherwise the lowest that no marked still of its view and
    checkpoint has, in the order of the sheet. A still without marks, of the sticks alone say, shows no swing: 0."""
    taken: dict[tuple[View, Checkpoint], set[int]] = {}
    for still in stills:
        if still.marks:
            taken.setdefault((still.view, still.checkpoint), set()).update({still.swing} if still.swing else ())
    numbers = []
    for still in stills:
        used = taken.get((still.view, still.checkpoint), set())
        number = (still.swing or next(n for n in count(1) if n not in used)) if still.marks else 0
        used.add(number)
        numbers.append(number)
    return tuple(numbers)
