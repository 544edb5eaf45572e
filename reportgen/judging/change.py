"""What changed between two lessons, beyond what measurement error explains."""

from datetime import date
from math import hypot

from reportgen.judging.conformity import coverage_factor
from reportgen.records.report import BandUsed, Change, Movement, Reading


def change(now: Reading, before: Reading, since: date, band: BandUsed | None) -> Change:
    """`now` against `before`, both in the metric's unit.

    The smallest detectable change is k·√(u₁² + u₂²). For readings with infinitely many degrees of freedom k is 1.96,
    which makes it the minimal detectable change at 95 % (Weir JP. J Strength Cond Res 2005;19:231-240, for equal u).
    For means of a few swings k is Student's factor for the effective degrees of freedom of Welch and Satterthwaite.
    """
    by = now.value - before.value
    detectable = coverage_factor(_dof_of_difference(now, before)) * hypot(now.u, before.u)
    real = abs(by) > detectable
    return Change(
        since=since,
        before=before.value,
        by=by,
        detectable=detectable,
        real=real,
        says=_movement(now.value, before.value, band) if real else "no change we can see",
    )


def _dof_of_difference(a: Reading, b: Reading) -> float | None:
    """Welch and Satterthwaite: (u₁² + u₂²)² / (u₁⁴/ν₁ + u₂⁴/ν₂); None (infinitely many) where neither has a number."""
    shares = sum(r.u**4 / r.dof for r in (a, b) if r.dof is not None)
    return (a.u**2 + b.u**2) ** 2 / shares if shares else None


def distance(value: float, low: float | None, high: float | None) -> float:
    """How far a value lies outside a range, in its unit; 0 inside, limits included."""
    below = 0.0 if low is None else low - value
    above = 0.0 if high is None else value - high
    return max(below, above, 0.0)


def _movement(now: float, before: float, band: BandUsed | None) -> Movement:
    if band is None or band.context:
        return "changed"
    gap_now, gap_before = distance(now, band.low, band.high), distance(before, band.low, band.high)
    if gap_now == gap_before:
        return "changed"
    return "moved toward the range" if gap_now < gap_before else "moved away from the range"
