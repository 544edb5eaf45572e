"""Two dates of shots against each other: whether their centres differ, and whether their spreads do.

That is all two dates can say. Shots of one day are more alike than those of two, so a difference of two days is no
change of the player; it takes three dates or more to see one.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import combinations
from math import ceil, fsum, hypot, sqrt
from statistics import median

from reportgen.judging.conformity import interval
from reportgen.judging.enough import shots_for_shift, shots_for_spread
from reportgen.judging.pattern import Moments, Shots, moments
from reportgen.judging.reliability import mean_squares
from reportgen.measuring.typed import mean_and_sd
from reportgen.records.shot_findings import AxisDifference, Question, TwoPatterns

LEVEL = 0.05
"""How often luck alone may say of either question that the two days differ, both together (Holm S. Scand J Stat
1979;6:65-70)."""
OF_DISTANCES = 1.2
"""The distances from a median centre ask for so many times the shots that the ratio of two variances asks for (own
simulation: they find spreads of 0.5, 0.7 and 0.8 in 77 to 86 of 100)."""
AT_LEAST = 3
"""Shots a date, below which nothing is compared."""
EXACT_UP_TO = 24
"""Shots of both dates together up to which every arrangement is counted."""
DRAWS = 1999
"""Arrangements that are drawn of more shots: they give a p of 0.025 to 0.0035, and take 11 ms for 300 shots."""
AT_ONCE = 1_500_000
"""Shots of so many arrangements together are dealt out at a time, so that thousands of shots need no more memory."""
_ROUNDING = 1e-12
"""Sums that differ by less than this share of all that is added are the same."""


def two_patterns(before: Shots, after: Shots) -> TwoPatterns | None:
    """The pattern of an earlier date against that of a later one; None where one of them has fewer than three shots."""
    if min(len(before), len(after)) < AT_LEAST:
        return None
    first, second = moments(before), moments(after)
    pooled = _pooled(first, second)
    p_centre, p_spread = hotelling(first, second)[1], same_spread(distances(before), distances(after))
    differ_centre, differ_spread = _holm(p_centre, p_spread)
    wide, wider = (sqrt(of.var_side + of.var_carry) for of in (first, second))
    ratio = wider / wide if wide > 0 else None
    apart = sqrt(distance2(first, second, pooled))
    return TwoPatterns(
        side=_axis([s for s, _ in before], [s for s, _ in after]),
        carry=_axis([c for _, c in before], [c for _, c in after]),
        centre=_question(p_centre, differ_centre, shots_for_shift(apart, 2, LEVEL / 2)),
        spread=_question(p_spread, differ_spread, _shots_for_distances(ratio, _axes(pooled))),
        ratio=ratio,
    )


def distances(shots: Shots) -> list[float]:
    """How far each shot landed from the median centre of its date, m."""
    side, carry = median(s for s, _ in shots), median(c for _, c in shots)
    return [hypot(s - side, c - carry) for s, c in shots]


def hotelling(before: Moments, after: Moments) -> tuple[float, float]:
    """T² of two centres with one covariance, n₁n₂/(n₁ + n₂) d'S⁻¹d, and its p: (N − 3)/(2(N − 2)) T² is F with 2 and
    N − 3 degrees of freedom (Johnson RA, Wichern DW. Applied Multivariate Statistical Analysis, ch. 6; memory). Where
    the shots lie on one line T² is 0, and nothing is said."""
    both = before.n + after.n
    t2 = before.n * after.n / both * distance2(before, after, _pooled(before, after))
    free = both - 3
    return t2, (1 + t2 / (both - 2)) ** (-free / 2)


def distance2(before: Moments, after: Moments, pooled: Moments) -> float:
    """The squared distance of two centres in standard deviations (Mahalanobis's), 0 where the shots lie on one line."""
    side, carry, determinant = after.side - before.side, after.carry - before.carry, pooled.determinant
    if not determinant:
        return 0.0
    squares = side**2 * pooled.var_carry + carry**2 * pooled.var_side - 2 * side * carry * pooled.cov
    return squares / determinant


def brown_forsythe(groups: Sequence[Sequence[float]]) -> tuple[float, float]:
    """W of the test that groups scatter alike, and its p: an analysis of variance of the distances from each group's
    median (Brown MB, Forsythe AB. J Am Stat Assoc 1974;69:364-367). Tails that are longer than the normal ones, as
    those of shots are, hardly disturb it."""
    from scipy.special import fdtrc

    medians = map(median, groups)
    squares = mean_squares(
        [[abs(value - middle) for value in group] for group, middle in zip(groups, medians, strict=True)]
    )
    if not squares.within > 0:
        return 0.0, 1.0
    ratio = squares.between / squares.within
    return ratio, float(fdtrc(len(groups) - 1, sum(map(len, groups)) - len(groups), ratio))


def same_spread(before: Sequence[float], after: Sequence[float]) -> float:
    """The p of a permutation test that two dates scatter alike, from the distances of the shots to the median centre of
    their date: how often as large a difference of the mean distances comes about by dealing them out to the dates.

    Every arrangement is counted up to EXACT_UP_TO shots; of more, DRAWS are drawn, always the same ones.
    """
    return permutation(before, after) if len(before) + len(after) <= EXACT_UP_TO else drawn(before, after)


def permutation(first: Sequence[float], second: Sequence[float]) -> float:
    """The two-sided p of the exact permutation test of two means: which share of all arrangements has means as far
    apart as these. Sums of either half of the values are put in order, so that of 2 million not each is looked at."""
    values, n = [*first, *second], len(first)
    mean = fsum(values) / len(values)
    off = [value - mean for value in values]
    reach = abs(fsum(off[:n])) - _ROUNDING * fsum(map(abs, off))
    half = len(off) // 2
    lower, upper = _sums(off[:half]), _sums(off[half:])
    as_far = every = 0
    for taken, sums in enumerate(lower):
        others = upper[n - taken] if 0 <= n - taken < len(upper) else []
        every += len(sums) * len(others)
        for total in sums:
            within = bisect_left(others, reach - total) - bisect_right(others, -reach - total)
            as_far += len(others) - max(0, within)
    return as_far / every


def drawn(first: Sequence[float], second: Sequence[float]) -> float:
    """The same p from DRAWS arrangements by a fixed seed, with the one that was found among them."""
    import numpy as np

    values, n = np.array([*first, *second]), len(first)
    off = values - values.mean()
    reach = abs(off[:n].sum()) - _ROUNDING * np.abs(off).sum()
    chance, as_far = np.random.default_rng(DRAWS), 0
    rows = max(1, AT_ONCE // len(off))
    for begin in range(0, DRAWS, rows):
        places = chance.random((min(rows, DRAWS - begin), len(off)), dtype=np.float32)
        dealt = np.argpartition(places, n - 1, axis=1)[:, :n]
        as_far += int(np.sum(np.abs(off[dealt].sum(axis=1)) >= reach))
    return (1 + as_far) / (DRAWS + 1)


def _sums(values: Sequence[float]) -> list[list[float]]:
    """The sums of every choice of 0, 1, 2 ... of the values, each in order."""
    return [sorted(map(fsum, combinations(values, taken))) for taken in range(len(values) + 1)]


def _pooled(a: Moments, b: Moments) -> Moments:
    """The covariance within both dates; its means say nothing."""
    free = a.n + b.n - 2
    return Moments(
        a.n + b.n,
        0.0,
        0.0,
        ((a.n - 1) * a.var_side + (b.n - 1) * b.var_side) / free,
        ((a.n - 1) * a.var_carry + (b.n - 1) * b.var_carry) / free,
        ((a.n - 1) * a.cov + (b.n - 1) * b.cov) / free,
    )


def _axes(pooled: Moments) -> float:
    """How many axes of like spread the shots scatter along, 1 to 2: (λ₁ + λ₂)²/(λ₁² + λ₂²) with the eigenvalues of the
    covariance (the degrees of freedom of Satterthwaite FE. Biometrics Bulletin 1946;2:110-114, for one shot)."""
    trace2 = (pooled.var_side + pooled.var_carry) ** 2
    squares = pooled.var_side**2 + pooled.var_carry**2 + 2 * pooled.cov**2
    return trace2 / squares if squares > 0 else 1.0


def _shots_for_distances(ratio: float | None, axes: float) -> int | None:
    shots = shots_for_spread(ratio, axes, LEVEL / 2) if ratio else None
    return None if shots is None else ceil(OF_DISTANCES * shots)


def _holm(first: float, second: float) -> tuple[bool, bool]:
    """Whether either p is small enough, so that both together are falsely so in LEVEL of cases at most."""
    small = min(first, second) < LEVEL / 2
    return small and first < LEVEL, small and second < LEVEL


def _question(p: float, differ: bool, shots: int | None) -> Question:
    return Question(
        p=p,
        verdict="these two days differ" if differ else "not enough shots to say",
        shots=None if differ else shots,
    )


def _axis(before: Sequence[float], after: Sequence[float]) -> AxisDifference:
    """Means by Welch's interval (Welch BL. Biometrika 1947;34:28-35), spreads by the Brown-Forsythe test."""
    (mean, sd), (later, its) = mean_and_sd(tuple(before)), mean_and_sd(tuple(after))
    u, by = hypot(sd / sqrt(len(before)), its / sqrt(len(after))), later - mean
    dof = None
    if u > 0:
        dof = u**4 / (sd**4 / len(before) ** 2 / (len(before) - 1) + its**4 / len(after) ** 2 / (len(after) - 1))
    return AxisDifference(
        by=by,
        interval=interval(by, u, dof),
        ratio=its / sd if sd > 0 else None,
        p=brown_forsythe([before, after])[1],
    )
