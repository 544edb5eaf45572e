"""What changed between two lessons, beyond what measurement error explains."""

from datetime import date
from math import sqrt

from reportgen.judging.conformity import coverage_factor
from reportgen.records.report import BandUsed, Change, Movement, Reading


def change(now: Reading, before: Reading, since: date, band: BandUsed | None) -> Change:
    """`now` against `before`, both in the metric's unit.

    The smallest detectable change is √(U₁² + U₂²) with the expanded uncertainties U = k·u; for readings with infinitely
    many degrees of freedom that is 1.96·√(u₁² + u₂²), the minimal detectable change at 95 % (Weir JP. J Strength Cond
    Res 2005;19:231-240, for equal u).
    """
    by = now.value - before.value
    detectable = sqrt(sum((coverage_factor(r.dof) * r.u) ** 2 for r in (now, before)))
    real = abs(by) > detectable
    return Change(
        since=since,
        before=before.value,
        by=by,
        detectable=detectable,
        real=real,
        says=_movement(now.value, before.value, band) if real else "no change we can see",
    )


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
