"""How far one lesson may be from what a player usually does."""

from math import sqrt

from reportgen.records.content import Scatter


def of_player(scatter: Scatter | None, swings: int, swing: float) -> float:
    """How far the mean of so many swings of one day may be from what the player usually does, as a standard deviation
    in the metric's unit: the day, and the swing as far as what the swings differ by (`swing`, of the mean) does not
    hold it already. 0 where nothing is known of the scatter."""
    if scatter is None:
        return 0.0
    of_swings = max(0.0, scatter.swing**2 / swings - swing**2)
    return sqrt(scatter.day**2 + of_swings)
