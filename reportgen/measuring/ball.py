"""What club and ball say of each other at impact: plain formulas of values with a standard uncertainty.

Lateral angles and lengths are + on the trail side (away from the player), for both hands: an open face, a path from
inside to outside, a start and a curve to that side. Vertical ones are + up. Angles are in degrees, lengths in metres.
Carry is never worked out: only what a device measured is told.

The uncertainty of a result is that of its inputs, which are taken as independent, at first order (JCGM 100:2008,
5.1.2). Derivatives are taken over a small step to either side.
"""

from collections.abc import Callable
from math import atan, atan2, cos, degrees, hypot, radians, sin, tan
from typing import NamedTuple

from reportgen.records.shot_findings import BallSide
from reportgen.records.words import ClubFamily


class Figure(NamedTuple):
    """A value and its standard uncertainty, in its unit."""

    value: float
    u: float


SHARE_OF_FACE: dict[ClubFamily, Figure] = {
    "driver": Figure(0.83, 0.08),
    "wood": Figure(0.83, 0.08),
    "hybrid": Figure(0.78, 0.08),
    "iron": Figure(0.78, 0.08),
    "wedge": Figure(0.71, 0.08),
}
"""How much of the start direction is the face's; the rest is the path's.

Driver, iron and wedge: between published figures of 0.83, 0.81, 0.72 (Henrikson, Wood, Broadie and Nuttall 2020,
Proceedings 49:27, vertical plane; read second-hand) and 0.61 to 0.83 (Wood, Henrikson and Broadie 2018, Proceedings
2:249; abstract read). Woods are taken as drivers, hybrids as irons (own)."""

ARC = Figure(1.5, 0.1)
"""Radius of the club head's arc near the ball (own assumption)."""
OFF_CENTRE = 0.010
"""A strike that is further from the middle of the face, m, curves the ball by itself (own limit)."""
_STEP = 1e-3
"""The step over which a derivative is taken, in standard uncertainties."""


def propagated(formula: Callable[..., float], *inputs: Figure) -> Figure:
    """The value of a formula and its standard uncertainty, as the module says."""
    values = [one.value for one in inputs]
    moved = []
    for n, one in enumerate(inputs):
        high, low = ([*values[:n], one.value + step * one.u, *values[n + 1 :]] for step in (_STEP, -_STEP))
        moved.append((formula(*high) - formula(*low)) / (2 * _STEP))
    return Figure(formula(*values), hypot(*moved))


def face_to_path(face: Figure, path: Figure) -> Figure:
    """Face angle less club path; + open to the path."""
    return propagated(lambda f, p: f - p, face, path)


def start_direction(face: Figure, path: Figure, share: Figure) -> Figure:
    """Where the ball starts, from face angle, club path and the face's `share` of it (`SHARE_OF_FACE`):
    share·face + (1 − share)·path."""
    return propagated(lambda f, p, w: w * f + (1 - w) * p, face, path, share)


def face_from_start(start: Figure, path: Figure, share: Figure) -> Figure:
    """The face angle that goes with a start direction and a club path: `start_direction` solved for the face. A face
    that comes about so does not explain the start."""
    return propagated(lambda s, p, w: (s - (1 - w) * p) / w, start, path, share)


def loft_to_path(attack: Figure, loft: Figure, face: Figure, path: Figure) -> Figure:
    """The angle in space between where the club head goes and the face normal, 0 or more, from attack angle, dynamic
    loft, face angle and club path (Jorgensen TP. The Physics of Golf; from memory)."""

    return propagated(lambda a, lo, f, p: loft_to_path_at(a, lo, f - p), attack, loft, face, path)


def loft_to_path_at(attack: float, loft: float, open_to_path: float) -> float:
    """the loft to path of one shot, as in `loft_to_path`."""
    x, y, z = _across(attack, loft, open_to_path)
    a, lo = radians(attack), radians(loft)
    return degrees(atan2(hypot(x, y, z), cos(a) * cos(lo) * cos(radians(open_to_path)) + sin(a) * sin(lo)))


