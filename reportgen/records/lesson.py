"""A lesson sheet, as a person writes it."""

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, ConfigDict, Field, model_validator

from reportgen.records.aims import NextLesson
from reportgen.records.amounts import WrittenDose
from reportgen.records.base import Day, Letter, Line, Record, Slug, UnitName
from reportgen.records.bounds import (
    COMFORTS,
    COUNTS,
    DRILLS_GIVEN,
    FOLLOWED,
    PRACTICE_DAYS,
    READINGS,
    SETUP_SEEN,
    SHOT_TABLES,
    STILLS,
    SWINGS,
    TRIALS,
    Figure,
    StandardUncertainty,
    by_unit,
)
from reportgen.records.drill_tests import TriedDrill
from reportgen.records.returning import ReturnStepId
from reportgen.records.setup import Observation
from reportgen.records.shots import ShotCount
from reportgen.records.stills import Frame, Still
from reportgen.records.swings import SwingFrames
from reportgen.records.tables import ReadingsFrom, ShotsFrom
from reportgen.records.words import Club, FeltWhen, How, LessonKind, PractisedKind, Site


class TypedReading(Record):
    """A number typed in: by eye, read off stills, or from a sensor; one value, or one for each swing.

    `u` is the standard uncertainty of the device, in the reading's unit; without it the metric's own figure counts.
    `views` tells from how many stills a value taken from pictures comes: 1 (face-on or down-the-line) or 2 (both).
    """

    model_config = ConfigDict(json_schema_extra=by_unit("value", "trials", u="u"))

    metric: Slug
    value: Figure | None = None
    trials: Annotated[tuple[Figure, ...], Field(min_length=2, max_length=TRIALS)] | None = None
    unit: UnitName
    how: How
    views: Annotated[int, Field(ge=1, le=2)] = 1
    u: StandardUncertainty | None = None
    note: Line | None = None

    @model_validator(mode="after")
    def _one_of_value_and_trials(self) -> Self:
        if (self.value is None) == (self.trials is None):
            raise ValueError(
                "has neither or both of value and trials", "Give one value, or trials with a number a swing."
            )
        return self


class Tempo(Record):
    """Frame numbers of one swing in a video: the start of the takeaway, the top, impact."""

    start: Frame
    top: Frame
    impact: Frame
    fps: Annotated[float, Field(ge=10, le=2000)]

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if not self.start < self.top < self.impact:
            raise ValueError(
                "has its frames out of order", "Give start, top and impact, each later than the one before."
            )
        return self


class Compare(Record):
    """A lesson of somebody who learns alongside, whose pictures stand beside this student's."""

    student: Slug
    date: Day


class DrillChoice(Record):
    """A drill that the instructor gives, with a dose of their own where it differs from the drill's."""

    drill: Slug
    dose: WrittenDose | None = None
    note: Line | None = None


def _read_choice(written: Any) -> Any:
    return {"drill": written} if isinstance(written, str) else written


class Comfort(Record):
    """How a site felt to the student: 0 (nothing) to 10 (the worst they can imagine)."""

    site: Site
    score: Annotated[int, Field(ge=0, le=10)]
    when: FeltWhen


class DayComfort(Comfort):
    """How a site felt on a day of the practice log, to the student."""

    when: FeltWhen = "after"


class PracticeEntry(Record):
    """What the student did on one day: balls on the range, a round on the course, swings with speed sticks (light or
    heavy sticks swung fast, without a ball), or chips and putts; and the count of a drill's test. `minutes: 0` is a day
    of rest. `comfort` counts as if it had been asked that day."""

    date: Day
    kind: PractisedKind = "range"
    minutes: Annotated[int, Field(ge=0, le=600)] | None = None
    swings: Annotated[int, Field(ge=0, le=2000)] | None = None
    test: TriedDrill | None = None
    comfort: Annotated[tuple[DayComfort, ...], Field(max_length=COMFORTS)] = ()
    note: Line | None = None

    @model_validator(mode="after")
    def _rests_without_swings(self) -> Self:
        if self.minutes == 0 and self.swings:
            raise ValueError(f"has {self.swings} swings in 0 minutes", "Take minutes: 0 out; it means a day of rest.")
        return self

    @property
    def rested(self) -> bool:
        """A day of rest: no practice at all."""
        return self.minutes == 0


class Cleared(Record):
    """A licensed clinician has cleared the student to practise again after a stop."""

    by: Line
    on: Day


class Lesson(Record):
    """One lesson: what was seen, measured, given and said. Metrics and drills are those of its `kind`, and it is held
    against earlier lessons of the same kind alone. A `draft` is not ready: it is neither judged, published nor
    mailed."""

    student: Slug
    date: Day
    draft: bool = False
    kind: LessonKind = "full-swing"
    club: Club
    focus: Line | None = None
    readings: Annotated[tuple[TypedReading, ...], Field(max_length=READINGS)] = ()
    readings_from: ReadingsFrom | None = None
    shots_from: Annotated[tuple[ShotsFrom, ...], Field(max_length=SHOT_TABLES)] = ()
    stills: Annotated[tuple[Still, ...], Field(max_length=STILLS)] = ()
    swings: Annotated[tuple[SwingFrames, ...], Field(max_length=SWINGS)] = ()
    marked_by: Line | None = None
    stand: Line | None = None
    tempo: Tempo | None = None
    setup: Annotated[tuple[Observation, ...], Field(max_length=SETUP_SEEN)] = ()
    shots: Annotated[tuple[ShotCount, ...], Field(max_length=COUNTS)] = ()
    compare: Compare | None = None
    priorities: Annotated[tuple[Slug, ...], Field(max_length=2)] = ()
    set_aside: Annotated[tuple[Slug, ...], Field(max_length=READINGS)] = ()
    follow: Annotated[tuple[Slug, ...], Field(max_length=FOLLOWED)] = ()
    drills: Annotated[
        tuple[Annotated[DrillChoice, BeforeValidator(_read_choice, json_schema_input_type=Slug | DrillChoice)], ...],
        Field(max_length=DRILLS_GIVEN),
    ] = ()
    comfort: Annotated[tuple[Comfort, ...], Field(max_length=COMFORTS)] = ()
    practice_log: Annotated[tuple[PracticeEntry, ...], Field(max_length=PRACTICE_DAYS)] = ()
    cleared: Cleared | None = None
    return_step: ReturnStepId | Literal["done"] | None = None
    next_lesson: NextLesson | None = None
    notes: Letter | None = None

    @property
    def tempo_metric(self) -> str:
        """The metric that the frames of `tempo` give."""
        return "putt-tempo" if self.kind == "putting" else "tempo-ratio"
