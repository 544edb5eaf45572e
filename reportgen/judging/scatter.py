"""How far a player's swings and days lie apart: what is usual of the metric, and more and more the player's own.

The variance that counts is (ν₀·usual² + ν·own²)/(ν₀ + ν): shrinkage by degrees of freedom, as of a variance with a
scaled inverse chi-square beforehand (Gelman A et al. Bayesian Data Analysis, 2.6, from memory); ν₀ is POOLED (own
figure). `own²` is what lessons show less what measuring explains of it, so that its degrees of freedom are fewer than
the lessons (Welch and Satterthwaite; JCGM 100:2008, G.4.1): by the square of the share that would be the player's.
Where measuring drowns the player, the usual figure stays.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import sqrt
from typing import NamedTuple

from reportgen.judging.covariance import POOLED, Taken
from reportgen.judging.difference import u_of_difference
from reportgen.measuring.player import of_player
from reportgen.measuring.typed import mean_and_sd
from reportgen.records.content import Metric, Scatter
from reportgen.records.findings import Reading

AT_MOST = 2.5
"""A difference of two lessons counts as so many of its standard uncertainties where it is more (own figure)."""

ALIKE = 0.01
"""Two standard uncertainties that differ by so little are the same: no figure that is shown tells them apart, and to
copy every earlier reading takes time."""


class Seen(NamedTuple):
    """A variance that lessons show, in the unit squared, its degrees of freedom, and how many lessons, or pairs of
    lessons, it comes from."""

    variance: float
    dof: float
    lessons: int

    @property
    def sd(self) -> float:
        """The root of it; 0 where measuring explains all that is seen."""
        return sqrt(max(0.0, self.variance))


class _Single(NamedTuple):
    """A variance that one lesson or pair shows, what measuring made of it, and its degrees of freedom with that."""

    variance: float
    explained: float
    dof: float


def swings_seen(readings: Iterable[Reading], usual: Scatter) -> Seen:
    """How far swings of one lesson lie apart, beyond click, still and clock, over lessons of two swings or more."""
    found = []
    for reading in readings:
        n, parts = len(reading.swings), reading.parts
        if n < 2 or parts is None:
            continue
        explained = n * (parts.still**2 + parts.clock**2)
        variance = n * parts.swing**2 if explained else mean_and_sd(reading.swings)[1] ** 2
        found.append(_Single(variance, explained, n - 1))
    return _seen(found, usual.swing**2)


def days_seen(pairs: Iterable[tuple[Reading, Reading]], usual: Scatter) -> Seen:
    """How far days lie apart, beyond measuring and swings, by lessons one after another: a change of the player is in
    it too. Two thirds of a degree of freedom a pair, since each lesson is in two (own figure)."""
    found = []
    for one, other in pairs:
        if one.parts is None or other.parts is None:
            continue
        known = u_of_difference(one, other) ** 2
        explained = max(0.0, known / 2 - usual.day**2)
        apart = min((other.value - one.value) ** 2, AT_MOST**2 * known)
        found.append(_Single(apart / 2 - explained, explained, 2 / 3))
    return _seen(found, usual.day**2)


def _seen(found: Sequence[_Single], usual: float) -> Seen:
    """All together, each by its degrees of freedom: by the share that the usual variance would have of it, or the one
    that is seen where that is larger."""
    share = usual
    for _ in range(2):
        weights = [one.dof * (share / (share + one.explained)) ** 2 for one in found]
        dof = sum(weights)
        variance = (
            sum(one.variance * weight for one, weight in zip(found, weights, strict=True)) / dof if found else 0.0
        )
        share = max(usual, variance)
    return Seen(variance, dof, len(found))


def together(seen: Iterable[Seen]) -> Seen:
    """Several as one, each as much as it has degrees of freedom."""
    found = list(seen)
    dof = sum(one.dof for one in found)
    variance = sum(one.variance * one.dof for one in found) / dof if dof > 0 else 0.0
    return Seen(variance, dof, sum(one.lessons for one in found))


def pooled(usual: float, seen: Seen) -> float:
    """The standard deviation that counts, from the usual one and what was seen."""
    return sqrt((POOLED * usual**2 + seen.dof * seen.sd**2) / (POOLED + seen.dof))


def own_scatter_of(readings: Sequence[Reading], usual: Scatter) -> Scatter:
    """The scatter of a player by comparable readings, oldest first: swings first, and days by what they leave."""
    swings = swings_seen(readings, usual)
    if swings.lessons:
        usual = usual.model_copy(update={"swing": pooled(usual.swing, swings)})
        readings = [with_scatter(reading, usual) for reading in readings]
    return usual.model_copy(update={"day": pooled(usual.day, days_seen(pairwise(readings), usual))})


def with_scatter(reading: Reading, scatter: Scatter) -> Reading:
    """The reading with this scatter as the player's; as it is where that makes no difference."""
    if reading.parts is None:
        return reading
    player = of_player(scatter, max(1, len(reading.swings)), reading.parts.swing)
    if abs(player - reading.parts.player) <= ALIKE * player:
        return reading
    return reading.model_copy(update={"parts": reading.parts.model_copy(update={"player": player})})


def with_own_scatter(taken: Sequence[Taken], metric: Metric) -> list[Taken]:
    """Comparable readings, oldest first, with the player's own scatter in the place of the usual one."""
    if metric.scatter is None or len(taken) < 2:
        return list(taken)
    own = own_scatter_of([one.reading for one in taken], metric.scatter)
    return [one._replace(reading=with_scatter(one.reading, own)) for one in taken]
