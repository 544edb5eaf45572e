"""How many shots a date it takes to see that two dates differ, in 4 of 5 cases (power 80 %). `level` is how often luck
alone may make them differ, to either side."""

from collections.abc import Callable
from math import ceil, sqrt

POWER = 0.80
MOST = 1000
"""More shots than this on one date are not asked of anybody: the answer is None."""
_Z_LEVEL, _Z_POWER = 1.959963984540054, 0.8416212335729143
"""Points of the normal distribution for 5 %, two-sided, and for POWER."""


def shots_for_counts(before: float, after: float) -> int | None:
    """Shots a date to see by Fisher's exact test at 5 % that one share, 0 to 1, became another. None where they are
    alike, or above MOST.

    An exact test asks for more than `shots_for_rates`: by its correction for continuity (Fleiss JL. Statistical Methods
    for Rates and Proportions, ch. 3; memory).
    """
    if before == after:
        return None
    plain = shots_for_rates(before, after)
    shots = plain / 4 * (1 + sqrt(1 + 4 / (plain * abs(after - before)))) ** 2
    return ceil(shots) if shots <= MOST else None


def shots_for_rates(before: float, after: float) -> float:
    """Shots a date to see by the normal score test that one share became another, which are not alike (Fleiss, as
    above)."""
    middle = (before + after) / 2
    alike, unlike = 2 * middle * (1 - middle), before * (1 - before) + after * (1 - after)
    return ((_Z_LEVEL * sqrt(alike) + _Z_POWER * sqrt(unlike)) / (after - before)) ** 2


def shots_for_spread(ratio: float, axes: float, level: float = 0.05) -> int | None:
    """Shots a date to see that a standard deviation became `ratio` times as large, by the ratio of two variances.

    `axes` is how many axes of like spread say so: 1 for a line, 2 where side and carry scatter alike, between them
    otherwise. None where the spread did not change, or above MOST.
    """
    if ratio <= 0:
        return None
    return _least(lambda shots: power_of_ratio(ratio, axes * (shots - 1), level))


def shots_for_shift(distance: float, axes: int, level: float = 0.05) -> int | None:
    """Shots a date to see that a centre moved by so many standard deviations (Mahalanobis's distance), by Hotelling's
    test over so many axes; with one axis that is Student's. None where it did not move, or above MOST."""
    return _least(lambda shots: _power_of_shift(distance, axes, shots, level))


def _least(power: Callable[[int], float]) -> int | None:
    """The least number of shots with which the power is reached, by halving; it grows with the shots."""
    low, high = 2, MOST
    if power(high) < POWER:
        return None
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if power(middle) >= POWER else (middle + 1, high)
    return high


def power_of_ratio(ratio: float, dof: float, level: float = 0.05) -> float:
    """How likely the F test of two variances, both with `dof` degrees of freedom, sees that one standard deviation is
    `ratio` times the other."""
    from scipy.special import fdtr, fdtri

    high = fdtri(dof, dof, 1 - level / 2)
    return float(fdtr(dof, dof, 1 / high / ratio**2) + 1 - fdtr(dof, dof, high / ratio**2))


def _power_of_shift(distance: float, axes: int, shots: int, level: float) -> float:
    from scipy.special import fdtri, ncfdtr

    free = 2 * shots - axes - 1
    if free < 1:
        return 0.0
    critical = float(fdtri(axes, free, 1 - level))
    return 1 - float(ncfdtr(axes, free, shots / 2 * distance**2, critical))
