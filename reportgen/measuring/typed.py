"""Readings that were typed in -> values in the metric's unit with a standard uncertainty."""

from math import fsum, sqrt

from reportgen.records.content import Metric
from reportgen.records.lesson import TypedReading
from reportgen.records.report import Reading
from reportgen.records.units import convert
from reportgen.sheets.checks import default_u


def typed_reading(typed: TypedReading, metric: Metric) -> Reading:
    """The reading in the metric's unit.

    One value has the device's own `u`, or the metric's figure for the way it was taken (type B). The mean of n swings
    has that and s/√n (type A), added in squares, with the effective degrees of freedom of Welch and Satterthwaite
    (JCGM 100:2008, 4.2.3 and G.4.1; the type B figure counts as exact): what a device gets wrong every time does not
    average out. Raises ValueError where neither the reading nor the metric has a `u` for this way of taking it.
    """
    u_way = default_u(metric, typed.how, typed.views) if typed.u is None else convert(typed.u, typed.unit, metric.unit)
    if u_way is None:
        raise ValueError(f"{metric.id} has no uncertainty for readings {typed.how}")
    swings = tuple(convert(value, typed.unit, metric.unit) for value in typed.trials or ())
    if not swings:
        value = convert(float(typed.value or 0.0), typed.unit, metric.unit)
        return Reading(metric=metric.id, value=value, u=u_way, how=typed.how, views=typed.views, note=typed.note)
    mean, sd = mean_and_sd(swings)
    u_mean = sd / sqrt(len(swings))
    u = sqrt(u_way**2 + u_mean**2)
    dof = (len(swings) - 1) * (u / u_mean) ** 4 if u_mean > 0 else None
    return Reading(
        metric=metric.id, value=mean, u=u, dof=dof, how=typed.how, views=typed.views, swings=swings, note=typed.note
    )


def mean_and_sd(values: tuple[float, ...]) -> tuple[float, float]:
    """Mean and sample standard deviation (n − 1) of at least two values; sums without rounding loss, so that values
    that differ only in late digits keep them (checked against NIST's certified data sets)."""
    if len(values) < 2:
        raise ValueError("a standard deviation needs at least two values")
    mean = fsum(values) / len(values)
    mean += fsum(value - mean for value in values) / len(values)
    return mean, sqrt(fsum((value - mean) ** 2 for value in values) / (len(values) - 1))
