"""Angles and movements of points in space, as plain functions of arrays.

A point is the last axis of an array: (..., 3) as X, Y, Z or (..., 2) in a plane, in metres. X points to the target,
Y from the player to the ball, Z up. Angles come back in degrees, with the leading shape of the arguments. Every angle
is taken by atan2 of a cross and a dot product, which keeps its precision near 0° and 180° where acos loses it.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def angle_between(a: Array, b: Array) -> Array:
    """Angle between two directions of (..., 3), 0 to 180 deg; 0 where one has no length."""
    x = a[..., 1] * b[..., 2] - a[..., 2] * b[..., 1]
    y = a[..., 2] * b[..., 0] - a[..., 0] * b[..., 2]
    z = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    dot = a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1] + a[..., 2] * b[..., 2]
    return np.degrees(np.arctan2(np.sqrt(x * x + y * y + z * z), dot))


def signed_angle(a: Array, b: Array) -> Array:
    """Angle in a plane from direction a to direction b, both (..., 2); + anticlockwise, −180 to 180 deg."""
    cross = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    dot = a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]
    return np.degrees(np.arctan2(cross, dot))


def turn(line: Array) -> Array:
    """Turn about the vertical of a line (..., 3) from its trail to its lead end: 0 along the target line, + closed
    (lead end toward the ball), deg."""
    return np.degrees(np.arctan2(line[..., 1], line[..., 0]))


def flexion(hip: Array, knee: Array, ankle: Array) -> Array:
    """Bend of the knee in space: 180° less the angle at the knee, 0 straight, + bent, deg. Points are (..., 3)."""
    return angle_between(knee - hip, ankle - knee)


def planar_flexion(hip: Array, knee: Array, ankle: Array) -> Array:
    """Bend of the knee as a down-the-line picture shows it: the same in the Y-Z plane, deg; + where the knee stands
    toward the ball from the line between hip and ankle. Points are (..., 3)."""
    return signed_angle((ankle - knee)[..., 1:], (knee - hip)[..., 1:])


def component(vector: Array, axis: int, sign: float) -> Array:
    """How far a vector (..., 3) goes along an axis (0, 1, 2 for X, Y, Z), + with its `sign`, in the vector's unit."""
    return sign * vector[..., axis]


def tilt(line: Array, axis: int, sign: float) -> Array:
    """Lean of a line (..., 3) along an axis (0, 1, 2 for X, Y, Z), + with its `sign`, deg: along X or Y from the
    vertical, as the trunk leans; along Z from the level along X, as the shoulders do."""
    return np.degrees(np.arctan2(component(line, axis, sign), line[..., 0 if axis == 2 else 2]))


def movement_along(before: Array, after: Array, toward: Array) -> Array:
    """How far a point went in the direction of another one, seen face-on (X-Z plane), from `before`; + toward it,
    metres. Points are (..., 3)."""
    x, z = (toward - before)[..., 0], (toward - before)[..., 2]
    moved = after - before
    return np.asarray((moved[..., 0] * x + moved[..., 2] * z) / np.hypot(x, z))


def square_width(line: Array, at_setup: Array) -> Array:
    """How wide a line shows face-on when it is square to the picture with the tilt that it has now, metres.

    Lines are (..., 3). At setup the line is taken as square, so W² = width² + rise² at setup, less its rise² now;
    without the tilt a line that only dips would read as turned.
    """
    return np.sqrt(np.maximum(at_setup[..., 0] ** 2 + at_setup[..., 2] ** 2 - line[..., 2] ** 2, 0.0))


def foreshortened_turn(width: Array, square: Array) -> Array:
    """Size of a line's turn from its width in the face-on picture and its `square_width`, 0 to 180 deg:
    |θ| = acos(w / W). Where w is wider than W the line counts as square."""
    return np.degrees(np.arctan2(np.sqrt(np.maximum(square**2 - width**2, 0.0)), np.clip(width, -square, square)))


def wrapped(angle: Array) -> Array:
    """The same angle from −180 up to 180 deg."""
    return (angle + 180.0) % 360.0 - 180.0
