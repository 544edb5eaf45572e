"""The academy and its students, as written in academy.yaml and student.yaml."""

from collections.abc import Mapping
from datetime import date
from pathlib import PurePosixPath, PureWindowsPath
from typing import Annotated, ClassVar, Literal, Self
from zoneinfo import ZoneInfo

from pydantic import (
    ConfigDict,
    Field,
    ValidationInfo,
    field_validator,
    model_validator,
)

from reportgen.records.aims import Goal, Handicap, PlayedRound, skill_by
from reportgen.records.amounts import Length, Mass
from reportgen.records.base import Day, Letter, Line, Record, Slug, UnitName
from reportgen.records.bounds import (
    COLUMNS,
    FOLLOWED,
    GROWTHS,
    LINE,
    NAME,
    OTHERS,
    ROUNDS,
    TARGETS,
    UPLOAD_WORDS,
    WORDS,
    Figure,
    by_unit,
)
from reportgen.records.mail import Mail, MailAs, StudentMail, WrittenMail
from reportgen.records.mobility import Mobility
from reportgen.records.secret import ANOTHER_SECRET, secret_fault
from reportgen.records.tables import ColumnOf
from reportgen.records.words import PressureStyle, Sex, Side, Site, Skill, Stage, UnitSystem, Weekday

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


class Instructor(Record):
    """Who teaches, and where answers go."""

    name: Line
    mail: Mail | None = None


class MarkingError(Record):
    """Standard uncertainties of marking and filming: clicks in pixels, where landmarks are seen in millimetres along
    each axis, how cameras are turned, where the scale lies, how far apart in time two pictures of one moment are."""

    GONE: ClassVar[Mapping[str, str]] = {
        "landmark_mm": "Take it out: 12 mm are habit_mm: 10, visit_mm: 5 and still_mm: 4 now. Write what differs."
    }

    click_px: Annotated[float, Field(gt=0, le=50)] = 3.0
    scale_px: Annotated[float, Field(gt=0, le=50)] = 3.0
    habit_mm: Annotated[float, Field(ge=0, le=100)] = 10.0
    visit_mm: Annotated[float, Field(ge=0, le=100)] = 5.0
    still_mm: Annotated[float, Field(ge=0, le=100)] = 4.0
    yaw_deg: Annotated[float, Field(ge=0, le=30)] = 3.0
    roll_deg: Annotated[float, Field(ge=0, le=30)] = 1.0
    scale_plane_m: Annotated[float, Field(ge=0, le=1)] = 0.15
    lag_ms: Annotated[float, Field(ge=0, le=200)] = 8.0


class ShotError(Record):
    """Standard uncertainties of what a device says of one shot, where `columns` gives none: degrees, or percent of the
    number itself; those of `side` are percent of the carry. The figures given are assumptions: no open figure was
    found."""

    start_deg: Annotated[float, Field(gt=0, le=30)] = 0.5
    launch_deg: Annotated[float, Field(gt=0, le=30)] = 0.5
    face_deg: Annotated[float, Field(gt=0, le=30)] = 1.0
    path_deg: Annotated[float, Field(gt=0, le=30)] = 1.0
    attack_deg: Annotated[float, Field(gt=0, le=30)] = 1.0
    loft_deg: Annotated[float, Field(gt=0, le=30)] = 1.0
    plane_deg: Annotated[float, Field(gt=0, le=30)] = 1.0
    axis_deg: Annotated[float, Field(gt=0, le=30)] = 2.0
    spin_percent: Annotated[float, Field(gt=0, le=100)] = 5.0
    carry_percent: Annotated[float, Field(gt=0, le=100)] = 2.0
    side_percent: Annotated[float, Field(gt=0, le=100)] = 1.0
    height_percent: Annotated[float, Field(gt=0, le=100)] = 5.0
    strike_mm: Annotated[float, Field(gt=0, le=100)] = 4.0


