"""The course of a metric over the last lessons: a slope that one wild lesson cannot turn, with its interval."""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date
from math import sqrt
from statistics import NormalDist, median

from reportgen.records.report import Trend

AT_MOST = 10
"""Lessons that a trend looks back over."""

AT_LEAST = 5
DATES_AT_LEAST = 3
"""Fewer lessons, or lessons on fewer dates, are not enough data for a trend."""


def trend(points: Sequence[tuple[date, float]]) -> Trend | None:
    """The trend of the last lessons, in the values' unit per 30 days; None where they are not enough data."""
    last = sorted(points, key=lambda point: point[0])[-AT_MOST:]
    if len(last) < AT_LEAST or len({on for on, _ in last}) < DATES_AT_LEAST:
        return None
    slope, low, high = theil_sen([on.toordinal() / 30 for on, _ in last], [value for _, value in last])
    return Trend(per_30_days=slope, interval=(low, high), lessons=len(last), clear=low > 0 or high < 0)


def theil_sen(x: Sequence[float], y: Sequence[float], confidence: float = 0.95) -> tuple[float, float, float]:
    """Slope of y over x with the lower and upper end of its interval.

    The slope is the median of those of all pairs that differ in x. The interval runs between two of these, of which
    the variance of Kendall's S tells how far from the middle they lie (Sen PK. J Am Stat Assoc 1968;63:1379-1389,
    equation 2.6, with its correction for ties). Raises ValueError where all x are the same.
    """
    slopes = sorted((y[j] - y[i]) / (x[j] - x[i]) for i in range(len(x)) for j in range(len(x)) if x[j] > x[i])
    if not slopes:
        raise ValueError("a slope needs values at two places at least")
    n = len(y)
    # Ties in both at once can take away more than there is; then nothing varies and the middle slope stands alone.
    variance = max(0.0, (_spread(n) - _ties(x) - _ties(y)) / 18)
    reach = NormalDist().inv_cdf((1 + confidence) / 2) * sqrt(variance)
    first = max(round((len(slopes) - reach) / 2) - 1, 0)
    last = min(round((len(slopes) + reach) / 2), len(slopes) - 1)
    return median(slopes), slopes[first], slopes[last]


def _spread(count: int) -> int:
    """18 times the variance of Kendall's S of so many values, none of them alike."""
    return count * (count - 1) * (2 * count + 5)


def _ties(values: Iterable[float]) -> int:
    """What values that are alike take from it."""
    return sum(_spread(count) for count in Counter(values).values())
