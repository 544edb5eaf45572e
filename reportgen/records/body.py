"""What a report says of the body beside the swing: growth, hip mobility, comfort, and how much is practised."""

from datetime import date
from typing import Literal

from reportgen.records.base import Record
from reportgen.records.words import FeltWhen, GrowthStage, PractisedKind, ScreenPosition, Site


class MaturityOffset(Record):
    """Years from the peak of the growth spurt by one equation, below 0 before it, with the equation's published
    standard error in years."""

    equation: Literal["Mirwald 2002", "Moore 2015"]
    years: float
    standard_error: float


class GrowthEstimate(Record):
    """Where a growing player stands by the last measurement.

    `interval` holds the years from the peak of the growth spurt at about 95 %, over all `offsets`; `stage` is `around`
    where it holds 0. `velocity` is the growth in cm a year since the measurement before, None where the two are too
    close. An estimate for planning, and no medical statement.
    """

    measured_on: date
    offsets: tuple[MaturityOffset, ...]
    interval: tuple[float, float] | None
    stage: GrowthStage | None
    velocity: float | None
    source: str


class Screen(Record):
    """The mobility screen: passive internal rotation of each hip, in degrees, None where it was not measured.

    `difference` is between the two sides; `restricted` names the hips that turn less than the derived limit, or that
    the instructor calls so.
    """

    lead_deg: float | None
    trail_deg: float | None
    position: ScreenPosition
    difference: float | None
    restricted: tuple[Site, ...]
    source: str


class Felt(Record):
    """The highest comfort score of a site in one lesson's sheet."""

    date: date
    score: int
    when: FeltWhen


class ComfortCourse(Record):
    """The comfort scores of one site over the last lessons that have one, oldest first, 0 (nothing) to 10.

    `rises` counts how many lessons up to the last one each had a higher score than the one before it.
    """

    site: Site
    felt: tuple[Felt, ...]
    rises: int


class Load(Record):
    """Practice up to and on one day. Swings are full ones: chips and putts (`short-game`) are not among them.

    `weekly_swings` are those of the last four weeks with swings in the log, the newest last, none older than eight
    weeks; `mean_of_last_four` is their mean. `rise` is this week's swings over the mean of the logged weeks before it
    (four at most, two at least; None with fewer), a ratio: 1 is no change. `swings_this_week` is None where none was
    counted. `hours_this_week` are the minutes in the log. A day counts in `days_this_week` and `days_in_a_row` (the
    longest run of days that reaches into this week) where practice is logged (a day of rest is none) or a lesson was
    held, and so does a month in `months_in_a_row` (calendar months up to this one). `kinds` are those of the last four
    weeks; `age` is in completed years.
    """

    weekly_swings: tuple[int, ...]
    mean_of_last_four: float | None
    swings_this_week: int | None
    rise: float | None
    days_this_week: int
    hours_this_week: float
    days_in_a_row: int
    months_in_a_row: int
    most_swings_a_day: int | None = None
    """The most full swings on one of the last seven days, None where none was counted,"""
    most_swings_in_two_days: int | None = None
    """and on two days that follow one another."""
    kinds: tuple[PractisedKind, ...]
    age: int

    @property
    def rest_days(self) -> int:
        """Days of the last seven without golf, as far as the log tells."""
        return 7 - self.days_this_week