class Academy(Record):
    """academy.yaml: who teaches, and the few choices that hold for every student.

    `secret` makes the addresses of the students' pages unguessable and keeps them the same from publish to publish.
    `certainty` is the probability from which a verdict is given (JCGM 106 conformity), 0.5 to 1.
    """

    name: Line
    instructor: Instructor
    secret: Annotated[
        str, Field(min_length=20, max_length=200, description="20 or more characters that nobody can guess")
    ]
    language: LanguageCode = "en"
    units: UnitSystem = "metric"
    timezone: Annotated[str, Field(max_length=NAME)] = "UTC"
    paper: Literal["A4", "Letter"] = "A4"
    certainty: Annotated[float, Field(ge=0.5, lt=1)] = 0.80
    lesson_every: Annotated[int, Field(ge=1, le=365)] = 7
    marking: MarkingError = MarkingError()
    shot_u: ShotError = ShotError()
    columns: Annotated[dict[Slug, ColumnOf], Field(max_length=COLUMNS)] = Field(default_factory=dict)
    theme: Annotated[str, Field(max_length=LINE)] | None = None
    notice: Line | None = None
    site: WebAddress | None = None
    private: Literal["sealed", "link-only"] | None = None
    mail: MailAs = "report"
    keep_days: Annotated[int, Field(ge=30, le=36_500)] | None = None
    inbox: Line | None = None
    upload_with: Annotated[tuple[Line, ...], Field(min_length=1, max_length=UPLOAD_WORDS)] | None = None

    @field_validator("mail")
    @classmethod
    def _with_an_address(cls, what: MailAs, info: ValidationInfo) -> MailAs:
        if what == "notice" and info.data.get("site", "wrong") is None:
            raise ValueError("has no address to give", "Add site: https://... with the address of your site.")
        return what

    @field_validator("inbox")
    @classmethod
    def _a_whole_path(cls, folder: str | None) -> str | None:
        ways = () if folder is None else (PurePosixPath(folder), PureWindowsPath(folder))
        if folder is not None and not folder.startswith("~") and not any(way.is_absolute() for way in ways):
            raise ValueError("is no whole path of a folder", "Write it from the beginning, as in ~/Pictures/Phone.")
        return folder

    @field_validator("upload_with")
    @classmethod
    def _a_command(cls, words: tuple[str, ...] | None) -> tuple[str, ...] | None:
        if words is not None and len(words) == 1 and " " in words[0].strip():
            mend = "Write each word by itself, as in upload_with: [rsync, -a, '{site}/', host:golf/]."
            raise ValueError("is a whole command in one word", mend)
        if words is not None and "{site}" not in "".join(words):
            raise ValueError("does not say what to upload", "Write '{site}' where the folder of the site belongs.")
        return words

    @field_validator("secret")
    @classmethod
    def _nobody_guesses_it(cls, secret: str, rest: ValidationInfo) -> str:
        if (wrong := secret_fault(secret, str(rest.data.get("name")))) is not None:
            raise ValueError(wrong, ANOTHER_SECRET)
        return secret

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


class Growth(Record):
    """One measurement of a growing player, shoes off: standing height, and where they were taken sitting height (from
    the seat to the top of the head) and mass."""

    date: Day
    height: Length
    sitting_height: Length | None = None
    mass: Mass | None = None


class Consent(Record):
    """Leave to publish pictures: who gave it, when, and when it was taken back."""

    given_by: Line
    given_on: Day
    withdrawn_on: Day | None = None


class Target(Record):
    """A range that the instructor has set for this one student, and why."""

    model_config = ConfigDict(json_schema_extra=by_unit("low", "high"))

    metric: Slug
    low: Figure | None = None
    high: Figure | None = None
    unit: UnitName
    reason: Line

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
    days: Annotated[tuple[Weekday, ...], Field(min_length=1, max_length=7)]


class Student(Record):
    """student.yaml: who the student is and what this body needs."""

    name: Line
    called: Line | None = None
    born: Day
    plays: Side
    sex: Sex | None = None
    mobility: Mobility = Mobility()
    growth: Annotated[tuple[Growth, ...], Field(max_length=GROWTHS)] = ()
    watch: Annotated[tuple[Site, ...], Field(max_length=WORDS)] = ()
    pressure_style: PressureStyle | None = None
    pictures: Consent | None = None
    language: LanguageCode | None = None
    units: UnitSystem | None = None
    mail: WrittenMail = StudentMail()
    lock_pdf: bool = False
    guardian: Instructor | None = None
    targets: Annotated[tuple[Target, ...], Field(max_length=TARGETS)] = ()
    follow: Annotated[tuple[Slug, ...], Field(max_length=FOLLOWED)] = ()
    equipment: Annotated[tuple[Slug, ...], Field(max_length=OTHERS)] = ()
    shares_with: Annotated[tuple[Slug, ...], Field(max_length=OTHERS)] = ()
    practice: PracticeTime | None = None
    goal: Goal | None = None
    handicap: Handicap | None = None
    beginner: bool = False
    rounds: Annotated[tuple[PlayedRound, ...], Field(max_length=ROUNDS)] = ()
    about: Letter | None = None

    @property
    def first_name(self) -> str:
        """How the report addresses the student."""
        return self.called or self.name.split()[0]

    @property
    def skill(self) -> Skill | None:
        """How practised the student is: a beginner by the instructor's word, else by the handicap; None if unknown."""
        return "beginner" if self.beginner else skill_by(self.handicap)

    def age_on(self, day: date) -> int:
        """Completed years on `day`; a birthday on 29 February falls on 1 March in other years."""
        return day.year - self.born.year - ((day.month, day.day) < (self.born.month, self.born.day))

    def stage_on(self, day: date) -> Stage:
        """Junior below 18, senior from 60, adult between."""
        age = self.age_on(day)
        return "junior" if age < ADULT_FROM else "senior" if age >= SENIOR_FROM else "adult"
