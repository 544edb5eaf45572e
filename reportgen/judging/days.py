"""Whether a figure of a player's shots has changed: a straight line over three dates or more.

Shots of one day are more alike than those of two, so that more shots do not make a date as sure as one likes. The
variance of a date is that of its shots and that of the player's days, and both grow where the dates scatter more about
the line than they say.
"""

from collections.abc import Sequence
from datetime import date
from math import fsum, sqrt
from typing import NamedTuple

from reportgen.judging.course import factor
from reportgen.judging.covariance import POOLED
from reportgen.records.shot_findings import ShotCourse

HAS_CHANGED = 0.02
"""How seldom chance alone may say of one figure that it has changed."""


class OnDay(NamedTuple):
    """A figure of one date, with the variance that its shots and the player's days give it, of `shots` so many."""

    on: date
    value: float
    variance: float
    shots: int


def over_days(days: Sequence[OnDay], chance: float = HAS_CHANGED) -> ShotCourse:
    """What became of a figure over three dates or more, oldest first, by weighted least squares; `chance` says how
    seldom luck alone may make it a change."""
    weights = [1 / day.variance for day in days]
    span = (days[-1].on - days[0].on).days
    when = [(day.on - days[0].on).days / span for day in days]
    middle, level = _mean(when, weights), _mean([day.value for day in days], weights)
    from_middle = [t - middle for t in when]
    wide = fsum(w * t * t for w, t in zip(weights, from_middle, strict=True))
    by = fsum(w * t * day.value for w, t, day in zip(weights, from_middle, days, strict=True)) / wide
    off = fsum(w * (day.value - level - by * t) ** 2 for w, t, day in zip(weights, from_middle, days, strict=True))
    dof = POOLED + len(days) - 2
    u = sqrt(max(1.0, (POOLED + off) / dof) / wide)
    detectable, half = factor(chance, dof) * u, factor(0.05, dof) * u
    return ShotCourse(
        since=days[0].on,
        dates=len(days),
        shots=sum(day.shots for day in days),
        by=by,
        interval=(by - half, by + half),
        detectable=detectable,
        verdict="has changed" if abs(by) > detectable else "not enough shots to say",
    )


def _mean(values: Sequence[float], weights: Sequence[float]) -> float:
    return fsum(w * value for w, value in zip(weights, values, strict=True)) / fsum(weights)
