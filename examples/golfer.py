"""A golfer of our own in three dimensions, built so that its measures are known before anybody draws it.

Axes for right- and left-handed players alike, in metres: X toward the target, Y from the player toward the ball, Z up.
The origin lies on the ground in the middle of the stance, between the ankles. Body proportions are round figures for
an adult (common practice, no source); they scale with stature.
"""

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin, sqrt, tan
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
Figure = dict[str, Vector]
View = Literal["face-on", "down-the-line"]

THIGH, SHANK, ANKLE_HEIGHT = 0.245, 0.246, 0.039  # parts of stature, like all that follow
TRUNK, HIPS_APART, SHOULDERS_APART = 0.290, 0.105, 0.205
UPPER_ARM, FOREARM = 0.178, 0.152
SEAT_AT_SETUP = -0.150
CLUB = 0.48
"""From the lead wrist to the clubhead, for an iron."""


@dataclass(frozen=True)
class Pose:
    """One checkpoint of one swing. Angles in degrees, lengths in metres; signs as the measures have them.

    `pelvis_shift` and `seat_forward` count from setup, `heel_lift` is the trail heel's height above its place at setup.
    `lead_arm` sends the lead hand along (shoulder line from lead to trail, chest forward, up) and `shaft` points the
    club; without them the club is soled at the ball with the hands `lean` ahead of it.
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


def _reach(knee_deg: float, stature: float) -> float:
    """Hip to ankle of a leg bent by `knee_deg`: the law of cosines."""
    a, b = THIGH * stature, SHANK * stature
    return sqrt(a * a + b * b + 2 * a * b * cos(radians(knee_deg)))


def _bent(start: Vector, end: Vector, first: float, second: float, pole: Vector) -> Vector:
    """The middle joint of a limb of two parts, on the side that `pole` points to."""
    axis = unit(end - start)
    length = min(float(np.linalg.norm(end - start)), (first + second) * 0.9999)
    along = (first**2 - second**2 + length**2) / (2 * length)
    out = unit(pole - axis * float(pole @ axis))
    return start + axis * along + out * sqrt(max(first**2 - along**2, 0.0))


def _foot(ankle: Vector, turned_out: float, lift: float, stature: float) -> Figure:
    """Heel, ankle, ball of the foot and toe; a lifted foot stands on its ball and rolls toward the target."""
    ahead = _vector(sin(radians(turned_out)), cos(radians(turned_out)), 0)
    ball = ankle + ahead * 0.065 * stature
    ball[2] = 0.017 * stature
    yaw = radians(turned_out + 350 * lift)
    ahead = _vector(sin(yaw), cos(yaw), 0)
    raised = np.arcsin(min(lift / (0.098 * stature), 0.98))
    back, up = -ahead * cos(raised) + _vector(0, 0, sin(raised)), ahead * sin(raised) + _vector(0, 0, cos(raised))
    toe = ball + ahead * 0.036 * stature
    return {
        "heel": ball + back * 0.098 * stature,
        "ankle": ball + back * 0.065 * stature + up * (ANKLE_HEIGHT - 0.017) * stature,
        "ball-of-foot": ball,
        "toe": toe,
    }


def _seat_behind_hips(pelvis_closed: float, stature: float) -> float:
    """How far the rearmost point of the buttocks lies behind the middle of the hips; a turn pushes one of them back."""
    turned = radians(pelvis_closed)
    return stature * (0.046 * abs(sin(turned)) + 0.034 * cos(turned) + 0.042)


def _hips(pose: Pose, lead_ankle: Vector, trail_ankle: Vector) -> tuple[Vector, Vector]:
    """Hip joint centres that give the wanted turn, shift, seat and both knee angles at once.

    The heights follow from the knees; the tilt of the hip line follows from the heights and shortens its level part,
    so a few rounds are needed.
    """
    h, turned = pose.stature, radians(pose.pelvis_closed)
    middle_y = SEAT_AT_SETUP * h + pose.seat_forward + _seat_behind_hips(pose.pelvis_closed, h)
    level = HIPS_APART * h
    for _ in range(40):
        half = _vector(cos(turned), sin(turned), 0) * level / 2
        lead, trail = (_vector(pose.pelvis_shift, middle_y, 0) + side * half for side in (1, -1))
        for hip, ankle, knee in ((lead, lead_ankle, pose.lead_knee), (trail, trail_ankle, pose.trail_knee)):
            across = hypot(hip[0] - ankle[0], hip[1] - ankle[1])
            hip[2] = ankle[2] + sqrt(_reach(knee, h) ** 2 - across**2)
        level = sqrt((HIPS_APART * h) ** 2 - min(abs(lead[2] - trail[2]), 0.08 * h) ** 2)
    return lead, trail


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


def figure(pose: Pose) -> Figure:
    """Every joint of the golfer in `pose`, by the name of its mark, and a few more that only the drawing needs."""
    h = pose.stature
    feet = {
        side: _foot(_vector(place * pose.stance, 0, ANKLE_HEIGHT * h), out, lift, h)
        for side, place, out, lift in (("lead", 1, 22.0, 0.0), ("trail", -1, -8.0, pose.heel_lift))
    }
    body: Figure = {f"{side}-{part}": point for side, foot in feet.items() for part, point in foot.items()}
    lead_hip, trail_hip = _hips(pose, body["lead-ankle"], body["trail-ankle"])
    body |= {"lead-hip": lead_hip, "trail-hip": trail_hip}
    forward = _vector(-sin(radians(pose.pelvis_closed)), cos(radians(pose.pelvis_closed)), 0)
    for side in ("lead", "trail"):
        ahead = unit(feet[side]["toe"] - feet[side]["heel"])
        hip, ankle = body[f"{side}-hip"], body[f"{side}-ankle"]
        body[f"{side}-knee"] = _bent(hip, ankle, THIGH * h, SHANK * h, 0.6 * ahead + 0.4 * forward)
    middle = (lead_hip + trail_hip) / 2
    for side in ("lead", "trail"):
        body[f"{side}-buttock"] = body[f"{side}-hip"] - 0.034 * h * forward - _vector(0, 0, 0.012 * h)
    body["seat"] = middle - _vector(0, _seat_behind_hips(pose.pelvis_closed, h), 0.012 * h)
    trunk = TRUNK * h * unit(_vector(-tan(radians(pose.side_bend)), tan(radians(pose.forward_bend)), 1))
    body["neck"] = middle + trunk
    body["head"] = body["neck"] + 0.092 * h * unit(unit(trunk) * _vector(0.6, 1, 1) + _vector(0, 0.05, 0.45))
    turned = radians(pose.thorax_closed)
    rise = -0.9 * (cos(turned) * trunk[0] + sin(turned) * trunk[1]) / trunk[2]
    half = SHOULDERS_APART * h / 2 * unit(_vector(cos(turned), sin(turned), rise))
    middle_shoulder = body["neck"] - 0.018 * h * unit(trunk)
    body |= {"lead-shoulder": middle_shoulder + half, "trail-shoulder": middle_shoulder - half}
    return body | _arms_and_club(pose, body, turned)


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
        hands = shoulder + 0.997 * (UPPER_ARM + FOREARM) * h * direction
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
