"""A second look at pictures of the academy."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from reportgen.records.base import Day, Line, Pixel, Record, Slug
from reportgen.records.bounds import AGAIN, WORDS
from reportgen.records.words import Mark

Marks = Annotated[dict[Mark, Pixel], Field(min_length=1, max_length=WORDS)]


class MarkedAgain(Record):
    """A picture of a lesson, and the points as they were set this time."""

    student: Slug
    lesson: Line
    file: Line
    marks: Marks


class Round(Record):
    """rounds/<day>.yaml: pictures of the academy that somebody marked again without seeing the earlier marks."""

    date: Day
    marked_by: Line | None = None
    stills: Annotated[tuple[MarkedAgain, ...], Field(min_length=1, max_length=AGAIN)]

    @model_validator(mode="after")
    def _each_once(self) -> Self:
        seen = {(still.student, still.lesson, still.file) for still in self.stills}
        if len(seen) < len(self.stills):
            raise ValueError("has a picture twice", "Take one of the two out, or write two rounds.")
        return self
