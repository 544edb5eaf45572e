"""A lesson sheet, as a person writes it."""

from math import hypot
from typing import Annotated, Any, Self

from pydantic import BeforeValidator, Field, model_validator

from reportgen.records.amounts import Length, WrittenDose
from reportgen.records.base import Day, Line, Record, Slug, Text
from reportgen.records.units import convert
from reportgen.records.words import Checkpoint, Club, FeltWhen, How, Mark, PractisedKind, Site, View

Pixel = Annotated[tuple[float, float], Field(description="x to the right, y down, from the top left corner")]


class TypedReading(Record):
    """A number typed in: by eye, read off stills, or from a sensor; one value, or one for each swing.

    `u` is the standard uncertainty of the device, in the reading's unit; without it the metric's own figure counts.
    `views` tells from how many stills a value taken from pictures comes: 1 (face-on or down-the-line) or 2 (both).
    """

    metric: Slug
    """What was measured."""
    value: float | None = None
    """The number; in the place of trials."""
    trials: Annotated[tuple[float, ...], Field(min_length=2, max_length=200)] | None = None
    """One number for each swing; in the place of value."""
    unit: str
    """The unit of the number; a plain ratio has the unit "1"."""
    how: How
    """How it was taken: by eye, read off a still, or by a sensor."""
    views: Annotated[int, Field(ge=1, le=2)] = 1
    """From how many directions, where it was read off stills: 1, or 2 for face-on and down-the-line together."""
    u: Annotated[float, Field(gt=0)] | None = None
    """The standard uncertainty that the device's maker states, in the reading's unit; otherwise the metric's own figure
    counts."""
    note: Line | None = None
    """A remark on this number; the student reads it."""

    @model_validator(mode="after")
    def _one_of_value_and_trials(self) -> Self:
        if (self.value is None) == (self.trials is None):
            raise ValueError(
                "has neither or both of value and trials", "Give one value, or trials with a number a swing."
            )
        return self


class Scale(Record):
    """A known length in the player's plane, by its two ends in the picture."""

    from_: Pixel = Field(alias="from")
    """One end in the picture."""
    to: Pixel
    """The other end."""
    length: Length
    """How long it is in reality."""

    @property
    def px_per_m(self) -> float:
        """Pixels a metre in the player's plane."""
        (x0, y0), (x1, y1) = self.from_, self.to
        return hypot(x1 - x0, y1 - y0) / convert(self.length.value, self.length.unit, "m")


class Camera(Record):
    """Where the camera stood: distance of the lens from the player's plane, height above the ground."""

    distance: Length
    """From the lens to the player."""
    height: Length | None = None
    """Of the lens above the ground."""


class Still(Record):
    """One picture of one checkpoint from one view."""

    file: Line
    """The picture, PNG or JPEG, by its way from the sheet, as in ../stills/impact-fo.png."""
    view: View
    """From where it was taken."""
    checkpoint: Checkpoint
    """Which moment of the swing it shows."""
    caption: Line | None = None
    """What stands below the picture."""
    scale: Scale | None = None
    """Something of known length in the player's plane: with it centimetres can be told."""
    camera: Camera | None = None
    """Where the camera stood, measured by tape: makes every angle surer."""
    fps: Annotated[float, Field(ge=10, le=2000)] | None = None
    """Frames a second of the video that the still was taken from; half a frame of time then counts in u."""
    swing: Annotated[int, Field(ge=1, le=50)] | None = None
    """The number of the swing, where several were filmed; in the order of the sheet where it is not given."""
    marks: dict[Mark, Pixel] = Field(default_factory=dict)
    """The points that you set, as `reportgen mark` gives them."""


class Tempo(Record):
    """Frame numbers of one swing in a video: the start of the takeaway, the top, impact."""

    start: Annotated[int, Field(ge=0)]
    """The frame where the club begins to move."""
    top: Annotated[int, Field(ge=0)]
    """The frame of the top."""
    impact: Annotated[int, Field(ge=0)]
    """The frame of impact."""
    fps: Annotated[float, Field(ge=10, le=2000)]
    """Frames a second of the video."""

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if not self.start < self.top < self.impact:
            raise ValueError(
                "has its frames out of order", "Give start, top and impact, each later than the one before."
            )
        return self


