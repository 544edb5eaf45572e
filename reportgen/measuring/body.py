"""A body in space at one checkpoint, from one still or from the two of it."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from reportgen.measuring.camera import Feet, middle_of_feet, triangulate, without_perspective
from reportgen.measuring.depths import depth_of
from reportgen.measuring.geometry import Array
from reportgen.measuring.sights import USUAL_DISTANCE_M, Noise, Sight, draws, generator
from reportgen.records.words import Mark

SEAT_FROM_MID_HIP_M = 0.05
"""Standard uncertainty, along the target line, of the rearmost point of the buttocks from mid-hip (own figure)."""


@dataclass(frozen=True)
class Body:
    """Landmarks in metres, each (rows, 3): X to the target, Y toward the ball, Z up; row 0 without noise.

    One view gives only its own plane, the third coordinate is NaN. Z counts from the height of the camera's axis,
    with two views from the mean of both; so only differences in Z have a meaning. A landmark that only one of two
    views shows is left out, but for the seat, which has a Y alone.
    """

    landmarks: Mapping[Mark, Array]
    views: int

    def __getitem__(self, mark: Mark) -> Array:
        return self.landmarks[mark]

    def line(self, joint: str) -> Array:
        """From the trail to the lead `joint` (hip, shoulder), (rows, 3)."""
        return self.landmarks[f"lead-{joint}"] - self.landmarks[f"trail-{joint}"]  # type: ignore[index, operator]

    @property
    def mid_hip(self) -> Array:
        """The middle between the hip joints, (rows, 3)."""
        return np.asarray((self.landmarks["lead-hip"] + self.landmarks["trail-hip"]) / 2)

    @property
    def trunk(self) -> Array:
        """From mid-hip to the neck, (rows, 3)."""
        return self.landmarks["neck"] - self.mid_hip


def body_from_one(sight: Sight, noise: Noise) -> Body:
    """The body in the plane of one picture. How deep each landmark stands is unknown: row 0 takes it in the player's
    plane, the samples by `depths`, with the camera's distance or 4 m where it is not given."""
    random = generator("one view", sight.digest)
    inverse = sight.inverse_distance[0] if sight.distance_known else 1.0 / USUAL_DISTANCE_M
    landmarks = {}
    for mark, plane in sight.marks.items():
        spread = depth_of(mark, sight.view)
        own, placed = draws(random, 2, len(plane))
        depth = spread.posture * draws(generator("posture", sight.view, mark), len(plane)) + spread.moving * own
        point = np.full((len(plane), 3), np.nan)
        point[:, 0 if sight.view == "face-on" else 1] = without_perspective(plane[:, 0], depth, inverse)
        point[:, 2] = without_perspective(plane[:, 1], depth, inverse) + noise.placement_mm / 1000 * placed
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


def body_from_two(face_on: Sight, down: Sight, feet: Feet, noise: Noise) -> Body:
    """The body in space from the two pictures of one moment."""
    random = generator("two views", face_on.digest, down.digest)
    landmarks = {}
    for mark in sorted(face_on.marks.keys() & down.marks.keys()):
        seen = triangulate(face_on.marks[mark], down.marks[mark], face_on.inverse_distance, down.inverse_distance, feet)
        placed = noise.placement_mm / 1000 * draws(random, len(seen.x))
        landmarks[mark] = np.stack([seen.x, seen.y, (seen.z_face_on + seen.z_down) / 2 + placed], axis=-1)
    if "seat" in down.marks and {"lead-hip", "trail-hip"} <= landmarks.keys():
        landmarks["seat"] = _seat(Body(landmarks, views=2).mid_hip, down, feet, random)
    return Body(landmarks, views=2)


def _seat(mid_hip: Array, down: Sight, feet: Feet, random: np.random.Generator) -> Array:
    """The seat, which only the down-the-line picture shows; it is as deep there as the hips that carry it."""
    x = mid_hip[:, 0] + SEAT_FROM_MID_HIP_M * draws(random, len(mid_hip))
    point = np.full((len(x), 3), np.nan)
    point[:, 1] = without_perspective(down.marks["seat"][:, 0], feet.x - x, down.inverse_distance)
    return point
