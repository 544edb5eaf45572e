"""The body that the demo's golfer and the drills' figure share: its measures, and where its joints are in a stance.

The origin lies on the ground in the middle of the stance, between the ankles. Proportions are round figures for an
adult (common practice, no source); they scale with stature. Angles in degrees, lengths in metres.
"""

from dataclasses import dataclass
from math import asin, cos, hypot, radians, sin, sqrt, tan

from reportgen.posing.vectors import UP, Vec, between

THIGH, SHANK, ANKLE_HEIGHT = 0.245, 0.246, 0.039  # parts of stature, like all that follow
TRUNK, HIPS_APART, SHOULDERS_APART = 0.290, 0.105, 0.205
UPPER_ARM, FOREARM = 0.178, 0.152
HEEL_TO_BALL, BALL_TO_TOE, SOLE = 0.098, 0.036, 0.017
SEAT_AT_SETUP = -0.150
_STRAIGHT = 3.0
"""A knee that bends as it comes is never straighter, in degrees: a leg that is too short for a level belt tips it."""
SEAT_BELOW_HIPS = 0.046
"""How far a chair's seat lies below the hip joints of somebody who sits on it."""

Joints = dict[str, Vec]
SIDES = ("lead", "trail")


class PoseError(ValueError):
    """No body can stand so: (what is wrong, how to mend it)."""


@dataclass(frozen=True)
class Foot:
    """Where an ankle is over the ground, how far the foot points toward the target, and how high the heel or the toes
    (in degrees) are lifted; it `rolls` toward the target by so many degrees a metre of heel."""

    x: float
    y: float = 0.0
    out: float = 0.0
    heel: float = 0.0
    toes: float = 0.0
    rolls: float = 350.0


@dataclass(frozen=True)
class Stance:
    """How somebody stands or sits, without the arms. Closed turns and a side bend to the trail side are positive.

    A knee that is None bends so that the hips are level; of those who sit, whose hips are `seat_height` above the
    ground, both do. `seat_forward` counts from the usual place of the seat.
    """

    lead_foot: Foot
    trail_foot: Foot
    stature: float = 1.75
    belt: float = 0.0
    chest: float = 0.0
    side_bend: float = 5.0
    bend: float = 38.0
    lead_knee: float | None = 20.0
    trail_knee: float | None = 20.0
    shift: float = 0.0
    seat_forward: float = 0.0
    seat_height: float | None = None


def bent(start: Vec, end: Vec, first: float, second: float, pole: Vec) -> Vec:
    """The middle joint of a limb of two parts, on the side that `pole` points to."""
    axis = (end - start).unit
    length = min((end - start).length, (first + second) * 0.9999)
    along = (first**2 - second**2 + length**2) / (2 * length)
    out = (pole - axis * pole.dot(axis)).unit
    return start + axis * along + out * sqrt(max(first**2 - along**2, 0.0))


def feet(stance: Stance) -> Joints:
    """Heel, ankle, ball and toe of both feet."""
    placed = (("lead", stance.lead_foot), ("trail", stance.trail_foot))
    return {f"{side}-{part}": point for side, foot in placed for part, point in _foot(foot, stance.stature).items()}


def _foot(foot: Foot, h: float) -> Joints:
    """A lifted foot stands on its ball; lifted toes leave heel and ball on the ground."""
    ahead = _level(foot.out)
    ball = Vec(foot.x, foot.y, ANKLE_HEIGHT * h) + ahead * (0.065 * h)
    ball = Vec(ball.x, ball.y, SOLE * h)
    ahead = _level(foot.out + foot.rolls * foot.heel)
    raised = asin(min(foot.heel / (HEEL_TO_BALL * h), 0.98))
    back, up = -ahead * cos(raised) + UP * sin(raised), ahead * sin(raised) + UP * cos(raised)
    toes = radians(foot.toes)
    return {
        "heel": ball + back * (HEEL_TO_BALL * h),
        "ankle": ball + back * (0.065 * h) + up * ((ANKLE_HEIGHT - SOLE) * h),
        "ball-of-foot": ball,
        "toe": ball + (ahead * cos(toes) + UP * sin(toes)) * (BALL_TO_TOE * h),
    }


def _level(out: float) -> Vec:
    return Vec(sin(radians(out)), cos(radians(out)), 0)


def reach(knee: float, stature: float) -> float:
    """Hip to ankle of a leg bent by `knee` degrees: the law of cosines."""
    a, b = THIGH * stature, SHANK * stature
    return sqrt(a * a + b * b + 2 * a * b * cos(radians(knee)))


