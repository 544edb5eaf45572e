"""The academy and its students, as written in academy.yaml and student.yaml."""

from datetime import date
from typing import Annotated, Any, Literal, Self
from zoneinfo import ZoneInfo

from pydantic import BeforeValidator, Field, TypeAdapter, field_validator, model_validator

from reportgen.records.amounts import Angle, Length, Mass, Quantity
from reportgen.records.base import Day, Line, Record, Slug, Text
from reportgen.records.lesson import ColumnOf
from reportgen.records.units import convert
from reportgen.records.words import Hips, PressureStyle, ScreenPosition, Sex, Side, Site, Stage, UnitSystem, Weekday

Mail = Annotated[
    str, Field(pattern=r"^[^@\s<>,;:\"]+@[^@\s<>,;:\"]+\.[^@\s<>,;:\"]+$", max_length=254, description="a mail address")
]

WebAddress = Annotated[
    str,
    Field(
        pattern=r"^https://[^\s/?#]+(/[^\s?#]*)?$",
        max_length=300,
        description="an address, as https://example.org/golf",
    ),
]

LanguageCode = Annotated[str, Field(pattern=r"^[a-z]{2,3}(_[A-Z]{2})?$", description="a language, as en, de or fr")]

ADULT_FROM = 18
SENIOR_FROM = 60
"""Age in years from which the senior bands apply (common practice, no source)."""

RESTRICTED_BELOW_DEG = 23.0
"""Passive internal rotation below this reads as a restricted hip: mean − 1 SD (31.1 − 8.1) of 36 golfers without
low-back pain, lead hip at 0° flexion: Murray E, Birley E, Twycross-Lewis R, Morrissey D. Phys Ther Sport
2009;10:131-135. The cut itself is derived; there is no agreed one."""


class Instructor(Record):
    """Who teaches, and where answers go."""

    name: Line
    """The name, as pages and letters print it."""
    mail: Mail | None = None
    """Where answers go."""


class MarkingError(Record):
    """Standard uncertainties of marks: a click and an end of the scale in pixels, the place of a landmark under
    clothing in millimetres."""

    click_px: Annotated[float, Field(gt=0, le=50)] = 3.0
    """How far a click falls from the point that was meant, in pixels."""
    scale_px: Annotated[float, Field(gt=0, le=50)] = 3.0
    """The same for the two ends of a scale, in pixels."""
    landmark_mm: Annotated[float, Field(ge=0, le=100)] = 12.0
    """How far the point that was meant lies from the joint itself, under clothing, in millimetres."""


class Academy(Record):
    """academy.yaml: who teaches, and the few choices that hold for every student.

    `secret` makes the addresses of the students' pages unguessable and keeps them the same from publish to publish.
    `certainty` is the probability from which a verdict is given (JCGM 106 conformity), 0.5 to 1.
    """

    name: Line
    """The name of your academy, on top of every page."""
    instructor: Instructor
    """Who teaches here."""
    secret: Annotated[
        str, Field(min_length=20, max_length=200, description="20 or more characters that nobody can guess")
    ]
    """A long phrase that makes the addresses of the students' pages unguessable. Keep it, and show it to nobody: with
    another one every address changes."""
    language: LanguageCode = "en"
    """The language of pages and mails, as en, de or fr; a student can have another."""
    units: UnitSystem = "metric"
    """Whether lengths and speeds are printed in metric units or in inches and miles an hour; a student can have
    others. Sheets may use any unit."""
    timezone: str = "UTC"
    """Where the academy is, by the tz database; decides what day it is."""
    paper: Literal["A4", "Letter"] = "A4"
    """The paper of the recap."""
    certainty: Annotated[float, Field(ge=0.5, lt=1)] = 0.80
    """The probability from which a value is called in or out of its range; below it the report says too close to
    call."""
    lesson_every: Annotated[int, Field(ge=1, le=365)] = 7
    """Days from one lesson to the next; the desk lists who is due by it."""
    marking: MarkingError = MarkingError()
    """How exact your marks on stills are; the figures given are meant for careful clicks on clothed players."""
    columns: dict[Slug, ColumnOf] = Field(default_factory=dict)
    """Which column of the academy's sensor exports holds which metric; a sheet can say otherwise."""
    theme: str | None = None
    """A folder inside the academy with templates and style that take the place of the shipped ones."""
    notice: Line | None = None
    """A line on top of every page, for instance that an academy is invented."""
    site: WebAddress | None = None
    """The address at which what is published can be read, beginning with https://; letters and mails lead there."""
    private: Literal["sealed", "link-only"] | None = None
    """Whether students' pages and the library are sealed by passphrases, or open to everybody who has the address.
    Where it is not given: sealed as soon as there is a keyring beside the academy's folder."""

    @field_validator("timezone")
    @classmethod
    def _known_timezone(cls, name: str) -> str:
        try:
            ZoneInfo(name)
        except (KeyError, ValueError, OSError):  # not there, no path inside the database, a folder of it
            raise ValueError(
                "is not a name of the tz database", "Write it as Europe/Lisbon or America/Denver."
            ) from None
        return name


