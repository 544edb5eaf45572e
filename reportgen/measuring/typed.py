"""Readings that were typed in -> values in the metric's unit with a standard uncertainty."""

from math import fsum, sqrt

from reportgen.measuring.player import of_player
from reportgen.records.content import Metric
from reportgen.records.findings import Parts, Reading
from reportgen.records.lesson import TypedReading
from reportgen.records.units import convert
from reportgen.records.words import How
from reportgen.sheets.checks import default_u


def typed_reading(typed: TypedReading, metric: Metric) -> Reading:
    """The reading in the metric's unit.

    One value has the device's own `u`, or the metric's figure for the way it was taken (type B). The mean of n swings
    has that and s/√n (type A; JCGM 100:2008, 4.2.3), added in squares, with effective degrees of freedom (`dof_of`):
    what a device gets wrong every time does not average out. The type B figure counts as exact. Raises ValueError where
    neither the reading nor the metric has a `u` for this way of taking it.
    """
    u_way = default_u(metric, typed.how, typed.views) if typed.u is None else convert(typed.u, typed.unit, metric.unit)
    if u_way is None:
        raise ValueError(f"{metric.id} has no uncertainty for readings {typed.how}")
    swings = tuple(convert(value, typed.unit, metric.unit) for value in typed.trials or ())
    taken = {"metric": metric.id, "how": typed.how, "views": typed.views, "note": typed.note}
    if not swings:
        value = convert(float(typed.value or 0.0), typed.unit, metric.unit)
        return Reading(**taken, value=value, u=u_way, parts=_parts(u_way, typed.how, 0.0, metric, 1))
    mean, sd = mean_and_sd(swings)
    u_mean = sd / sqrt(len(swings))
    u = sqrt(u_way**2 + u_mean**2)
    parts = _parts(u_way, typed.how, u_mean, metric, len(swings))
    return Reading(**taken, value=mean, u=u, dof=dof_of(u, u_mean, len(swings)), swings=swings, parts=parts)


def _parts(u_way: float, how: How, u_mean: float, metric: Metric, swings: int) -> Parts:
    return Parts(**of_way(u_way, how), swing=u_mean, player=of_player(metric.scatter, swings, u_mean))


def dof_of(u: float, u_mean: float, swings: int) -> float | None:
    """The effective degrees of freedom of `u`, of which the mean of so many swings makes `u_mean`; None (infinitely
    many) where they add nothing.

    They are those of Welch and Satterthwaite (JCGM 100:2008, G.4.1) with 1 + 6/(n − 1) times the variance of the
    swings. Few swings often scatter less than they should, and the formula as it stands then takes u for better known
    than it is: intervals of two swings hold the truth in 87 to 95 of 100, with this factor those of 2, 3 and 5 swings
    in 93.5 to 97, whatever the rest of u is (own simulation).
    """
    if u_mean <= _NOTHING * u:
        return None
    rest, large = max(u**2 - u_mean**2, 0.0), u_mean**2 * (1 + 6 / (swings - 1))
    return (swings - 1) * ((rest + large) / large) ** 2


def of_way(u: float, how: How) -> dict[str, float]:
    """How the standard uncertainty of a typed value is shared between what is alike in every lesson (`habit`) and what
    is of one lesson alone (`visit`). Half of an eye's variance is its habit (own figure). What a device gets wrong
    every time is not known of it, so that none of it is taken to cancel."""
    return {"habit": u * sqrt(0.5), "visit": u * sqrt(0.5)} if how == "by-eye" else {"visit": u}


_NOTHING = 1e-9
"""The share of the whole uncertainty below which the swings add nothing to it. The fourth power of its inverse is still
a number."""


def mean_and_sd(values: tuple[float, ...]) -> tuple[float, float]:
    """Mean and sample standard deviation (n − 1) of at least two values; sums without rounding loss, so that values
    that differ only in late digits keep them (checked against NIST's certified data sets)."""
    if len(values) < 2:
        raise ValueError("a standard deviation needs at least two values")
    mean = fsum(values) / len(values)
    mean += fsum([value - mean for value in values]) / len(values)
    return mean, sqrt(fsum([(value - mean) ** 2 for value in values]) / (len(values) - 1))
