"""A swing to step through: pictures of one film, packed into one picture, as a lesson sheet names it."""

from itertools import pairwise
from math import ceil
from typing import Annotated, Self

from pydantic import Field, model_validator

from reportgen.records.base import Line, Pixel, Record
from reportgen.records.bounds import FILM_SECONDS, FRAME_SIDE, SWING_FRAMES
from reportgen.records.words import CHECKPOINTS, Checkpoint, View

_Side = Annotated[int, Field(ge=16, le=FRAME_SIDE)]
_Time = Annotated[float, Field(ge=0, le=FILM_SECONDS)]
_SHAPE = 0.02
"""By how much of its width the part that a frame shows may differ in shape from the frame."""


class Cut(Record):
    """The part of the lesson's stills of the same film that each frame shows, by its left top and right bottom corner
    in the stills' pixels."""

    from_: Pixel = Field(alias="from")
    to: Pixel

    @model_validator(mode="after")
    def _opens(self) -> Self:
        if self.to[0] <= self.from_[0] or self.to[1] <= self.from_[1]:
            raise ValueError(
                "has its corners the wrong way about", "Give the left top corner as from, the right bottom one as to."
            )
        return self


class SwingFrames(Record):
    """The frames of one swing from one view, from setup to finish, in the rows of one picture with so many `columns`.

    `frame` is width and height of each in pixels, `times` when each was taken (s, on the film's own clock), and
    `checkpoints` which of them are moments of the swing; the first frame is 0. `cut` says where the frames lie in the
    stills, where those were cut from the same film.
    """

    file: Line
    view: View
    columns: Annotated[int, Field(ge=1, le=SWING_FRAMES)]
    frame: tuple[_Side, _Side]
    times: Annotated[tuple[_Time, ...], Field(min_length=2, max_length=SWING_FRAMES)]
    checkpoints: Annotated[dict[Checkpoint, Annotated[int, Field(ge=0, le=SWING_FRAMES)]], Field(min_length=2)]
    cut: Cut | None = None

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if any(later <= earlier for earlier, later in pairwise(self.times)):
            raise ValueError("has times out of order", "Give each frame a later time than the one before it.")
        numbers = [self.checkpoints[name] for name in CHECKPOINTS if name in self.checkpoints]
        if max(numbers) >= len(self.times):
            raise ValueError(
                f"has a checkpoint at frame {max(numbers)}, and {len(self.times)} frames",
                f"Count the frames from 0: the last one is {len(self.times) - 1}.",
            )
        if any(later <= earlier for earlier, later in pairwise(numbers)):
            raise ValueError(
                "has checkpoints out of order", "Give each a later frame than the checkpoint that comes before it."
            )
        return self

    @model_validator(mode="after")
    def _of_one_shape(self) -> Self:
        if self.cut is not None:
            wide, high = self.cut.to[0] - self.cut.from_[0], self.cut.to[1] - self.cut.from_[1]
            if abs(wide * self.frame[1] / (high * self.frame[0]) - 1) > _SHAPE:
                raise ValueError(
                    "has a cut of another shape than its frames", "Look at the corners in cut, and at frame."
                )
        return self

    @property
    def packed_size(self) -> tuple[int, int]:
        """Width and height in pixels of the picture that holds all frames."""
        return self.frame[0] * min(self.columns, len(self.times)), self.frame[1] * ceil(len(self.times) / self.columns)
