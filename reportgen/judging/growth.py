"""Where a growing player stands: an estimate of the growth spurt, for planning, and no medical statement.

The maturity offset is the time in years from the peak of the growth spurt (peak height velocity), below 0 before it.
Both equations were made on groups; for one child they err by about a year, more in early and late maturers (Koziel S,
Malina RM. Sports Med 2018, doi 10.1007/s40279-017-0750-y). So a stage is told with its interval, and never a date.
"""

from collections.abc import Iterator
from datetime import date

from reportgen.records.academy import ADULT_FROM, Growth, Student
from reportgen.records.body import GrowthEstimate, MaturityOffset
from reportgen.records.units import convert
from reportgen.records.words import GrowthStage, Sex

ESTIMATE_FROM = 8.0
"""Age in years from which the equations are used; the groups they come from were not younger (memory)."""

STALE_AFTER_DAYS = 92
"""A quarter of a year: an older measurement tells nothing of today (common practice, no source)."""

VELOCITY_DAYS = (90, 400)
"""Least and most days between two heights that give a growth in cm a year: closer together the error of measuring
is as large as the growth, further apart the spurt is lost in the mean (common practice, no source)."""

HALF_WIDTH = 1.96 * 0.6
"""Years to each side of an offset, about 95 %. 0.6 is the larger published standard error, rounded up: Mirwald 2002,
0.59 for boys and 0.57 for girls (read on pages that quote it; its abstract gives 0.49 and 0.50)."""

SOURCE = (
    "Mirwald RL, Baxter-Jones ADG, Bailey DA, Beunen GP. Med Sci Sports Exerc 2002;34(4):689-694; Moore SA et al. Med "
    "Sci Sports Exerc 2015;47(8):1755-1764 (coefficients read on pages that quote them)"
)

_MIRWALD_ERROR: dict[Sex, float] = {"male": 0.59, "female": 0.57}
_MOORE_ERROR: dict[Sex, float] = {"male": 0.51, "female": 0.52}
_DAYS_A_YEAR = 365.25


def mirwald_2002(sex: Sex, age: float, height: float, sitting: float, mass: float) -> float:
    """Maturity offset in years. Age in years, heights in cm, mass in kg. Standard error 0.59 (boys), 0.57 (girls).

    The last term is mass over height times 100; copies of the equations that leave out the 100 are off by more than
    half a year for boys and about two years for girls.
    """
    leg, per_height = height - sitting, mass / height * 100
    if sex == "male":
        return (
            -9.236 + 0.0002708 * leg * sitting - 0.001663 * age * leg + 0.007216 * age * sitting + 0.02292 * per_height
        )
    return (
        -9.376
        + 0.0001882 * leg * sitting
        + 0.0022 * age * leg
        + 0.005841 * age * sitting
        - 0.002658 * age * mass
        + 0.07693 * per_height
    )


def moore_2015(sex: Sex, age: float, height: float, sitting: float | None = None) -> float:
    """Maturity offset in years. Age in years, heights in cm. Standard error 0.51 (boys), 0.52 (girls).

    Girls need the standing height alone; boys have a second equation for where no sitting height was taken.
    """
    if sex == "female":
        return -7.709133 + 0.0042232 * age * height
    if sitting is None:
        return -7.999994 + 0.0036124 * age * height
    return -8.128741 + 0.0070346 * age * sitting


def growth_of(student: Student, day: date) -> GrowthEstimate | None:
    """What the measurements up to `day` tell; None for an adult, and where the last one is older than a quarter of a
    year. The offset is that of the day of measuring."""
    measured = [growth for growth in student.growth if growth.date <= day]
    if not measured or student.age_on(day) >= ADULT_FROM or (day - measured[-1].date).days > STALE_AFTER_DAYS:
        return None
    last = measured[-1]
    offsets = tuple(_offsets(student, last))
    interval = None
    if offsets:
        years = [offset.years for offset in offsets]
        interval = (min(years) - HALF_WIDTH, max(years) + HALF_WIDTH)
    stage = stage_of(interval)
    return GrowthEstimate(
        measured_on=last.date,
        offsets=offsets,
        interval=interval,
        stage=stage,
        velocity=_velocity(measured),
        source=SOURCE,
    )


def stage_of(interval: tuple[float, float] | None) -> GrowthStage | None:
    """`before` or `after` the growth spurt where the whole interval lies on that side of its peak, else `around`."""
    if interval is None:
        return None
    low, high = interval
    return "before" if high < 0 else "after" if low > 0 else "around"


def centimetres(measured: Growth) -> float:
    """The standing height."""
    return convert(measured.height.value, measured.height.unit, "cm")


def age_at(student: Student, day: date) -> float:
    """Age in decimal years."""
    return (day - student.born).days / _DAYS_A_YEAR


def _offsets(student: Student, measured: Growth) -> Iterator[MaturityOffset]:
    sex, age, height = student.sex, age_at(student, measured.date), centimetres(measured)
    if sex is None or age < ESTIMATE_FROM:
        return
    sitting = None
    if measured.sitting_height is not None:
        sitting = convert(measured.sitting_height.value, measured.sitting_height.unit, "cm")
        if measured.mass is not None:
            mass = convert(measured.mass.value, measured.mass.unit, "kg")
            years = mirwald_2002(sex, age, height, sitting, mass)
            yield MaturityOffset(equation="Mirwald 2002", years=years, standard_error=_MIRWALD_ERROR[sex])
    years = moore_2015(sex, age, height, sitting)
    yield MaturityOffset(equation="Moore 2015", years=years, standard_error=_MOORE_ERROR[sex])


def _velocity(measured: list[Growth]) -> float | None:
    """Growth in cm a year between the last measurement and the latest one that is far enough before it."""
    least, most = VELOCITY_DAYS
    last = measured[-1]
    for earlier in reversed(measured[:-1]):
        days = (last.date - earlier.date).days
        if least <= days <= most:
            return (centimetres(last) - centimetres(earlier)) / days * _DAYS_A_YEAR
    return None
