"""How surely a measured value lies in a range: conformity assessment as in JCGM 106:2012, clause 7."""

from dataclasses import dataclass
from math import erfc, inf, sqrt

from reportgen.records.findings import Interval, Likelihood
from reportgen.records.words import Verdict

_Z95 = 1.959963984540054
"""Two-sided 95 % point of the normal distribution."""


@dataclass(frozen=True)
class Chances:
    """Probabilities, adding up to 1, that the true value lies below, inside (limits included) and above the range."""

    below: float
    inside: float
    above: float


def chances(value: float, u: float, low: float | None, high: float | None, dof: float | None = None) -> Chances:
    """The chances for a value with standard uncertainty `u` > 0, same unit as the limits (None: no limit).

    The true value is taken as normal about the measured one; with `dof` degrees of freedom as Student's t scaled by
    `u` (JCGM 101:2008, 6.4.9, for the mean of repeated indications).
    """
    if u <= 0:
        raise ValueError(f"'u' must be above 0 (got {u})")
    to_low = -inf if low is None else (low - value) / u
    to_high = inf if high is None else (high - value) / u
    below, above = cdf(to_low, dof), cdf(-to_high, dof)
    if to_low > 0:  # both limits on one side: differences of the small tail keep their digits
        inside = cdf(-to_low, dof) - above
    elif to_high < 0:
        inside = cdf(to_high, dof) - below
    else:
        inside = 1 - below - above
    return Chances(below, max(inside, 0.0), above)


def given_the_range(value: float, u: float, low: float | None, high: float | None) -> tuple[float, float]:
    """Mean and standard deviation of where a player is, by a measured `value` with standard uncertainty `u` and what is
    known beforehand: that most players are about the middle of their range, with half its width as standard deviation
    (own figure). A range with one limit has no middle, and nothing is known beforehand.

    A normal density beforehand times a normal likelihood, by Bayes' rule (JCGM 106:2012, clause 6; clause from memory).
    """
    if low is None or high is None:
        return value, u
    weight, known = 1 / u**2, 4 / (high - low) ** 2
    return (value * weight + (low + high) / 2 * known) / (weight + known), 1 / sqrt(weight + known)


def cdf(z: float, dof: float | None) -> float:
    """Probability of at most `z` under the standard normal, or Student's t with `dof` degrees of freedom."""
    if dof is None or z in (inf, -inf):
        return 0.5 * erfc(-z / sqrt(2))
    from scipy.special import stdtr

    return float(stdtr(dof, z))


def coverage_factor(dof: float | None) -> float:
    """What `u` is multiplied with for a 95 % interval."""
    if dof is None:
        return _Z95
    from scipy.special import stdtrit

    return float(stdtrit(dof, 0.975))


def interval(value: float, u: float, dof: float | None = None) -> Interval:
    """The 95 % interval about the value, in its unit."""
    half = coverage_factor(dof) * u
    return value - half, value + half


def verdict(of: Chances, certainty: float) -> Verdict:
    """The side that is at least `certainty` probable; `too close to call` where none is."""
    if of.inside >= certainty:
        return "in range"
    if of.below >= certainty:
        return "below range"
    if of.above >= certainty:
        return "above range"
    return "too close to call"


def too_coarse(u: float, low: float | None, high: float | None, certainty: float) -> bool:
    """Whether even a value in the middle of the range could not be told to be in it by measuring with this uncertainty:
    for a certainty of 0.80, whether the range is narrower than 2.56 u."""
    if low is None or high is None:
        return False
    return chances((low + high) / 2, u, low, high).inside < certainty


_SCALE: tuple[tuple[float, Likelihood], ...] = (
    (0.99, "virtually certain"),
    (0.95, "extremely likely"),
    (0.90, "very likely"),
    (0.66, "likely"),
    (0.50, "more likely than not"),
    (0.33, "about as likely as not"),
    (0.10, "unlikely"),
    (0.05, "very unlikely"),
    (0.01, "extremely unlikely"),
)


def likelihood(p: float) -> Likelihood:
    """Probability in words: the likelihood scale of the IPCC's guidance note of 2010, table 1.

    The terms of the scale overlap; the one furthest from even that holds is said. Upper terms include their bound
    (>= 99 %), lower ones too (<= 1 %), and `more likely than not` begins above 50 %.
    """
    for bound, words in _SCALE:
        if p > bound or (p == bound and bound > 0.5) or (p == bound == 0.33):
            return words
    return "exceptionally unlikely"
