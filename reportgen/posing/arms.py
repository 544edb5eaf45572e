"""Where the hands of a figure are, the elbows that follow from it, and the club.

Arms that swing go round in a plane: hands hang in front of the shoulders at set-up and swing by `arms` degrees about
the shoulder that leads, the club by `hinge` degrees further (a double pendulum, common practice).
"""

from math import cos, radians, sin, sqrt

from reportgen.posing.body import FOREARM, UPPER_ARM, Joints, PoseError, ahead_of, bent
from reportgen.posing.poses import Setting
from reportgen.posing.vectors import TARGET, UP, Vec, between
from reportgen.records.drill_figures import HandsAt

STATURE = 1.75
CLUBS = {"iron": 0.48, "wedge": 0.465, "putter": 0.44}
"""From the lead wrist to the clubhead, parts of stature."""
ARM = (UPPER_ARM + FOREARM) * STATURE
SHOULDER_GIVES = 0.045 * STATURE
"""How far the shoulder blade lets a shoulder go after the hand (common practice, no source)."""
BALL_AT = Vec(0.0, 0.0, 0.02)
TRAIL_BELOW_LEAD = 0.05 * STATURE
"""Between the wrists on a grip."""
_HANGING, _SWUNG = 0.285 * STATURE, 0.324 * STATURE
_FOLDS = 0.5
"""The part of their length by which the arms fold from shoulder height to a finish."""
_APART = {"towel": 0.10 * STATURE}
"""Half the distance between hands that hold something across."""


def with_arms(setting: Setting, body: Joints) -> Joints:
    """The joints with wrists and elbows, the shoulders as they follow, and the club. Raises PoseError."""
    hands = {"lead": setting.lead_hand, "trail": setting.trail_hand}
    made = dict(body)
    swung: Joints = {}
    if {"club", "together"} & set(hands.values()):
        swung = _swung(setting, body)
        made |= {name: point for name, point in swung.items() if name in ("clubhead", "grip")}
    for side, at in hands.items():
        wrist = swung[f"{side}-wrist"] if at in ("club", "together") else _target(side, at, setting, body)
        made |= _arm(side, at, wrist, body)
    return made


def _arm(side: str, at: HandsAt, wrist: Vec, body: Joints) -> Joints:
    shoulder = body[f"{side}-shoulder"]
    away = (wrist - shoulder).length
    missing = away - 0.998 * ARM
    if missing > SHOULDER_GIVES:
        wrong = f"has a {side} hand that the arm does not reach by {100 * (missing - SHOULDER_GIVES):.0f} cm"
        raise PoseError(wrong, "Turn the chest further that way, or move the arms less.")
    if missing > 0:
        shoulder += (wrist - shoulder).unit * missing
    elbow = bent(shoulder, wrist, UPPER_ARM * STATURE, FOREARM * STATURE, _pole(side, at, body))
    return {f"{side}-shoulder": shoulder, f"{side}-elbow": elbow, f"{side}-wrist": wrist}


def frame_of(body: Joints) -> tuple[Vec, Vec, Vec]:
    """Of the chest: across (to the lead side), up along the trunk, and ahead."""
    across = (body["lead-shoulder"] - body["trail-shoulder"]).unit
    up = (body["neck"] - between(body["trail-hip"], body["lead-hip"])).unit
    ahead = Vec(up.y * across.z - up.z * across.y, up.z * across.x - up.x * across.z, up.x * across.y - up.y * across.x)
    return across, up, ahead.unit


def _pole(side: str, at: HandsAt, body: Joints) -> Vec:
    """The way an elbow points."""
    across, up, ahead = frame_of(body)
    out = across * (1 if side == "lead" else -1)
    if at in ("club", "together"):
        return -UP + (TARGET * 0.3 if side == "lead" else -ahead * 0.25) + out * 0.15
    poles: dict[HandsAt, Vec] = {
        "shoulder": ahead * 0.5 - up + out * 0.4,
        "chest": out - up * 0.8,
        "hip": out - ahead * 0.5,
        "belt": out - ahead * 0.6,
        "thigh": out * 0.7 - ahead,
        "knee": out * 0.7 - ahead,
        "crease": out - ahead * 0.6,
        "neck": out + up * 0.6,
        "waist": out - ahead * 0.8 - up * 0.5,
    }
    return poles.get(at, -ahead + out * 0.3)