class HipMobility(Record):
    """One hip: restricted or not, with its passive internal rotation in degrees where it was measured."""

    hips: Hips
    rotation_deg: float | None = None


def _read_hip(written: Any) -> Any:
    if not isinstance(written, str):
        return written
    if written in ("typical", "restricted"):
        return HipMobility(hips=written)
    try:
        quantity = _ANGLE.validate_python(written)
    except ValueError:
        raise ValueError(
            "is not the mobility of a hip", "Write typical, restricted, or the passive inward turn as in 28 deg."
        ) from None
    degrees = convert(quantity.value, quantity.unit, "deg")
    if not 0 <= degrees <= 90:
        raise ValueError("is out of its limits", "Write an angle from 0 to 90 deg.")
    return HipMobility(hips="restricted" if degrees < RESTRICTED_BELOW_DEG else "typical", rotation_deg=degrees)


_ANGLE: TypeAdapter[Quantity] = TypeAdapter(Angle)

Hip = Annotated[
    HipMobility,
    BeforeValidator(_read_hip, json_schema_input_type=str),
    Field(description="typical, restricted, or the passive inward turn, as 28 deg"),
]


class Mobility(Record):
    """Mobility of each hip; a side that was not looked at counts as typical.

    `position` is how the passive turn was measured: prone (face down), supine (on the back, legs straight) or seated.
    A hip turns differently in each, so the limit of a restricted hip holds for a straight hip only.
    """

    lead_hip: Hip = Field(default=HipMobility(hips="typical"), alias="lead-hip")
    """The hip on the side of the target."""
    trail_hip: Hip = Field(default=HipMobility(hips="typical"), alias="trail-hip")
    """The hip away from the target."""
    position: ScreenPosition = "prone"
    """How the student lay or sat while the hips were looked at: prone is face down, supine on the back."""

    @property
    def restricted(self) -> tuple[Site, ...]:
        """The hips that are restricted, by the instructor's word or by their figure."""
        sides: tuple[tuple[Site, HipMobility], ...] = (("lead-hip", self.lead_hip), ("trail-hip", self.trail_hip))
        counts = self.position != "seated"
        return tuple(site for site, hip in sides if hip.hips == "restricted" and (counts or hip.rotation_deg is None))

    @property
    def hips(self) -> Hips:
        """Restricted as soon as one hip is."""
        return "restricted" if self.restricted else "typical"

    @property
    def difference(self) -> float | None:
        """Degrees between the two sides; None where one was not measured."""
        lead, trail = self.lead_hip.rotation_deg, self.trail_hip.rotation_deg
        return None if lead is None or trail is None else abs(lead - trail)


class Growth(Record):
    """One measurement of a growing player, shoes off: standing height, and where they were taken sitting height (from
    the seat to the top of the head) and mass."""

    date: Day
    """The day of measuring."""
    height: Length
    """Standing height, shoes off."""
    sitting_height: Length | None = None
    """From the seat to the top of the head."""
    mass: Mass | None = None
    """Body mass."""