class ColumnOf(Record):
    """Which column of a file holds a metric, by the name in its heading line, and the unit of its numbers."""

    column: Line
    """The name in the file's heading line."""
    unit: str
    """The unit of its numbers."""
    u: Annotated[float, Field(gt=0)] | None = None
    """The standard uncertainty of the device, in that unit."""


class ReadingsFrom(Record):
    """A table exported by a sensor: a text file of columns, one line a swing.

    `columns` maps metrics to columns; without it the academy's own map counts. `swing` names a column that numbers
    the swings; lines without a number there are left out.
    """

    file: Line
    """The file, by its way from the sheet."""
    columns: dict[Slug, ColumnOf] | None = None
    """Which column holds which metric; otherwise the map in academy.yaml counts."""
    swing: Line | None = None
    """The column that numbers the swings; lines without a number there are left out."""


class Compare(Record):
    """A lesson of somebody who learns alongside, whose pictures stand beside this student's."""

    student: Slug
    """Whose pictures stand beside."""
    date: Day
    """Of which lesson."""


class DrillChoice(Record):
    """A drill that the instructor gives, with a dose of their own where it differs from the drill's."""

    drill: Slug
    """The id of the drill."""
    dose: WrittenDose | None = None
    """Your own dose, where it differs from the drill's."""
    note: Line | None = None
    """A word to the student about it."""


def _read_choice(written: Any) -> Any:
    return {"drill": written} if isinstance(written, str) else written


class Comfort(Record):
    """How a site felt to the student: 0 (nothing) to 10 (the worst they can imagine)."""

    site: Site
    """The place of the body."""
    score: Annotated[int, Field(ge=0, le=10)]
    """0 for nothing, 10 for the worst they can imagine, as the student says."""
    when: FeltWhen
    """When it was felt."""


class Practised(Record):
    """What the student did on one day: balls on the range, a round on the course, swings with speed sticks (light or
    heavy sticks swung fast, without a ball), or chips and putts."""

    date: Day
    """The day."""
    kind: PractisedKind = "range"
    """Balls on the range, a round on the course, swings with speed sticks (light or heavy sticks swung fast, without a
    ball), or chips and putts."""
    minutes: Annotated[int, Field(ge=0, le=600)] | None = None
    """How long."""
    swings: Annotated[int, Field(ge=0, le=2000)] | None = None
    """How many full swings."""
    note: Line | None = None
    """A remark."""


class Cleared(Record):
    """A licensed clinician has cleared the student to practise again after a stop."""

    by: Line
    """Which clinician, with the profession."""
    on: Day
    """When."""


class Lesson(Record):
    """One lesson: what was seen, measured, given and said."""

    student: Slug
    """The id of the student: the name of the folder."""
    date: Day
    """The day of the lesson, as in the file's name."""
    club: Club
    """The club that the numbers were taken with."""
    focus: Line | None = None
    """What the lesson was about, in one line; it stands below the heading."""
    readings: tuple[TypedReading, ...] = ()
    """Numbers that you type in."""
    readings_from: ReadingsFrom | None = None
    """Numbers from a file that a sensor exported."""
    stills: tuple[Still, ...] = ()
    """Pictures, and the marks on them that numbers are measured from."""
    tempo: Tempo | None = None
    """Frame numbers of one swing in a video, for the ratio of backswing to downswing."""
    compare: Compare | None = None
    """A lesson of another student, whose pictures stand beside this one's."""
    priorities: Annotated[tuple[Slug, ...], Field(max_length=2)] = ()
    """The metrics that the instructor wants worked on; they win over what the numbers would say."""
    drills: tuple[
        Annotated[DrillChoice, BeforeValidator(_read_choice, json_schema_input_type=str | DrillChoice)], ...
    ] = ()
    """The drills that you give; left out, the plan proposes some. A drill can be its id alone."""
    comfort: tuple[Comfort, ...] = ()
    """How the body felt."""
    practice_log: tuple[Practised, ...] = ()
    """What was practised since last time."""
    cleared: Cleared | None = None
    """A clinician's word that practice may go on after a stop."""
    notes: Text | None = None
    """Your letter to the student, in Markdown."""
