"""A golfer of our own in three dimensions, built so that its measures are known before anybody draws it.

Axes for right- and left-handed players alike, in metres: X toward the target, Y from the player toward the ball, Z up.
The body is the one that drills are drawn with (`reportgen/posing/body.py`); arms and club are set by what a lesson is
to show.
"""

from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from reportgen.posing.body import FOREARM, UPPER_ARM, Foot, Stance, bent, joints
from reportgen.posing.vectors import Vec

Vector = NDArray[np.float64]
Figure = dict[str, Vector]
View = Literal["face-on", "down-the-line"]

CLUB = 0.48
"""From the lead wrist to the clubhead, for an iron."""


@dataclass(frozen=True)
class Pose:
    """One checkpoint of one swing. Angles in degrees, lengths in metres; signs as the measures have them.

    `pelvis_shift` and `seat_forward` count from setup, `heel_lift` is the trail heel's height above its place at setup.
    `lead_arm` sends the lead hand along (shoulder line from lead to trail, chest forward, up), `reach` of the arm's
    length far, and `shaft` points the club; without them the club is soled at the ball, the hands `lean` ahead of it.
    """

    stature: float = 1.75
    plays: Literal["right", "left"] = "right"
    stance: float = 0.21
    """Half the distance between the ankles."""
    pelvis_closed: float = 0.0
    thorax_closed: float = 0.0
    side_bend: float = 5.0
    forward_bend: float = 38.0
    lead_knee: float = 20.0
    trail_knee: float = 20.0
    pelvis_shift: float = 0.0
    seat_forward: float = 0.0
    heel_lift: float = 0.0
    ball: tuple[float, float] = (0.03, 0.73)
    lean: float = 0.02
    lead_arm: tuple[float, float, float] | None = None
    reach: float = 0.997
    shaft: tuple[float, float, float] = (0.95, 0.0, 0.2)


@dataclass(frozen=True)
class Camera:
    """A pinhole with a level axis through the middle of the stance.

    `distance` and `height` in metres, `px_per_m` in the player's plane, `size` of the picture in pixels.
    """

    view: View
    distance: float
    height: float = 1.10
    px_per_m: float = 500.0
    size: tuple[int, int] = (960, 1400)


def unit(v: Vector) -> Vector:
    """`v` with length 1."""
    return v / float(np.linalg.norm(v))


def _vector(x: float, y: float, z: float) -> Vector:
    return np.array([x, y, z], dtype=np.float64)


def _bent(start: Vector, end: Vector, first: float, second: float, pole: Vector) -> Vector:
    return _array(bent(_vec(start), _vec(end), first, second, _vec(pole)))


def _vec(v: Vector) -> Vec:
    return Vec(*map(float, v))


def _array(v: Vec) -> Vector:
    return _vector(v.x, v.y, v.z)


def _hands_to_ball(shoulder: Vector, ball: Vector, lean: float, stature: float) -> Vector:
    """The lead wrist, `lean` ahead of the ball: where a nearly straight arm and the club's length meet."""
    arm, club = 0.985 * (UPPER_ARM + FOREARM) * stature, CLUB * stature
    x = ball[0] + lean
    r1, r2 = sqrt(arm**2 - (x - shoulder[0]) ** 2), sqrt(club**2 - lean**2)
    between = ball[1:] - shoulder[1:]
    apart = float(np.linalg.norm(between))
    if apart < r1 + r2:
        along = (r1**2 - r2**2 + apart**2) / (2 * apart)
        aside = sqrt(max(r1**2 - along**2, 0.0))
    else:  # the shoulder blade reaches the rest of the way
        along, aside = apart * r1 / (r1 + r2), 0.0
    across = _vector(0, between[1], -between[0])[1:] / apart
    y, z = shoulder[1:] + between / apart * along + across * aside
    return _vector(x, y, z)


def stance_of(pose: Pose) -> Stance:
    """How the golfer stands in a pose."""
    ankles = [
        Foot(x=place * pose.stance, out=out, heel=up) for place, out, up in ((1, 22, 0), (-1, -8, pose.heel_lift))
    ]
    return Stance(
        *ankles,
        stature=pose.stature,
        belt=pose.pelvis_closed,
        chest=pose.thorax_closed,
        side_bend=pose.side_bend,
        bend=pose.forward_bend,
        lead_knee=pose.lead_knee,
        trail_knee=pose.trail_knee,
        shift=pose.pelvis_shift,
        seat_forward=pose.seat_forward,
    )


def figure(pose: Pose) -> Figure:
    """Every joint of the golfer in `pose`, by the name of its mark, and a few more that only the drawing needs."""
    body = {name: _array(point) for name, point in joints(stance_of(pose)).items()}
    return body | _arms_and_club(pose, body, radians(pose.thorax_closed))


