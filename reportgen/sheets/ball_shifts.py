"""How far a camera moved between the stills of one swing, by the ball, which lies still until it is hit."""

from collections.abc import Mapping, Sequence
from math import hypot, sqrt

from reportgen.records.base import Pixel
from reportgen.records.stills import Still, swing_numbers

BEYOND = 4.5
"""A shift by so many standard uncertainties is not one of two clicks: they make one in 25,000 times (Rayleigh's
distribution). A shift taken out wrongly costs more than a small one that stays."""


def smallest_shift(click_px: float) -> float:
    """The pixels beyond which the ball has moved, each click with a standard uncertainty of `click_px`."""
    return BEYOND * sqrt(2) * click_px


def ball_shifts(stills: Sequence[Still], click_px: float) -> Mapping[int, Pixel]:
    """By the number of a still, how far its whole picture lies from that of the first still of its view and swing, in
    pixels to the right and down. Only shifts beyond what two clicks on the ball explain, each `click_px`."""
    first: dict[tuple[str, int], Pixel] = {}
    shifts = {}
    for number, (still, swing) in enumerate(zip(stills, swing_numbers(stills), strict=True)):
        if (ball := still.marks.get("ball")) is None:
            continue
        before = first.setdefault((still.view, swing), ball)
        moved = ball[0] - before[0], ball[1] - before[1]
        if hypot(*moved) > smallest_shift(click_px):
            shifts[number] = moved
    return shifts
