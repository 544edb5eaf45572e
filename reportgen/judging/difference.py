"""How far two values lie apart, and how sure that is."""

from math import sqrt

from reportgen.records.findings import Parts, Reading

RESIDUE = 0.7 / 3.0
"""What is left of a camera's part where the stand is put back on its marks: 0.7 of 3 degrees of yaw (own figure)."""


def u_of_difference(a: Reading, b: Reading) -> float:
    """The standard uncertainty of the difference of two lessons' values, as a change of the player.

    What is of each lesson alone adds up, the player's own swing and day among it. The habit of one marker cancels, and
    so does the camera's part where the stand is the same, but for its residue:
    u_Δ² = u_L1² + u_L2² + c₁² + c₂² − 2κc₁c₂ + h₁² + h₂² − 2λh₁h₂ with κ = 1 − RESIDUE² and λ = 1, else 0.
    """
    one, other = (r.parts or Parts(visit=r.u) for r in (a, b))
    same_stand = a.stand is not None and a.stand == b.stand
    kept = 2 * one.camera * other.camera * (1 - RESIDUE**2) if same_stand else 0.0
    habit = 2 * one.habit * other.habit if a.marked_by == b.marked_by else 0.0
    shared = one.camera**2 + other.camera**2 - kept + one.habit**2 + other.habit**2 - habit
    return sqrt(of_lesson(one) + of_lesson(other) + max(shared, 0.0))


def of_lesson(parts: Parts) -> float:
    """The variance of what is of one lesson alone."""
    return parts.visit**2 + parts.still**2 + parts.clock**2 + parts.swing**2 + parts.player**2


def distance(value: float, low: float | None, high: float | None) -> float:
    """How far a value lies outside a range, in its unit; 0 inside, limits included."""
    below = 0.0 if low is None else low - value
    above = 0.0 if high is None else value - high
    return max(below, above, 0.0)
