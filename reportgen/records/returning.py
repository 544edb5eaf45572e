"""The return to play after a stop, in steps, as written in content/returning.yaml."""

from itertools import pairwise
from typing import Annotated, Literal, Self, get_args

from pydantic import Field, model_validator

from reportgen.records.base import Line, Record, Text
from reportgen.records.bounds import WORDS

ReturnStepId = Literal[
    "putts", "chips", "half-swings", "three-quarter-swings", "short-irons", "medium-irons", "long-irons", "woods",
    "nine-holes", "eighteen-holes",
]  # fmt: skip
"""The steps, in their order."""
RETURN_STEPS: tuple[ReturnStepId, ...] = get_args(ReturnStepId)


def next_step(step: ReturnStepId) -> str:
    """The word that moves a return on from this step, as it is written in a sheet; after the last one `done`."""
    at = RETURN_STEPS.index(step) + 1
    return RETURN_STEPS[at] if at < len(RETURN_STEPS) else "done"


GROWS_FROM = 35
"""Full swings a day from which a step may have at most half as many again as the one before (own rule)."""
GROWS_BY = 1.5


class ReturnDose(Record):
    """One part of a step: so many putts, chips, swings or holes, and how many `swings` beyond hip height that is. A
    half swing is counted as one: what a body has to bear is not told too low."""

    what: Literal[
        "putts", "chips", "half-swings", "three-quarter-swings", "short-irons", "medium-irons", "long-irons", "woods",
        "holes",
    ]  # fmt: skip
    count: Annotated[int, Field(ge=1, le=60)]
    swings: Annotated[int, Field(ge=0, le=100)]

    @property
    def strokes(self) -> int:
        """Putts and chips."""
        return self.count if self.what in ("putts", "chips") else 0


class ReturnStep(Record):
    """One step: what is done on one day of it."""

    id: ReturnStepId
    title: Line
    doses: Annotated[tuple[ReturnDose, ...], Field(min_length=1, max_length=WORDS)]
    source: Text

    @property
    def swings(self) -> int:
        """Swings beyond hip height on a day of this step."""
        return sum(dose.swings for dose in self.doses)

    @property
    def strokes(self) -> int:
        """Putts and chips on a day of this step."""
        return sum(dose.strokes for dose in self.doses)


class ReturnRules(Record):
    """The steps in their order, and what is said beside them: when to go on, when to go back, when to stop.

    `rest` is the least number of days from one day of practice to the next.
    """

    rest: Annotated[int, Field(ge=2, le=7)]
    go_on: Line
    step_back: Line
    stop: Line
    steps: Annotated[tuple[ReturnStep, ...], Field(max_length=WORDS)]
    source: Text

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if tuple(step.id for step in self.steps) != RETURN_STEPS:
            raise ValueError("has not each step once, in their order", f"Give {', '.join(RETURN_STEPS)}.")
        return self

    @model_validator(mode="after")
    def _grows_slowly(self) -> Self:
        for before, after in pairwise(self.steps):
            if before.swings >= GROWS_FROM and after.swings > GROWS_BY * before.swings:
                raise ValueError(
                    f"has {after.swings} swings in {after.id} after {before.swings} in {before.id}",
                    "Give at most half as many again.",
                )
        return self