def _target(side: str, at: HandsAt, setting: Setting, body: Joints) -> Vec:
    """The wrist of a hand that holds no club."""
    h, sign = STATURE, 1 if side == "lead" else -1
    across, up, ahead = frame_of(body)
    out, other = across * sign, "trail" if side == "lead" else "lead"
    lead, trail = body["lead-hip"], body["trail-hip"]
    belt_out, belt_ahead = (lead - trail).unit * sign, ahead_of(setting.belt)
    hip, shoulder = body[f"{side}-hip"], body[f"{side}-shoulder"]
    middle = between(trail, lead)
    thigh = body[f"{side}-knee"] - hip
    before = (belt_ahead - thigh.unit * belt_ahead.dot(thigh.unit)).unit
    swung = radians(setting.arms)
    places: dict[HandsAt, Vec] = {
        "shoulder": body[f"{other}-shoulder"] + ahead * (0.055 * h) - up * (0.03 * h) + out * (0.025 * h),
        "chest": between(middle, body["neck"], 0.68) + ahead * (0.075 * h) + out * (0.02 * h),
        "hip": hip + belt_out * (0.06 * h) + UP * (0.05 * h),
        "belt": hip + belt_out * (0.05 * h) + belt_ahead * (0.055 * h) + UP * (0.045 * h),
        "thigh": hip + thigh * 0.5 + before * (0.045 * h) + belt_out * (0.015 * h),
        "knee": hip + thigh * 0.86 + before * (0.036 * h) + belt_out * (0.012 * h),
        "crease": hip + belt_ahead * (0.055 * h) + UP * (0.02 * h),
        "hanging": shoulder + (Vec(0, 0.05, -1).unit + out * 0.06) * (0.98 * ARM),
        "neck": body["neck"] + out * (0.03 * h) - ahead * (0.055 * h) + up * (0.02 * h),
        "waist": between(middle, body["neck"], 0.28) + out * (0.02 * h) - ahead * (0.085 * h),
        "toss": shoulder + (Vec(0, 0.1, -1).unit * cos(swung) - TARGET * sin(swung)) * (0.97 * ARM),
    }
    return places[at]


def _swung(setting: Setting, body: Joints) -> Joints:
    """Both wrists and the club of arms that swing together, or of the trail hand alone."""
    lead, trail = body["lead-shoulder"], body["trail-shoulder"]
    alone = setting.trail_hand == "club" and setting.lead_hand != "club"
    swung, hub = radians(setting.arms), between(trail, lead)
    hung = Vec(0, sin(radians(setting.hang)), -cos(radians(setting.hang)))
    leads = trail if alone or setting.arms < 0 else lead
    out = 1.0 if alone else min(1.0, abs(setting.arms) / 80)
    pivot = between(hub, leads, out)
    folded = min(1.0, max(0.0, -setting.arms - 90) / 45)
    far = (_HANGING + (_SWUNG - _HANGING) * out) * (1 - _FOLDS * folded)
    hands = pivot + (hung * cos(swung) - TARGET * sin(swung)) * far
    across = (lead - trail).unit
    if setting.holds in _APART:
        half = across * _APART[setting.holds]
        return {"lead-wrist": hands + half, "trail-wrist": hands - half}
    # Swinging through, the pivot goes to the trail shoulder and so to the hand that is lower on the grip.
    given = TRAIL_BELOW_LEAD * out if setting.arms < 0 and not alone else 0.0
    length = CLUBS.get(setting.holds, CLUBS["iron"]) * STATURE
    shaft = _shaft(setting, hands, hub, length - given)
    top = hands - shaft * given
    made = {"lead-wrist": top, "trail-wrist": top + shaft * TRAIL_BELOW_LEAD - across * (0.012 * STATURE)}
    if alone:
        made["trail-wrist"] = hands
    if setting.holds in CLUBS:
        made |= {"grip": top, "clubhead": top + shaft * length}
    return made


def _shaft(setting: Setting, hands: Vec, hub: Vec, length: float) -> Vec:
    """Where the shaft points, from the hands to the head that is `length` away."""
    if setting.hinge is None:
        down, along = BALL_AT.z - hands.z, BALL_AT.x - hands.x
        ahead = length**2 - down**2 - along**2
        if ahead < 0:
            raise PoseError("has a club that does not reach the ground", "Bend further forward, or write hinge:.")
        return Vec(along, sqrt(ahead), down).unit
    hung = hub + Vec(0, sin(radians(setting.hang)), -cos(radians(setting.hang))) * _HANGING
    slope = min(0.97, max(0.6, (hung.z - BALL_AT.z) / length))
    swung = radians(setting.arms + setting.hinge)
    return (Vec(0, sqrt(1 - slope**2), -slope) * cos(swung) - TARGET * sin(swung)).unit
