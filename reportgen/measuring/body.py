"""A body in space at one checkpoint, from one still or from the two of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from reportgen.measuring.blur import depth_draws, draws
from reportgen.measuring.camera import Distances, Feet, Yaws, middle_of_feet, triangulate, without_perspective
from reportgen.measuring.depths import depth_of
from reportgen.measuring.geometry import Array
from reportgen.measuring.moments import HIPS, WRISTS
from reportgen.measuring.sights import Sight
from reportgen.measuring.stands import USUAL_DISTANCE_M
from reportgen.records.formulas import Point, marks_of
from reportgen.records.words import Mark

SEAT_FROM_MID_HIP_M = 0.05
"""Standard uncertainty, along the target line, of the rearmost point of the buttocks from mid-hip (own figure)."""


@dataclass(frozen=True)
class Body:
    """Landmarks in metres, each (rows, 3): X to the target, Y toward the ball, Z up; row 0 without noise.

    One view gives only its own plane, the third coordinate is NaN. Z counts from the height of the camera's axis,
    with two views from the mean of both; so only differences in Z have a meaning. A landmark that only one of two
    views shows is left out, but for the seat, which has a Y alone. `higher` is by how much the down-the-line picture
    shows wrists and hips higher than the face-on one, (rows,), each from its own camera's axis: all by the same in
    pictures of one moment.
    """

    landmarks: Mapping[Mark, Array]
    views: int
    higher: Mapping[Mark, Array] = field(default_factory=dict)

    def __getitem__(self, mark: Mark) -> Array:
        return self.landmarks[mark]

    def point(self, point: Point) -> Array:
        """A landmark, or the middle between those of the lead and the trail side, (rows, 3)."""
        marks = marks_of(point)
        if len(marks) == 1:
            return self.landmarks[marks[0]]
        return np.asarray((self.landmarks[marks[0]] + self.landmarks[marks[1]]) / 2)

    def line(self, start: Point, end: Point) -> Array:
        """From one point to another, (rows, 3)."""
        return self.point(end) - self.point(start)


def body_from_one(sight: Sight) -> Body:
    """The body in the plane of one picture. How deep each landmark stands is unknown: row 0 takes it in the player's
    plane, the samples by `depths`, with the camera's distance or 4 m where it is not given."""
    rows, view = len(sight.yaw), sight.view
    inverse = sight.inverse_distance[0] if sight.distance_known else 1.0 / USUAL_DISTANCE_M
    landmarks = {}
    for mark, plane in sight.marks.items():
        spread = depth_of(mark, view)
        posture, own = depth_draws(view, mark, sight.checkpoint, rows)
        depth = spread.posture * posture + spread.moving * own
        point = np.full((rows, 3), np.nan)
        across = without_perspective(plane[:, 0], depth, inverse)
        point[:, 0 if view == "face-on" else 1] = across - depth * np.tan(sight.yaw)
        point[:, 2] = without_perspective(plane[:, 1], depth, inverse)
        landmarks[mark] = point
    return Body(landmarks, views=1)


def feet_of(face_on: Sight, down: Sight) -> Feet | None:
    """Where the two cameras' planes cross, (rows,) each; None where an ankle is not marked in both pictures."""
    ankles: tuple[Mark, Mark] = ("lead-ankle", "trail-ankle")
    if any(mark not in sight.marks for sight in (face_on, down) for mark in ankles):
        return None
    lead, trail = ankles
    return middle_of_feet(
        (face_on.marks[lead], face_on.marks[trail]),
        (down.marks[lead], down.marks[trail]),
        face_on.inverse_distance,
        down.inverse_distance,
    )


def body_from_two(face_on: Sight, down: Sight, feet: Feet) -> Body:
    """The body in space from the two pictures of one moment."""
    distances, yaws = Distances(face_on.inverse_distance, down.inverse_distance), Yaws.of(face_on.yaw, down.yaw)
    landmarks, higher = {}, {}
    for mark in sorted(face_on.marks.keys() & down.marks.keys()):
        seen = triangulate(face_on.marks[mark], down.marks[mark], distances, feet, yaws)
        landmarks[mark] = np.stack([seen.x, seen.y, (seen.z_face_on + seen.z_down) / 2], axis=-1)
        if mark in HIPS or mark in WRISTS:
            higher[mark] = seen.z_down - seen.z_face_on
    if "seat" in down.marks and {"lead-hip", "trail-hip"} <= landmarks.keys():
        landmarks["seat"] = _seat(Body(landmarks, views=2).point("mid-hip"), down, feet)
    return Body(landmarks, 2, higher)


def _seat(mid_hip: Array, down: Sight, feet: Feet) -> Array:
    """The seat, which only the down-the-line picture shows; it is as deep there as the hips that carry it. Its Y is
    that of the second equation of `triangulate` with X known."""
    x = mid_hip[:, 0] + SEAT_FROM_MID_HIP_M * draws("habit", len(mid_hip), "seat", down.checkpoint)
    point = np.full((len(x), 3), np.nan)
    across, cos, sin = down.marks["seat"][:, 0], np.cos(down.yaw), np.sin(down.yaw)
    q = across * down.inverse_distance
    point[:, 1] = feet.y + (across - feet.y + (x - feet.x) * (sin + q * cos)) / (cos - q * sin)
    return point
