"""Whether the two pictures of a moment show one moment, by the heights of the wrists.

Two cameras see the same height of a point, whatever the body does, as long as both pictures are of one moment. The
hands move fastest of all that is marked, and their height over the hips hardly depends on scale or lean of a camera, as
both are at about one height when it matters.
"""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from reportgen.measuring.blur import block
from reportgen.measuring.geometry import Array
from reportgen.records.words import Mark

HIPS: tuple[Mark, Mark] = ("lead-hip", "trail-hip")
WRISTS: tuple[Mark, Mark] = ("lead-wrist", "trail-wrist")

SEEN_FROM_TWO_SIDES_M = 0.005
"""Standard uncertainty of a difference of heights because a wrist looks another point from another side
(own figure)."""
TOO_FAR = 2.8
"""Wrists whose heights differ by more standard uncertainties are not of one moment: of good marks 1 in 200."""


class WristApart(NamedTuple):
    """A wrist that stands `higher` over the hips down-the-line than face-on (m, its standard uncertainty `u`)."""

    mark: Mark
    higher: float
    u: float


def wrist_apart(higher: Mapping[Mark, Array]) -> WristApart | None:
    """The wrist whose heights over the hips are the furthest apart in two pictures; None where they are of one moment,
    or wrists and hips do not tell. `higher` has by how much each landmark stands higher in the down-the-line picture
    than in the face-on one, (rows,) in metres, each counted from its own camera's axis."""
    if not set(HIPS) <= higher.keys():
        return None
    hips = (higher[HIPS[0]] + higher[HIPS[1]]) / 2
    found = [_apart(wrist, higher[wrist] - hips) for wrist in WRISTS if wrist in higher]
    most = max(found, key=lambda one: abs(one.higher) / one.u, default=None)
    return most if most is not None and abs(most.higher) > TOO_FAR * most.u else None


def _apart(wrist: Mark, rows: Array) -> WristApart:
    u = np.hypot(np.sqrt(np.mean((block(rows, "all") - rows[0]) ** 2)), SEEN_FROM_TWO_SIDES_M)
    return WristApart(wrist, float(rows[0]), float(u))
