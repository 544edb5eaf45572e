"""How deep a landmark may stand before or behind the player's plane when only one picture is there.

Standard uncertainties in metres around the plane through the middle of the feet: `posture` stays with the player
from checkpoint to checkpoint (a lead foot is nearer to the target in every picture), `moving` changes between them (a
hip comes forward as the pelvis turns). Own round figures from the proportions of an adult body; no source.
"""

from typing import NamedTuple

from reportgen.records.words import Mark, View


class Depth(NamedTuple):
    """Standard uncertainties of a landmark's depth, metres."""

    posture: float
    moving: float


_FACE_ON = {
    "toe": Depth(0.12, 0.02),
    "heel": Depth(0.08, 0.03),
    "ankle": Depth(0.05, 0.03),
    "knee": Depth(0.12, 0.07),
    "hip": Depth(0.12, 0.09),
    "shoulder": Depth(0.25, 0.17),
    "wrist": Depth(0.40, 0.20),
    "neck": Depth(0.32, 0.08),
    "head": Depth(0.40, 0.08),
    "ball": Depth(0.80, 0.01),
}
_DOWN_THE_LINE = {
    "toe": Depth(0.27, 0.03),
    "heel": Depth(0.24, 0.03),
    "ankle": Depth(0.24, 0.03),
    "knee": Depth(0.20, 0.07),
    "hip": Depth(0.12, 0.08),
    "shoulder": Depth(0.18, 0.17),
    "wrist": Depth(0.10, 0.40),
    "neck": Depth(0.10, 0.16),
    "head": Depth(0.10, 0.20),
    "seat": Depth(0.10, 0.08),
    "ball": Depth(0.15, 0.01),
}


def depth_of(mark: Mark, view: View) -> Depth:
    """The depth that a landmark may have in a view."""
    table = _FACE_ON if view == "face-on" else _DOWN_THE_LINE
    return table[mark.removeprefix("lead-").removeprefix("trail-")]
