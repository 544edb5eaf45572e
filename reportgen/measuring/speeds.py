"""Ball speed over clubhead speed."""

from math import hypot

from reportgen.records.findings import Remark

HIGHEST_RATIO = 1.52
"""Above this the readings are doubted. No rule limits the ratio; for a driver (1 + e) / (1 + m/M) with restitution
0.83, a ball of 45.93 g and a head of 200 to 205 g gives about 1.49 to 1.50 (derived)."""


def speed_ratio(ball: float, u_ball: float, club: float, u_club: float) -> tuple[float, float]:
    """Ball speed over clubhead speed of the same swing, both in one unit, and its standard uncertainty.

    Independent readings, first order (JCGM 100, 5.1.6): (u/r)² = (u_ball / ball)² + (u_club / club)². Raises
    ValueError where a speed is not above 0.
    """
    if not (ball > 0 and club > 0):
        raise ValueError(f"both speeds are above 0; they say {ball} and {club}")
    ratio = ball / club
    return ratio, ratio * hypot(u_ball / ball, u_club / club)


def speed_ratio_doubt(ratio: float) -> Remark | None:
    """What to remark on a ratio that no clubhead reaches, None where it is possible."""
    if ratio <= HIGHEST_RATIO:
        return None
    return Remark(code="ratio too high", figures={"value": ratio, "highest": 1.5})