def axis_tilt(attack: Figure, loft: Figure, face: Figure, path: Figure) -> Figure:
    """The tilt of the spin axis after a strike in the middle of the face; + where the ball curves to the trail side.
    The axis stands square to the plane of the head's direction and the face normal (Jorgensen, as above)."""

    def tilt(a: float, lo: float, f: float, p: float) -> float:
        _, y, z = _across(a, lo, f - p)
        return degrees(atan2(z, -y))

    return propagated(tilt, attack, loft, face, path)


def _across(attack: float, loft: float, open_to_path: float) -> tuple[float, float, float]:
    """The vector product of the head's direction and the face normal, both of length 1: along the path, across it and
    up."""
    a, lo, delta = radians(attack), radians(loft), radians(open_to_path)
    return (
        -sin(a) * cos(lo) * sin(delta),
        sin(a) * cos(lo) * cos(delta) - cos(a) * sin(lo),
        cos(a) * cos(lo) * sin(delta),
    )


def axis_from_spins(side_spin: Figure, back_spin: Figure) -> Figure:
    """The tilt of the spin axis from side spin (+ curves to the trail side) and back spin, both in one unit."""
    return propagated(lambda side, back: degrees(atan2(side, back)), side_spin, back_spin)


def off_line(distance: Figure, start: Figure) -> Figure:
    """How far from the target line a ball is after a distance straight along its start line, in the distance's unit."""
    return propagated(lambda d, s: d * sin(radians(s)), distance, start)


def off_start_line(side: float, carry: float, start: float) -> float:
    """How far from its start line the ball landed: side − carry·tan(start), start in degrees; carry along the target
    line, all lengths in one unit. A carry straight to the landing place is longer by 1.5 in 100 at 10 deg."""
    return side - carry * tan(radians(start))


def curve(side: Figure, carry: Figure, start: Figure) -> Figure:
    """How far from its start line the ball landed (`off_start_line`), with its standard uncertainty."""
    return propagated(off_start_line, side, carry, start)


def curves_to(open_to_path: Figure, strike_off: float | None = None) -> BallSide | None:
    """The side to which the ball curves by its face to path.

    None where that is within twice its u of 0, and where the strike was further than OFF_CENTRE from the middle of the
    face (`strike_off`, m, either way; None where nobody looked): there the strike curves the ball too.
    """
    if abs(open_to_path.value) < 2 * open_to_path.u or open_to_path.value == 0:
        return None
    if strike_off is not None and abs(strike_off) > OFF_CENTRE:
        return None
    return "trail" if open_to_path.value > 0 else "lead"


def path_of_swing(swing_direction: Figure, attack: Figure, plane: Figure) -> Figure:
    """The club path at the ball, from the direction of the arc at its bottom, the attack angle and the angle of the
    swing plane to the ground: direction − attack·cot(plane), for small angles. A head that still goes down goes out."""
    return propagated(lambda d, a, p: d - a / tan(radians(p)), swing_direction, attack, plane)


def low_point(attack: Figure, plane: Figure, radius: Figure = ARC) -> Figure:
    """How far beyond the ball the lowest point of the arc is, m: −radius·sin(attack)/sin(plane), an arc of this radius
    in a plane at this angle to the ground; + on the target side."""
    return propagated(low_point_at, attack, plane, radius)


def low_point_at(attack: float, plane: float, radius: float) -> float:
    """The low point of one shot, as in `low_point`."""
    return -radius * sin(radians(attack)) / sin(radians(plane))


def face_of_lie(loft: Figure, toe_up: Figure) -> Figure:
    """By how much the face turns where the toe is up by this angle: −atan(tan(loft)·sin(toe up)). Toe up aims to the
    lead side. The face normal turned about the target line (own geometry)."""
    return propagated(lambda lo, up: -degrees(atan(tan(radians(lo)) * sin(radians(up)))), loft, toe_up)
