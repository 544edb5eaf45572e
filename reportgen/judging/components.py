"""Components of variance from a one-way analysis of variance, and how sure they are."""

from collections.abc import Callable, Sequence
from math import sqrt
from random import Random
from typing import NamedTuple

from reportgen.judging.reliability import Groups, mean_squares

DRAWS = 4000
"""Draws behind an interval: its ends are right to about 2 %."""
SEED = 20


class Components(NamedTuple):
    """Variance of single values within their groups, and of the groups about the mean of all, in the unit squared. The
    second is below 0 where groups differ by less than chance lets them."""

    within: float
    between: float


class Analysis(NamedTuple):
    """Mean squares with their degrees of freedom; `each` is how many values a group has, on the average that belongs to
    the model."""

    between: float
    within: float
    each: float
    dof_between: int
    dof_within: int

    def components(self) -> Components:
        """The analysis of variance estimates: within MSW, between (MSB − MSW)/n (Searle SR, Casella G, McCulloch CE.
        Variance Components. 1992, ch. 3, from memory)."""
        return Components(self.within, (self.between - self.within) / self.each)

    def drawn(self, random: Random) -> Components:
        """The components for mean squares drawn from what is known of their true values: MS·ν/χ²(ν)."""
        between, within = (
            square * dof / random.gammavariate(dof / 2, 2)
            for square, dof in ((self.between, self.dof_between), (self.within, self.dof_within))
        )
        return Components(within, (between - within) / self.each)


def analysis(groups: Groups) -> Analysis:
    """The analysis of groups that may differ in size. Raises ValueError as `mean_squares` does."""
    squares, values = mean_squares(groups), sum(map(len, groups))
    return Analysis(*squares, len(groups) - 1, values - len(groups))


class Deviation(NamedTuple):
    """A standard deviation with its 95 % interval, in the values' unit. A variance that comes out below 0 is 0."""

    sd: float
    low: float
    high: float


def deviation(of: Callable[[Sequence[Components]], float], analyses: Sequence[Analysis]) -> Deviation:
    """The root of a variance that is put together from the components of one or more analyses.

    The interval is a generalized one (Weerahandi S. J Am Stat Assoc 1993;88:899-905, from memory): the same sum over
    drawn mean squares, between 2.5 % and 97.5 %. Of a single mean square it is the chi-square interval.
    """
    random = Random(SEED)  # noqa: S311  no secret: the same marks give the same figures
    drawn = sorted(of([one.drawn(random) for one in analyses]) for _ in range(DRAWS))
    low, high = drawn[round(0.025 * DRAWS)], drawn[round(0.975 * DRAWS) - 1]
    return Deviation(*(sqrt(max(0.0, variance)) for variance in (of([a.components() for a in analyses]), low, high)))
