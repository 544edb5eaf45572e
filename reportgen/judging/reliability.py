"""How repeatable a measured value is: over the swings of a lesson, over lessons, and from one way to another."""

from collections.abc import Sequence
from math import fsum, sqrt
from typing import NamedTuple

from reportgen.judging.conformity import coverage_factor
from reportgen.measuring.typed import mean_and_sd
from reportgen.records.findings import Interval, Spread

Groups = Sequence[Sequence[float]]
"""Repeated values of each subject: here the single swings of each lesson, in one unit."""


class Squares(NamedTuple):
    """Mean squares of a one-way analysis of variance, in the values' unit squared: between the groups and within
    them; `each` is the number of values a group has, on the average that belongs to the random-effects model."""

    between: float
    within: float
    each: float


def mean_squares(groups: Groups) -> Squares:
    """The one-way random-effects analysis of variance of groups that may differ in size.

    Raises ValueError below two groups, and where no group has two values.
    """
    sizes = [len(group) for group in groups]
    values, count = sum(sizes), len(groups)
    if count < 2 or values == count or not all(sizes):
        raise ValueError("repeatability needs two groups at least, none of them empty, and one with two values")
    means = [fsum(group) / len(group) for group in groups]
    grand = fsum(value for group in groups for value in group) / values
    between = fsum(n * (mean - grand) ** 2 for n, mean in zip(sizes, means, strict=True)) / (count - 1)
    within = fsum((value - mean) ** 2 for group, mean in zip(groups, means, strict=True) for value in group)
    each = (values - fsum(n * n for n in sizes) / values) / (count - 1)
    return Squares(between, within / (values - count), each)


def icc_one_way(groups: Groups) -> float:
    """The intraclass correlation of single values, ICC(1,1) of Shrout PE, Fleiss JL. Psychol Bull 1979;86:420-428:
    which share of the variance lies between the groups. It has no first and second trial in it, as swings have none.

    It is below 0 where groups differ by less than chance lets them; it is 0 where nothing varies at all.
    """
    between, within, each = mean_squares(groups)
    total = between + (each - 1) * within
    return (between - within) / total if total > 0 else 0.0


def standard_error_of_measurement(groups: Groups) -> float:
    """The standard deviation of single values about the true value of their group, in their unit: √(mean square
    within groups).

    It is the one of the one-way model, in which a shift common to all second trials counts as error. That of Weir JP,
    J Strength Cond Res 2005;19:231-240, the root of the two-way model's error mean square, leaves such a shift out.
    """
    return sqrt(mean_squares(groups).within)


def minimal_detectable_change(sem: float) -> float:
    """The smallest difference of two single values that error does not explain at 95 %: 1.96·√2·SEM (Weir 2005)."""
    return coverage_factor(None) * sqrt(2) * sem


class Agreement(NamedTuple):
    """How far one way of measuring differs from another, in the values' unit: mean of the differences (`bias`), their
    standard deviation, and the limits bias ± 1.96 SD between which 95 % of them lie; standard errors of the bias and
    of a limit; number of pairs."""

    bias: float
    sd: float
    limits: Interval
    se_bias: float
    se_limit: float
    pairs: int


def bland_altman(pairs: Sequence[tuple[float, float]]) -> Agreement:
    """The differences, first minus second, of values taken in two ways (Bland JM, Altman DG. Lancet 1986;327:307-310).

    The standard error of a limit is √(3/n) SD, as there. Raises ValueError below two pairs.
    """
    bias, sd = mean_and_sd(tuple(first - second for first, second in pairs))
    half, n = coverage_factor(None) * sd, len(pairs)
    return Agreement(bias, sd, (bias - half, bias + half), sd / sqrt(n), sqrt(3 / n) * sd, n)


def spread(swings: Sequence[float]) -> Spread:
    """The standard deviation of at least two swings, with its 95 % interval from the chi-square distribution.

    The interval holds for values that are spread as the normal distribution has it.
    """
    from scipy.special import chdtri

    _, sd = mean_and_sd(tuple(swings))
    dof = len(swings) - 1
    low, high = (sd * sqrt(dof / float(chdtri(dof, tail))) for tail in (0.025, 0.975))
    return Spread(sd=sd, interval=(low, high), swings=len(swings))
