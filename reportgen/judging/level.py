"""Where a player is with a metric: one level from all comparable lessons, of which the latest count most.

The level wanders from week to week (a local level model): lessons further back say less about today. What lessons share
is a covariance, as in `course`, so that the marker's habit never averages out. A player who scatters more than is
stated has a less sure level. A level by generalised least squares,
counted back from today, is the one that a Kalman filter without a beginning arrives at (Durbin J, Koopman SJ. Time
Series Analysis by State Space Methods, ch. 2, from memory); `tests/published/test_marking_error.py` holds it against
figures of such a filter.
"""

from collections.abc import Sequence
from math import sqrt

from reportgen.judging.conformity import coverage_factor, interval
from reportgen.judging.course import AT_MOST
from reportgen.judging.covariance import Taken, covariances, own_scatter
from reportgen.judging.difference import of_lesson
from reportgen.records.content import Metric
from reportgen.records.findings import BandUsed, Parts, PlayerLevel, Reading

WEEKS = 18.0
"""In so many weeks the level of a player wanders by `wandering` (own figure)."""


def level(taken: Sequence[Taken], metric: Metric, band: BandUsed | None, *, moving: bool = False) -> PlayerLevel:
    """The level on the day of the last of the comparable lessons (one at least), oldest first, in the metric's unit.

    A level lags behind a player who keeps `moving` one way; there the lessons further back are taken to lie on a slope
    that is fitted too.
    """
    last = list(taken)[-AT_MOST:]
    readings = [one.reading for one in last]
    if len(last) == 1:
        return _first(last[0])
    import numpy as np

    shared, alone = covariances(readings)
    weeks = np.array([(last[-1].on - one.on).days / 7 for one in last])
    drift = wandering(metric, band, float(np.median(alone))) ** 2 / WEEKS * np.minimum.outer(weeks, weeks)
    few = np.array([_of_few(reading) for reading in readings])
    values = np.array([reading.value for reading in readings])
    wider, _ = own_scatter(values, shared + drift, alone + few)
    inverse = np.linalg.inv(shared + wider * (drift + np.diag(alone + few)))
    design = np.stack([np.ones_like(weeks), weeks] if moving else [np.ones_like(weeks)], axis=-1)
    normal = np.linalg.inv(design.T @ inverse @ design)
    value, u = float((normal @ design.T @ inverse @ values)[0]), float(np.sqrt(normal[0, 0]))
    return PlayerLevel(value=value, u=u, interval=interval(value, u), lessons=len(last), since=last[0].on)


def _first(taken: Taken) -> PlayerLevel:
    """The level after one lesson: its value, with all that it has alone and would share with others."""
    reading = taken.reading
    parts = reading.parts or Parts(visit=reading.u)
    u = sqrt(parts.habit**2 + parts.camera**2 + of_lesson(parts) + _of_few(reading))
    return PlayerLevel(value=reading.value, u=u, interval=interval(reading.value, u), lessons=1, since=taken.on)


def _of_few(reading: Reading) -> float:
    """The variance that a value's u lacks where few swings tell it."""
    return ((coverage_factor(reading.dof) / coverage_factor(None)) ** 2 - 1) * reading.u**2


def wandering(metric: Metric, band: BandUsed | None, alone: float) -> float:
    """How far a level wanders in WEEKS, as a standard deviation: half of half the width of the range.

    Without one, as far as the player's swings and days scatter; where that is not known either, as far as a lesson's
    own variance, `alone`, has it (own figures).
    """
    if band is not None and band.low is not None and band.high is not None:
        return (band.high - band.low) / 4
    if metric.scatter is not None:
        return sqrt(metric.scatter.swing**2 + metric.scatter.day**2)
    return sqrt(alone)
