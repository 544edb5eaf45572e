"""How a week of practice is put together, as written in content/practice.yaml."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reportgen.records.base import Line, Record, Text
from reportgen.records.bounds import CEILINGS, WORDS
from reportgen.records.words import GrowthStage, Stage

Phase = Literal["new", "settling", "settled"]


class WarmUp(Record):
    """What comes before the first swing: so many minutes, or a quarter of the day's where that is less.
    `without_swings` is for days on which no club may be swung; a file that lacks it has the shipped one."""

    minutes: Annotated[int, Field(ge=5, le=30)]
    what: Line
    without_swings: Line | None = None
    source: Text


class Ceiling(Record):
    """The most that is planned for a stage, and for a stage of growth where one is named: full swings on one day, days
    in one week."""

    stage: Stage
    growth: GrowthStage | None = None
    swings_a_day: Annotated[int, Field(ge=1, le=500)]
    days: Annotated[int, Field(ge=1, le=7)]
    source: Text


class Rise(Record):
    """How far a week may go beyond the mean of the last logged ones: `allowed` times it, or `always` many swings;
    `unlogged` many where nothing was logged."""

    allowed: Annotated[float, Field(ge=1, le=2)]
    always: Annotated[int, Field(ge=0, le=500)]
    unlogged: Annotated[int, Field(ge=0, le=500)]
    source: Text


class PhaseText(Record):
    """What is said to the student about a phase of learning, and what it rests on: `says` always, `mixed` in a week
    with balls for other clubs, `speed` in one with faster swings."""

    id: Phase
    says: Line
    mixed: Line | None = None
    speed: Line | None = None
    source: Text


class SmallGame(Record):
    """How putts and short shots are practised: they count as no full swings, and have a warm-up and a ceiling of their
    own. `says` is what the student reads of such a week, `balls` where it has balls, `counts` where it counts."""

    warm_up: WarmUp
    strokes_a_day: Annotated[int, Field(ge=10, le=300)]
    says: Line
    balls: Line | None = None
    counts: Line | None = None
    source: Text


class PracticeRules(Record):
    """Everything that a week of practice is built by. A file without `small_game` has the shipped one."""

    warm_up: WarmUp
    ceilings: Annotated[tuple[Ceiling, ...], Field(max_length=CEILINGS)]
    rise: Rise
    phases: Annotated[tuple[PhaseText, ...], Field(max_length=WORDS)]
    small_game: SmallGame | None = None

    @model_validator(mode="after")
    def _complete(self) -> "PracticeRules":
        general = [c.stage for c in self.ceilings if c.growth is None]
        if sorted(general) != ["adult", "junior", "senior"]:
            raise ValueError("has not one ceiling for each of junior, adult and senior", "Give the three.")
        if [p.id for p in self.phases] != ["new", "settling", "settled"]:
            raise ValueError("has not the phases new, settling and settled in this order", "Give the three.")
        return self
