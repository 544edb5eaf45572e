"""What counts of shots show: 7 of 10 on line, on one date, on two, and on three or more.

Ten shots say little. So a count carries the interval of its long run, two dates are held against each other by an exact
test, and only three dates or more can show that a player has changed.
"""

from collections.abc import Sequence
from datetime import date
from math import atan2, comb, degrees, fsum, hypot, sqrt
from statistics import NormalDist
from typing import NamedTuple

from reportgen.judging.conformity import coverage_factor
from reportgen.judging.course import AT_MOST, DATES_AT_LEAST
from reportgen.judging.days import OnDay, over_days
from reportgen.judging.enough import shots_for_counts
from reportgen.records.findings import Interval
from reportgen.records.shot_findings import LongRun, MissSide, ShotCourse, TwoCounts

LEVEL = 0.05
"""How often luck alone may make two days, or the misses of one side, seem to differ."""
DAY = 0.5
"""How far the days of a steady player scatter, as the standard deviation of the logit of the share: 0.12 at a half.

Own figure. The mean side of 15 shots scatters from day to day by about a third of the scatter of single shots (from
figures of Villarrasa-Sapiña et al. 2022, Sensors 22:9069, worked out here), and a third of a standard deviation moves a
share of one half by 0.13."""


class Count(NamedTuple):
    """`made` shots `of` so many on one date."""

    on: date
    made: int
    of: int


def long_run(made: int, of: int) -> LongRun:
    """The share in the long run, with the 95 % score interval of Wilson EB. J Am Stat Assoc 1927;22:209-212.

    Raises ValueError where nothing was counted, or more were made than hit.
    """
    if not 0 <= made <= of or of == 0:
        raise ValueError(f"{made} of {of} is no count")
    z2 = coverage_factor(None) ** 2
    centre = (made + z2 / 2) / (of + z2)
    half = sqrt(z2 * (made * (of - made) / of + z2 / 4)) / (of + z2)
    return LongRun(made=made, of=of, interval=(max(0.0, centre - half), min(1.0, centre + half)))


def fisher(first: Count, second: Count) -> float:
    """The two-sided p of Fisher's exact test of two counts: all tables with the same sums that are no likelier than
    this one (Fisher RA. Statistical Methods for Research Workers, 1934; memory)."""
    made, of = first.made + second.made, first.of + second.of
    possible = range(max(0, made - second.of), min(made, first.of) + 1)
    ways = {k: comb(first.of, k) * comb(second.of, made - k) for k in possible}
    return sum(way for way in ways.values() if way <= ways[first.made]) / comb(of, made)


def difference(before: Count, after: Count) -> Interval:
    """The 95 % interval of the later share less the earlier one: method 10, the hybrid score interval, of Newcombe RG.
    Stat Med 1998;17:873-890."""
    (low, high), (later_low, later_high) = (long_run(one.made, one.of).interval for one in (before, after))
    earlier, later = before.made / before.of, after.made / after.of
    by = later - earlier
    return by - hypot(later - later_low, high - earlier), by + hypot(later_high - later, earlier - low)


def two_dates(before: Count, after: Count) -> TwoCounts:
    """What the same count says on two dates. It never says that the player has changed: days of one player differ."""
    interval, p = difference(before, after), fisher(before, after)
    differ = p < LEVEL
    return TwoCounts(
        since=before.on,
        by=after.made / after.of - before.made / before.of,
        interval=interval,
        p=p,
        verdict="these two days differ" if differ else "not enough shots to say",
        shots=None if differ else shots_for_counts(before.made / before.of, after.made / after.of),
    )


def course(counts: Sequence[Count]) -> ShotCourse | None:
    """What became of a count over its dates, oldest first; None where there are fewer than three.

    The line is that of the trend test of Cochran and Armitage (Armitage P. Biometrics 1955;11:375-386, memory), but for
    the scatter of the player's days, which is in the variance of a date beside luck.
    """
    dates = _by_date(counts)[-AT_MOST:]
    if len(dates) < DATES_AT_LEAST:
        return None
    shots = sum(one.of for one in dates)
    mean = (sum(one.made for one in dates) + 0.5) / (shots + 1)  # half a shot each way, so that 0 and 1 have a variance
    luck = mean * (1 - mean)
    return over_days([OnDay(c.on, c.made / c.of, luck / c.of + (DAY * luck) ** 2, c.of) for c in dates])


def _by_date(counts: Sequence[Count]) -> list[Count]:
    """The counts of each date as one, oldest first."""
    days = sorted({one.on for one in counts})
    same = [[one for one in counts if one.on == day] for day in days]
    return [
        Count(day, sum(c.made for c in of_day), sum(c.of for c in of_day))
        for day, of_day in zip(days, same, strict=True)
    ]


def miss_side(trail: int, lead: int) -> MissSide:
    """Which side the misses were on, by the two-sided sign test of the misses alone. What was on line says nothing of a
    side."""
    p = min(1.0, 2 * _even_chance(max(trail, lead), trail + lead))
    side = None if p >= LEVEL else "trail" if trail > lead else "lead"
    return MissSide(trail=trail, lead=lead, p=p, side=side)


def _even_chance(more: int, of: int) -> float:
    """How likely so many or more `of` so many are on one side where both sides are as likely: in whole numbers, as a
    table of a thousand shots has binomial coefficients beyond any float."""
    ways = last = 1  # none on the other side
    for other in range(of - more):
        last = last * (of - other) // (other + 1)
        ways += last
    return ways / (1 << of)


def chance_to_pass(passes: int, of: int, rate: float, times: int = 1) -> float:
    """How likely a player who makes a share of `rate` in the long run makes `passes` or more `of` so many, and does so
    so many `times` in a row: what a pass mark is worth. The binomial distribution."""
    once = fsum(comb(of, k) * rate**k * (1 - rate) ** (of - k) for k in range(passes, of + 1))
    return float(once**times)


def through_gate(width: float, distance: float, scatter: float, off: float = 0.0) -> float:
    """How likely a shot starts through a gate, both lengths in m: start directions are taken as normal with a standard
    deviation of `scatter` about a mean that is `off` the middle, deg."""
    half, start = degrees(atan2(width / 2, distance)), NormalDist(off, scatter)
    return start.cdf(half) - start.cdf(-half)


def scatter_of_gate(share: float, width: float, distance: float) -> float:
    """The scatter of start directions, as a standard deviation in deg, with which this share, above 0 and below 1, goes
    through a gate that they are centred on: what counts through gates of other widths and distances have in common."""
    return degrees(atan2(width / 2, distance)) / NormalDist().inv_cdf((1 + share) / 2)