def _arms_and_club(pose: Pose, body: Figure, turned: float) -> Figure:
    h = pose.stature
    ball = _vector(pose.ball[0], pose.ball[1] * h / 1.75, 0.02)
    chest = _vector(-sin(turned), cos(turned), 0)
    shoulder = body["lead-shoulder"]
    if pose.lead_arm is None:
        clubhead = ball - _vector(0.036, 0.02, 0)
        hands = _hands_to_ball(shoulder, clubhead, pose.lean, h)
        shaft = unit(clubhead - hands)
    else:
        across, ahead, up = pose.lead_arm
        line = _vector(-cos(turned), -sin(turned), 0)
        direction = unit(across * line + ahead * chest + _vector(0, 0, up))
        hands = shoulder + pose.reach * (UPPER_ARM + FOREARM) * h * direction
        shaft = unit(np.array(pose.shaft, dtype=np.float64))
        clubhead = hands + CLUB * h * shaft
    trail_wrist = hands + 0.05 * h * shaft - 0.012 * h * unit(body["lead-shoulder"] - body["trail-shoulder"])
    down = _vector(0, 0, -1)
    arm = (UPPER_ARM * h, FOREARM * h)
    return {
        "ball": ball,
        "lead-wrist": hands,
        "trail-wrist": trail_wrist,
        "lead-elbow": _bent(shoulder, hands, *arm, down + 0.3 * _vector(1, 0, 0)),
        "trail-elbow": _bent(body["trail-shoulder"], trail_wrist, *arm, down - 0.25 * chest),
        "clubhead": clubhead,
    }


def project(points: Figure, camera: Camera, plays: str = "right") -> dict[str, tuple[float, float]]:
    """Where a pinhole camera sees `points`: pixels from the top left corner, y down; a left-handed player mirrored."""
    return {name: pixel(point, camera, plays) for name, point in points.items()}


def pixel(point: Vector, camera: Camera, plays: str = "right") -> tuple[float, float]:
    """The pixel of one point."""
    x, y, z = point
    aside = x if camera.view == "face-on" else y
    zoom = camera.px_per_m * camera.distance / away(point, camera)
    mirrored = -1 if plays == "left" else 1
    return camera.size[0] / 2 + mirrored * zoom * aside, camera.size[1] / 2 - zoom * (z - camera.height)


def away(point: Vector, camera: Camera) -> float:
    """Distance of a point from the lens along the camera's axis, in metres."""
    x, y, _ = point
    return float(camera.distance - y) if camera.view == "face-on" else float(camera.distance + x)


def turn(body: Figure, part: Literal["hip", "shoulder"]) -> float:
    """Turn of the hip or shoulder line seen from above, degrees, closed positive."""
    x, y, _ = body[f"lead-{part}"] - body[f"trail-{part}"]
    return degrees(atan2(y, x))


def knee(body: Figure, side: Literal["lead", "trail"]) -> float:
    """Knee flexion in space, degrees, 0 for a straight leg."""
    thigh, shank = body[f"{side}-hip"] - body[f"{side}-knee"], body[f"{side}-ankle"] - body[f"{side}-knee"]
    return 180 - degrees(np.arccos(float(unit(thigh) @ unit(shank))))


def true_values(setup: Figure, top: Figure, impact: Figure) -> dict[str, float]:
    """What a perfect measurement of the three checkpoints would read, by metric; degrees and centimetres."""
    middle = {name: (body["lead-hip"] + body["trail-hip"]) / 2 for name, body in (("setup", setup), ("impact", impact))}
    trunk_setup, trunk = setup["neck"] - middle["setup"], impact["neck"] - middle["impact"]
    return {
        "pelvis-closed-top": turn(top, "hip"),
        "thorax-closed-top": turn(top, "shoulder"),
        "separation-top": turn(top, "shoulder") - turn(top, "hip"),
        "trail-knee-flex-top": knee(top, "trail"),
        "trail-knee-kept": knee(top, "trail") - knee(setup, "trail"),
        "seat-forward-impact": 100 * float(impact["seat"][1] - setup["seat"][1]),
        "pelvis-open-impact": -turn(impact, "hip"),
        "thorax-open-impact": -turn(impact, "shoulder"),
        "lead-knee-flex-impact": knee(impact, "lead"),
        "trail-heel-lift-impact": 100 * float(impact["trail-heel"][2] - setup["trail-heel"][2]),
        "side-bend-impact": degrees(atan2(-trunk[0], trunk[2])),
        "posture-change-impact": degrees(atan2(trunk[1], trunk[2]) - atan2(trunk_setup[1], trunk_setup[2])),
        "pelvis-shift-impact": 100 * float(middle["impact"][0] - middle["setup"][0]),
    }
