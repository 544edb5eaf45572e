"""Pixels a metre where a picture has no scale: by the player's own leg, for angles alone.

Angles need no scale, but two views need the same one, and so do errors that are told in millimetres. From the hip to
the ankle, upright, is the same length in both pictures of one moment. How long it is nobody knows; no angle depends on
it.
"""

from collections.abc import Sequence

from reportgen.measuring.blur import draws
from reportgen.measuring.geometry import Array
from reportgen.records.stills import Still
from reportgen.records.words import CHECKPOINTS, Checkpoint, Mark, View

LEG_M = 0.79
"""From the hips to the ankles, upright, of somebody of 1.74 m (own figure)."""
LEG_SHARE = 0.10
"""Standard uncertainty of that length, as a share of it: people differ (own figure)."""
VIEW_SHARE = 0.015
"""The same of how much longer or shorter one picture shows it than the other (own figure)."""

_LEG: tuple[tuple[Mark, Mark], tuple[Mark, Mark]] = (("lead-hip", "trail-hip"), ("lead-ankle", "trail-ankle"))


def by_the_leg(stills: Sequence[Still], view: View, rows: int) -> Array | None:
    """Pixels a metre of a view without a scale, (rows,); None where no still of it shows hips and ankles. The leg is as
    long as the other view shows it, where that has a scale and shows the same moment."""
    legs = {at: leg for at in CHECKPOINTS if (leg := _leg(stills, view, at)) is not None}
    if not legs:
        return None
    at, metres = next(iter(legs)), LEG_M
    for still in stills:
        other = _leg([still], still.view, still.checkpoint)
        if still.view != view and still.scale is not None and other is not None and still.checkpoint in legs:
            at, metres = still.checkpoint, other / still.scale.px_per_m
            break
    shares = LEG_SHARE * draws("habit", rows, "leg") + VIEW_SHARE * draws("visit", rows, "leg", view)
    return legs[at] / metres * (1.0 + shares)


def _leg(stills: Sequence[Still], view: View, at: Checkpoint) -> float | None:
    """Pixels from the hips down to the ankles, in the first still of a view and moment that shows both."""
    for still in stills:
        if (still.view, still.checkpoint) == (view, at) and all(mark in still.marks for pair in _LEG for mark in pair):
            hips, ankles = (sum(still.marks[mark][1] for mark in pair) / 2 for pair in _LEG)
            return ankles - hips if ankles - hips > 1.0 else None
    return None