def seat_behind_hips(belt: float, stature: float) -> float:
    """How far the rearmost point of the buttocks lies behind the middle of the hips; a turn pushes one of them back."""
    turned = radians(belt)
    return stature * (0.046 * abs(sin(turned)) + 0.034 * cos(turned) + 0.042)


def _hips(stance: Stance, body: Joints) -> tuple[Vec, Vec]:
    """Hip joint centres that give the wanted turn, shift, seat and knee angles at once.

    The heights follow from the knees; the tilt of the hip line follows from the heights and shortens its level part,
    so a few rounds are needed. Raises PoseError.
    """
    h, turned = stance.stature, radians(stance.belt)
    middle_y = SEAT_AT_SETUP * h + stance.seat_forward + seat_behind_hips(stance.belt, h)
    level = HIPS_APART * h
    knees = (("lead", stance.lead_knee, 1), ("trail", stance.trail_knee, -1))
    hips: Joints = {}
    for _ in range(40):
        half = Vec(cos(turned), sin(turned), 0) * (level / 2)
        flat = {side: Vec(stance.shift, middle_y, 0) + half * sign for side, _, sign in knees}
        heights = {side: _height(side, flat[side], body, knee, h) for side, knee, _ in knees if knee is not None}
        if stance.seat_height is not None:
            heights = dict.fromkeys(SIDES, stance.seat_height + SEAT_BELOW_HIPS * h)
        first = next(iter(heights.values()), None)
        if first is None:
            raise PoseError("bends both knees as it comes", "Write lead_knee or trail_knee.")
        for side in SIDES:
            if side not in heights:
                heights[side] = min(first, _height(side, flat[side], body, _STRAIGHT, h))
        hips = {side: flat[side] + UP * heights[side] for side in SIDES}
        before, level = level, sqrt((HIPS_APART * h) ** 2 - min(abs(hips["lead"].z - hips["trail"].z), 0.08 * h) ** 2)
        if level == before:
            break
    return hips["lead"], hips["trail"]


def _height(side: str, hip: Vec, body: Joints, knee: float, stature: float) -> float:
    ankle = body[f"{side}-ankle"]
    left = reach(knee, stature) ** 2 - hypot(hip.x - ankle.x, hip.y - ankle.y) ** 2
    if left <= 0:
        raise PoseError(f"has a {side} foot that the leg does not reach", "Put the foot nearer, or shift less.")
    return ankle.z + sqrt(left)


def joints(stance: Stance) -> Joints:
    """Every joint but those of the arms, by the name of its mark. Raises PoseError where no body stands so."""
    h = stance.stature
    body = feet(stance)
    lead_hip, trail_hip = _hips(stance, body)
    body |= {"lead-hip": lead_hip, "trail-hip": trail_hip}
    forward = ahead_of(stance.belt)
    for side in SIDES:
        ahead = (body[f"{side}-toe"] - body[f"{side}-heel"]).unit
        hip, ankle = body[f"{side}-hip"], body[f"{side}-ankle"]
        if (hip - ankle).length > (THIGH + SHANK) * h:
            raise PoseError(
                f"has a {side} foot that the leg does not reach", "Put the foot nearer, shift less, or bend the knee."
            )
        body[f"{side}-knee"] = bent(hip, ankle, THIGH * h, SHANK * h, ahead * 0.6 + forward * 0.4)
        body[f"{side}-buttock"] = hip - forward * (0.034 * h) - UP * (0.012 * h)
    middle = between(trail_hip, lead_hip)
    body["seat"] = middle - Vec(0, seat_behind_hips(stance.belt, h), 0.012 * h)
    return body | _trunk(stance, middle)


def ahead_of(turn: float) -> Vec:
    """Where belt or chest point, turned closed by some degrees."""
    return Vec(-sin(radians(turn)), cos(radians(turn)), 0)


def _trunk(stance: Stance, middle: Vec) -> Joints:
    h, turned = stance.stature, radians(stance.chest)
    trunk = Vec(-tan(radians(stance.side_bend)), tan(radians(stance.bend)), 1).unit * (TRUNK * h)
    neck, along = middle + trunk, trunk.unit
    head = neck + (Vec(along.x * 0.6, along.y, along.z) + Vec(0, 0.05, 0.45)).unit * (0.092 * h)
    rise = -0.9 * (cos(turned) * trunk.x + sin(turned) * trunk.y) / trunk.z
    half = Vec(cos(turned), sin(turned), rise).unit * (SHOULDERS_APART * h / 2)
    shoulders = neck - along * (0.018 * h)
    return {"neck": neck, "head": head, "lead-shoulder": shoulders + half, "trail-shoulder": shoulders - half}
