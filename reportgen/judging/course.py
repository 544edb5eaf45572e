"""What became of a metric over the lessons: one statement, from a straight line through values of known uncertainty.

The line is fitted by generalised least squares: what two lessons share (the marker's habit, a stand that was kept)
moves both alike, and is no change of the player. One wild lesson counts less the further out it lies (Huber PJ. Ann
Math Stat 1964;35:73-101). Where the values scatter more than their uncertainties say, the player's own scatter is
pooled in.
"""

from collections.abc import Sequence
from statistics import NormalDist
from typing import TYPE_CHECKING, Any, NamedTuple

from reportgen.judging.covariance import Taken, covariances, own_scatter
from reportgen.judging.difference import distance
from reportgen.records.findings import BandUsed, Course, Movement, Rung

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

AT_MOST = 14
"""Lessons that are looked back over."""
DATES_AT_LEAST = 3
"""A difference of two days is no change of the player."""
HUBER = 2.5
"""From so many standard uncertainties on, a value counts less."""
HAS_MOVED = {True: 0.01, False: 0.003}
SEEMS = 0.05
"""How seldom chance alone may say so: of a metric in focus (named before the lesson) `has moved`, of any other; and
`seems to be moving`, which is said of those in focus alone."""


class Line(NamedTuple):
    """Fitted values at the first and the last lesson, the standard uncertainty of their difference, and its degrees of
    freedom."""

    start: float
    end: float
    u: float
    dof: float


def course(taken: Sequence[Taken], band: BandUsed | None, *, in_focus: bool) -> Course | None:
    """What became of a metric over its comparable lessons, oldest first; None where they are on too few dates."""
    last = list(taken)[-AT_MOST:]
    if len({one.on for one in last}) < DATES_AT_LEAST:
        return None
    line = fitted(last)
    by = line.end - line.start
    detectable = factor(HAS_MOVED[in_focus], line.dof) * line.u
    rung: Rung = "no change we can see"
    if abs(by) > detectable:
        rung = "has moved"
    elif in_focus and abs(by) > factor(SEEMS, line.dof) * line.u:
        rung = "seems to be moving"
    half = factor(0.05, line.dof) * line.u
    return Course(
        since=last[0].on,
        lessons=len(last),
        by=by,
        interval=(by - half, by + half),
        detectable=detectable,
        rung=rung,
        movement=_movement(line, band),
    )


def factor(chance: float, dof: float) -> float:
    """How many standard uncertainties chance alone goes beyond, to either side, with this probability: Student's t with
    `dof` degrees of freedom, 10 or more, by its expansion about the normal (Abramowitz and Stegun, 26.7.5). It is right
    to 2 in 1,000 and spares a process 0.1 s, which is what loading a library for it takes."""
    z = NormalDist().inv_cdf(1 - chance / 2)
    first, second = (z**3 + z) / 4, (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    return z + first / dof + second / dof**2 + third / dof**3


def fitted(taken: Sequence[Taken]) -> Line:
    """The straight line through values on three dates or more. Raises ValueError where all are on one."""
    import numpy as np

    days = np.array([one.on.toordinal() for one in taken], dtype=float)
    if np.ptp(days) == 0:
        raise ValueError("a line needs two days at least")
    values = np.array([one.reading.value for one in taken])
    shared, alone = covariances([one.reading for one in taken])
    design = np.stack([np.ones_like(days), (days - days[0]) / np.ptp(days)], axis=-1)
    wider, dof = own_scatter(values, shared, alone, HUBER)
    counts = np.ones_like(values)
    for _ in range(5):
        inverse = np.linalg.inv(shared + np.diag(wider * alone / counts))
        normal = np.linalg.inv(design.T @ inverse @ design)
        start, by = normal @ design.T @ inverse @ values
        off = np.abs(values - design @ np.array([start, by])) / np.sqrt(wider * alone + np.diag(shared))
        if np.all(off <= HUBER):
            break
        counts = np.minimum(1.0, HUBER / np.maximum(off, 1e-12))
    return Line(float(start), float(start + by), float(np.sqrt(normal[1, 1])), dof)


def _movement(line: Line, band: BandUsed | None) -> Movement:
    if band is None or band.context:
        return "changed"
    gap_now, gap_before = distance(line.end, band.low, band.high), distance(line.start, band.low, band.high)
    if gap_now == gap_before:
        return "changed"
    return "moved toward the range" if gap_now < gap_before else "moved away from the range"
