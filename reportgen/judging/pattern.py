"""Where the shots of one table landed, seen from above: centre, spread, and where the next ones will land.

A shot is (side, carry) in metres: side is the distance of its landing place from the target line, + on the trail side
for both hands; carry is the distance to it. No shot is ever left out: a mishit is a shot of this player too, so it is
counted by itself, and a spread that a few of them hardly move stands beside the usual one.
"""

from collections.abc import Sequence
from math import atan2, degrees, fsum, sqrt
from statistics import median
from typing import NamedTuple

from reportgen.judging.conformity import interval
from reportgen.judging.reliability import spread
from reportgen.records.shot_findings import AlongAxis, Ellipse, Pattern

Shots = Sequence[tuple[float, float]]
"""Side and carry of each shot, m."""

MISHIT = 0.70
"""A carry below this share of the median carry is a mishit (own figure)."""
NEXT_SHOT_FROM = 8
"""With fewer shots the ellipse of the next one is too large to mean anything."""
NEXT_SHOT = 0.80
CENTRE = 0.95
MAD_TO_SD = 1.482602218505602
"""The SD of a normal distribution over its median absolute deviation."""
_MAD_OF_FEW = {5: 1.22, 6: 1.19, 7: 1.14, 8: 1.13, 9: 1.10, 10: 1.10}
"""By how much the median absolute deviation of so few shots is too small on average (own simulation)."""
_FLAT = 1e-9
"""Shots with a correlation whose square is so near 1 lie on one line."""


class Moments(NamedTuple):
    """Mean (side, carry) of a number of shots, m, and their variances and covariance (n − 1), m²."""

    n: int
    side: float
    carry: float
    var_side: float
    var_carry: float
    cov: float

    @property
    def determinant(self) -> float:
        """Of the covariance matrix, m⁴; 0 where the shots lie on one line."""
        whole = self.var_side * self.var_carry
        return whole - self.cov**2 if whole > 0 and whole - self.cov**2 > _FLAT * whole else 0.0


def pattern(shots: Shots) -> Pattern:
    """What one table of shots shows. Raises ValueError without a shot."""
    if not shots:
        raise ValueError("a pattern needs a shot")
    sides, carries = [side for side, _ in shots], [carry for _, carry in shots]
    of = moments(shots) if len(shots) >= 3 else None
    if of is not None and not of.determinant:
        of = None
    usual = median(carries)
    return Pattern(
        shots=len(shots),
        mishits=sum(carry < MISHIT * usual for carry in carries),
        side=_along(sides),
        carry=_along(carries),
        centre=ellipse(of, centre_radius2(of.n, CENTRE)) if of else None,
        next_shot=ellipse(of, next_shot_radius2(of.n, NEXT_SHOT)) if of and of.n >= NEXT_SHOT_FROM else None,
    )


def _along(values: Sequence[float]) -> AlongAxis:
    mean, found = fsum(values) / len(values), spread(values) if len(values) > 1 else None
    return AlongAxis(
        mean=mean,
        interval=interval(mean, found.sd / sqrt(len(values)), len(values) - 1) if found else None,
        median=median(values),
        spread=found,
        robust_spread=robust_spread(values),
    )


def robust_spread(values: Sequence[float]) -> float | None:
    """The median absolute deviation from the median, in the values' unit, made to agree with the SD of normal values;
    None below five values.

    The factor for few values is n / (n − 0.8) above ten (Croux C, Rousseeuw PJ. Computational Statistics
    1992;1:411-428, memory), and of an own simulation below.
    """
    n = len(values)
    if n < min(_MAD_OF_FEW):
        return None
    middle = median(values)
    return MAD_TO_SD * _MAD_OF_FEW.get(n, n / (n - 0.8)) * median(abs(value - middle) for value in values)


def moments(shots: Shots) -> Moments:
    """Means, variances and covariance of two shots or more."""
    n = len(shots)
    side, carry = fsum(s for s, _ in shots) / n, fsum(c for _, c in shots) / n
    return Moments(
        n,
        side,
        carry,
        fsum((s - side) ** 2 for s, _ in shots) / (n - 1),
        fsum((c - carry) ** 2 for _, c in shots) / (n - 1),
        fsum((s - side) * (c - carry) for s, c in shots) / (n - 1),
    )


def ellipse(of: Moments, radius2: float) -> Ellipse:
    """All places within √`radius2` standard deviations (Mahalanobis's distance) of the mean: half axes are that times
    the roots of the eigenvalues of the covariance matrix."""
    middle = (of.var_carry + of.var_side) / 2
    apart = sqrt(((of.var_carry - of.var_side) / 2) ** 2 + of.cov**2)
    return Ellipse(
        side=of.side,
        carry=of.carry,
        long=sqrt(radius2 * (middle + apart)),
        short=sqrt(radius2 * max(0.0, middle - apart)),
        tilt=degrees(atan2(2 * of.cov, of.var_carry - of.var_side)) / 2,
    )


def next_shot_radius2(n: int, share: float) -> float:
    """The squared radius, in standard deviations, of the ellipse that holds this share of next shots, after n > 2:
    2(n² − 1)/(n(n − 2)) F with 2 and n − 2 degrees of freedom (Johnson RA, Wichern DW. Applied Multivariate Statistical
    Analysis, ch. 5; memory). With n shots alone known, a chi-square ellipse catches too few."""
    return 2 * (n * n - 1) / (n * (n - 2)) * f_point(share, n - 2)


def centre_radius2(n: int, share: float) -> float:
    """The squared radius of the ellipse that holds the true centre so often, after n > 2 shots: 2(n − 1)/(n(n − 2)) F
    with 2 and n − 2 degrees of freedom (Johnson and Wichern, as above)."""
    return 2 * (n - 1) / (n * (n - 2)) * f_point(share, n - 2)


def f_point(share: float, dof: float) -> float:
    """The point of the F distribution with 2 and `dof` degrees of freedom below which this share lies. With 2 it has a
    closed form: 1 − (1 + 2F/dof)^(−dof/2)."""
    return float(dof / 2 * ((1 - share) ** (-2 / dof) - 1))
