"""Whether the patterns of a player have changed, over tables of three dates or more: where the shots land, and how far
they scatter."""

from collections.abc import Sequence
from datetime import date
from math import expm1, fsum, log, sqrt
from typing import NamedTuple

from reportgen.judging.course import AT_MOST, DATES_AT_LEAST
from reportgen.judging.days import OnDay, over_days
from reportgen.judging.pattern import Shots
from reportgen.judging.two_patterns import distances
from reportgen.measuring.typed import mean_and_sd
from reportgen.records.shot_findings import PatternCourse, ShotCourse

SHOTS_AT_LEAST = 5
"""A date with fewer shots is left out."""
DAY_OF_MEAN = 1 / 3
"""How far the mean of a steady player scatters from day to day, as a share of the SD of single shots (own figure, from
the standard error of mean side over a week of Villarrasa-Sapiña et al. 2022, Sensors 22:9069)."""
DAY_OF_SPREAD = 0.15
"""How far the logarithm of the spread of a steady player scatters from day to day (own figure, no source)."""
_NOTHING = 1e-12
"""The least variance of single shots, m², so that shots on one line have a course across it."""

HAS_CHANGED = 0.01
"""How seldom chance alone may say so of side, of carry or of the spread; of any of the three in 1 of 100 (own
simulation)."""


class Table(NamedTuple):
    """The shots of one date."""

    on: date
    shots: Shots


def pattern_course(tables: Sequence[Table]) -> PatternCourse | None:
    """What became of the patterns; None where there are fewer than three dates with five shots or more, and where the
    shots of a date all landed in one place."""
    dates = _by_date(tables)[-AT_MOST:]
    away = [distances(table.shots) for table in dates]
    if len(dates) < DATES_AT_LEAST or not all(map(any, away)):
        return None
    relative = _relative(away)
    spread = over_days([_spread(table.on, of, relative) for table, of in zip(dates, away, strict=True)], HAS_CHANGED)
    return PatternCourse(side=_mean(dates, 0), carry=_mean(dates, 1), spread=_as_share(spread))


def _by_date(tables: Sequence[Table]) -> list[Table]:
    """The shots of each date as one table, oldest first, where there are enough."""
    days = sorted({table.on for table in tables})
    joined = [Table(day, [shot for table in tables if table.on == day for shot in table.shots]) for day in days]
    return [table for table in joined if len(table.shots) >= SHOTS_AT_LEAST]


def _mean(dates: Sequence[Table], axis: int) -> ShotCourse:
    """The course of the mean along one axis, with the SD of single shots pooled over the dates."""
    values = [[shot[axis] for shot in table.shots] for table in dates]
    found = [mean_and_sd(tuple(of_day)) for of_day in values]
    free = [len(of_day) - 1 for of_day in values]
    variance = fsum(n * sd**2 for n, (_, sd) in zip(free, found, strict=True)) / sum(free)
    variance = max(variance, _NOTHING)
    return over_days(
        [
            OnDay(table.on, mean, variance * (1 / len(table.shots) + DAY_OF_MEAN**2), len(table.shots))
            for table, (mean, _) in zip(dates, found, strict=True)
        ],
        HAS_CHANGED,
    )


def _spread(on: date, away: Sequence[float], relative: float) -> OnDay:
    """The logarithm of how far the shots of a date are from its median centre, on average. `relative` is the variance
    of single distances over their squared mean."""
    n = len(away)  # few shots are nearer to their own centre than to the true one
    return OnDay(on, log(fsum(away) / n * sqrt(n / (n - 1))), relative / n + DAY_OF_SPREAD**2, n)


def _relative(away: Sequence[Sequence[float]]) -> float:
    found = [mean_and_sd(tuple(of_day)) for of_day in away]
    free = [len(of_day) - 1 for of_day in away]
    return fsum(n * (sd / mean) ** 2 for n, (mean, sd) in zip(free, found, strict=True)) / sum(free)


def _as_share(of: ShotCourse) -> ShotCourse:
    """A course of logarithms as that of shares."""
    low, high = of.interval
    return of.model_copy(
        update={
            "by": expm1(of.by),
            "interval": (expm1(low), expm1(high)),
            "detectable": expm1(of.detectable),
        }
    )
