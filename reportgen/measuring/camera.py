"""Pictures into metres: parallel projection, and two level cameras that look at right angles.

The face-on camera looks along −Y at the player, the down-the-line camera along +X. Each has its *player's plane*,
upright and square to its axis, through the middle of the feet: there the scale lies, and up to there the distance
runs. A picture therefore gives *plane coordinates*: metres in that plane, from the point that the picture's centre
shows; along the target line (face-on) or toward the ball (down-the-line), and up. What stands nearer to the camera
by `depth` shows larger by 1 / (1 − depth / distance): the pinhole x' = x·D / (D − depth), axis level, principal point
at the picture's centre.

How the two cameras are tied: X counts from the face-on picture's centre, Y from the down-the-line picture's centre,
and the planes cross at the middle of the ankles, wherever that shows. The cameras may be aimed past the player, at
the hands for instance; only their right angle and their level are taken for granted. Neither needs its height, as
each height is told from its own axis.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from reportgen.measuring.geometry import Array
from reportgen.records.words import Side


def from_centre(pixels: ArrayLike, size: tuple[float, float], plays: Side) -> Array:
    """Pixels (..., 2), x right and y down from the top left corner, as pixels from the picture's centre, the first
    toward the target or the ball, the second up. A left-handed player's picture is mirrored."""
    side = 1.0 if plays == "right" else -1.0
    offset = np.asarray(pixels, dtype=np.float64) - np.asarray(size, dtype=np.float64) / 2
    return np.asarray(offset * np.array([side, -1.0]) + 0.0)


def without_perspective(plane: Array, depth: Array | float, inverse_distance: Array | float) -> Array:
    """A plane coordinate (m) as it is at its own depth (m, + toward the camera): x = x'·(1 − depth / distance).
    `inverse_distance` in 1/m is 0 for parallel projection."""
    return plane * (1.0 - np.asarray(depth) * inverse_distance)


class Feet(NamedTuple):
    """Where the planes of the two cameras cross: the middle of the ankles, X and Y in metres."""

    x: Array | float
    y: Array | float


class Distances(NamedTuple):
    """Of both cameras, as 1 / metres; 0 is a camera so far away that its rays are parallel."""

    face_on: Array | float
    down: Array | float


class Yaws(NamedTuple):
    """Cosine and sine of how far both cameras are turned about the upright from their right directions, +
    counter-clockwise seen from above: the face-on camera then looks somewhat toward the trail side."""

    cos_face_on: Array | float = 1.0
    sin_face_on: Array | float = 0.0
    cos_down: Array | float = 1.0
    sin_down: Array | float = 0.0

    @classmethod
    def of(cls, face_on: Array, down: Array) -> "Yaws":
        """From angles in radians."""
        return cls(np.cos(face_on), np.sin(face_on), np.cos(down), np.sin(down))


class Triangulated(NamedTuple):
    """A landmark from two pictures, metres; `z_face_on` and `z_down` each from its own camera's axis."""

    x: Array
    y: Array
    z_face_on: Array
    z_down: Array


SQUARE = Yaws()
"""Both cameras look in their right directions."""


def triangulate(face_on: Array, down: Array, distances: Distances, feet: Feet, yaws: Yaws = SQUARE) -> Triangulated:
    """A landmark's place from its plane coordinates (..., 2) in both pictures.

    The depth in one picture is the place in the other, so two linear equations in X and Y hold, both counted from the
    feet and solved in closed form. With yaw ψ, plane coordinate a (face-on) or b (down-the-line) and distance D:
    X·(cos ψ − a/D·sin ψ) + Y·(sin ψ + a/D·cos ψ) = a − feet.x and
    X·(−sin ψ − b/D·cos ψ) + Y·(cos ψ − b/D·sin ψ) = b − feet.y.
    """
    p, q = face_on[..., 0] * distances.face_on, down[..., 0] * distances.down
    cos_f, sin_f, cos_d, sin_d = yaws
    a, b = cos_f - p * sin_f, sin_f + p * cos_f
    c, d = -sin_d - q * cos_d, cos_d - q * sin_d
    right_x, right_y = face_on[..., 0] - feet.x, down[..., 0] - feet.y
    whole = a * d - b * c
    x, y = (d * right_x - b * right_y) / whole, (a * right_y - c * right_x) / whole
    depth_face_on, depth_down = y * cos_f - x * sin_f, -x * cos_d - y * sin_d
    return Triangulated(
        x + feet.x,
        y + feet.y,
        without_perspective(face_on[..., 1], depth_face_on, distances.face_on),
        without_perspective(down[..., 1], depth_down, distances.down),
    )


def middle_of_feet(
    face_on: tuple[Array, Array], down: tuple[Array, Array], inverse_face_on: Array | float, inverse_down: Array | float
) -> Feet:
    """The middle of the ankles from the plane coordinates (..., 2) of lead and trail ankle in both pictures.

    The planes stand through the very point that is sought, so the two ankles' depths are half of what lies between
    them, ±; that leaves two linear equations for the differences between the ankles.
    """
    (lead_x, trail_x), (lead_y, trail_y) = (a[..., 0] for a in face_on), (a[..., 0] for a in down)
    half_f, half_d = (lead_x + trail_x) * inverse_face_on / 2, (lead_y + trail_y) * inverse_down / 2
    between_x = ((lead_x - trail_x) - half_f * (lead_y - trail_y)) / (1.0 + half_f * half_d)
    between_y = (lead_y - trail_y) + half_d * between_x
    return Feet(
        (lead_x + trail_x) / 2 - (lead_x - trail_x) * between_y * inverse_face_on / 4,
        (lead_y + trail_y) / 2 + (lead_y - trail_y) * between_x * inverse_down / 4,
    )