class Consent(Record):
    """Leave to publish pictures: who gave it, when, and when it was taken back."""

    given_by: Line
    """Who gave leave; for a minor, a parent or guardian."""
    given_on: Day
    """When it was given."""
    withdrawn_on: Day | None = None
    """When it was taken back; from the next publish on no picture is shown."""


class Target(Record):
    """A range that the instructor has set for this one student, and why."""

    metric: Slug
    """What the range is for."""
    low: float | None = None
    """Its lower end; left out, there is none."""
    high: float | None = None
    """Its upper end; left out, there is none."""
    unit: str
    """The unit of low and high."""
    reason: Line
    """Why this student has a range of their own; the student reads it."""

    @model_validator(mode="after")
    def _some_limit(self) -> Self:
        if self.low is None and self.high is None:
            raise ValueError("has no limit", "Give low, high or both.")
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise ValueError(f"has low {self.low:g} at or above high {self.high:g}", "Swap the two.")
        return self


class PracticeTime(Record):
    """What the student can give: minutes on each of the named days."""

    minutes: Annotated[int, Field(ge=5, le=240)]
    """Minutes on each of these days."""
    days: Annotated[tuple[Weekday, ...], Field(min_length=1, max_length=7)]
    """The days of the week, in any order."""


class Student(Record):
    """student.yaml: who the student is and what this body needs."""

    name: Line
    """The full name."""
    called: Line | None = None
    """How the report addresses the student; the first word of the name where it is not given."""
    born: Day
    """The day of birth: ranges, cautions and ceilings of practice go by age."""
    plays: Side
    """right for a right-handed player, left for a left-handed one; all else is said as lead and trail."""
    sex: Sex | None = None
    """Used only where a published value differs by it."""
    mobility: Mobility = Mobility()
    """What the hip screen showed; the ranges that fit restricted hips are then taken."""
    growth: tuple[Growth, ...] = ()
    """Measurements of a growing player, oldest first; from them the growth spurt is estimated."""
    watch: tuple[Site, ...] = ()
    """Places of the body to be careful with: drills that load them stay out of the plan."""
    pressure_style: PressureStyle | None = None
    """Where the pressure goes by habit, as plates show it; both are played well."""
    pictures: Consent | None = None
    """Leave to show pictures on the student's pages; without it none is published."""
    language: LanguageCode | None = None
    """The language of this student's pages and mails, where it is not the academy's."""
    units: UnitSystem | None = None
    """The units of this student's pages, where they are not the academy's."""
    mail: tuple[Mail, ...] = ()
    """Where the recap goes."""
    lock_pdf: bool = False
    """Whether the recap that goes by mail is encrypted, to open with the student's own passphrase."""
    guardian: Instructor | None = None
    """For a minor: the adult to whom mail goes."""
    targets: tuple[Target, ...] = ()
    """Ranges of their own, which win over all others."""
    equipment: tuple[Slug, ...] = ()
    """What the student has at hand for drills; a drill that needs something else is not proposed."""
    shares_with: tuple[Slug, ...] = ()
    """Students beside whose pictures this one's may stand; both must name each other."""
    practice: PracticeTime | None = None
    """The time there is for practice; the week is laid out within it."""
    about: Text | None = None
    """For the instructor's desk alone; never published to the student."""

    @property
    def first_name(self) -> str:
        """How the report addresses the student."""
        return self.called or self.name.split()[0]

    def age_on(self, day: date) -> int:
        """Completed years on `day`; a birthday on 29 February falls on 1 March in other years."""
        return day.year - self.born.year - ((day.month, day.day) < (self.born.month, self.born.day))

    def stage_on(self, day: date) -> Stage:
        """Junior below 18, senior from 60, adult between."""
        age = self.age_on(day)
        return "junior" if age < ADULT_FROM else "senior" if age >= SENIOR_FROM else "adult"
