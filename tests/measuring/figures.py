"""Invented bodies in the six checkpoints of a swing, and the truth of every metric, written here apart from the
program's own geometry.

All arrays are (bodies, 3) in metres: X to the target, Y from the player to the ball, Z up.
"""

import numpy as np

CHECKPOINTS = ("setup", "takeaway", "top", "transition", "delivery", "impact")

# usual value and spread between bodies, degrees: pelvis closed, shoulders closed, forward bend, side bend,
# lead knee, trail knee
POSES = {
    "setup": ((0, 2), (0, 3), (35, 5), (5, 2), (20, 5), (20, 5)),
    "takeaway": ((17, 5), (38, 7), (35, 5), (0, 4), (23, 5), (20, 5)),
    "top": ((43, 8), (88, 10), (32, 5), (-8, 6), (33, 6), (18, 5)),
    "transition": ((36, 8), (82, 10), (34, 5), (-2, 6), (38, 6), (22, 5)),
    "delivery": ((2, 8), (40, 10), (32, 5), (14, 6), (32, 6), (28, 6)),
    "impact": ((-38, 8), (-22, 8), (28, 6), (28, 6), (16, 5), (30, 6)),
}
# where the middle of the hips stands, metres from the middle of the feet
PELVIS = {
    "setup": ((0.0, 0.02), (-0.10, 0.02)),
    "takeaway": ((-0.02, 0.02), (-0.10, 0.02)),
    "top": ((-0.03, 0.02), (-0.09, 0.02)),
    "transition": ((0.03, 0.02), (-0.09, 0.02)),
    "delivery": ((0.07, 0.02), (-0.08, 0.02)),
    "impact": ((0.10, 0.03), (-0.07, 0.03)),
}
Joints = dict[str, dict[str, np.ndarray]]


def bodies(count: int, random: np.random.Generator) -> Joints:
    """Joints by checkpoint and mark, (count, 3) each."""

    def some(mean, spread):
        return random.normal(mean, spread, count)

    stature = some(1.74, 0.07)
    half_hips, half_shoulders, trunk = 0.053 * stature, 0.105 * stature, 0.30 * stature
    stance, flare = some(0.24, 0.02), some(20, 6)
    figure = {}
    for checkpoint in CHECKPOINTS:
        pelvis, shoulders, forward, side, *knees = (np.radians(some(*p)) for p in POSES[checkpoint])
        up = 0.50 * stature + (0.03 if checkpoint == "impact" else 0.0) + some(0, 0.01)
        middle = np.stack([some(*PELVIS[checkpoint][0]), some(*PELVIS[checkpoint][1]), up], -1)
        joints = {}
        _line(joints, "hip", middle, half_hips, pelvis, np.radians(some(8 if checkpoint == "impact" else 0, 3)))
        lean = np.stack([-np.tan(side), np.tan(forward), np.ones(count)], -1)
        lean /= np.linalg.norm(lean, axis=-1, keepdims=True)
        joints["neck"] = middle + trunk[:, None] * lean
        joints["head"] = joints["neck"] + 0.13 * stature[:, None] * lean
        dip = {"setup": 8, "takeaway": -8, "top": -28, "transition": -25, "delivery": 0, "impact": 20}[checkpoint]
        _line(
            joints,
            "shoulder",
            middle + 0.94 * trunk[:, None] * lean,
            half_shoulders,
            shoulders,
            np.radians(some(dip, 5)),
        )
        for lead, knee, sign in (("lead", knees[0], 1.0), ("trail", knees[1], -1.0)):
            lifted = 0.07 if (lead, checkpoint) == ("trail", "impact") else 0.0
            ankle = np.stack([sign * stance, some(0, 0.01), 0.08 + 0.4 * lifted + some(0, 0.004)], -1)
            ankle[:, 0] += 0.3 * lifted
            heel = ankle + np.stack([np.zeros(count), np.full(count, -0.05), -0.05 + lifted * some(0.6, 0.2)], -1)
            outward = np.radians(sign * flare) - 0.5 * pelvis
            joints |= {f"{lead}-ankle": ankle, f"{lead}-heel": heel}
            joints[f"{lead}-toe"] = ankle + np.array([0.06 * sign, 0.17, -0.06])
            joints[f"{lead}-knee"] = _knee(joints[f"{lead}-hip"], ankle, knee, outward)
            joints[f"{lead}-wrist"] = middle + np.array([0.05 * sign, 0.45, -0.1])
        reach = np.stack(
            [0.5 * np.sin(pelvis) * half_hips + some(0, 0.03), -0.13 + some(0, 0.01), some(0.02, 0.01)], -1
        )
        joints["seat"] = middle + reach
        joints["ball"] = np.tile([0.05, 0.75, 0.02], (count, 1))
        figure[checkpoint] = joints
    return figure


def _line(joints, name, middle, half, closed, lead_up):
    along = np.stack([np.cos(closed) * np.cos(lead_up), np.sin(closed) * np.cos(lead_up), np.sin(lead_up)], -1)
    joints[f"lead-{name}"] = middle + half[:, None] * along
    joints[f"trail-{name}"] = middle - half[:, None] * along


def _knee(hip, ankle, bend, outward):
    """The knee bent by `bend`, toward the ball turned `outward` (+ toward the target), thigh and shank equally long."""
    along = ankle - hip
    length = np.linalg.norm(along, axis=-1, keepdims=True)
    along = along / length
    ahead = np.stack([np.sin(outward), np.cos(outward), np.zeros_like(outward)], -1)
    ahead -= np.sum(ahead * along, -1, keepdims=True) * along
    ahead /= np.linalg.norm(ahead, axis=-1, keepdims=True)
    return (hip + ankle) / 2 + ahead * length / 2 * np.tan(bend / 2)[:, None]


def truths(figure: Joints) -> dict[str, np.ndarray]:
    """The true value of every metric from stills, (count,), in deg or cm."""

    def line(checkpoint, joint):
        return figure[checkpoint][f"lead-{joint}"] - figure[checkpoint][f"trail-{joint}"]

    def closed(checkpoint, joint):
        return np.degrees(np.angle(line(checkpoint, joint)[:, 0] + 1j * line(checkpoint, joint)[:, 1]))

    def knee(checkpoint, side):
        hip, knee, ankle = (figure[checkpoint][f"{side}-{joint}"] for joint in ("hip", "knee", "ankle"))
        a, b = hip - knee, ankle - knee
        cosine = np.sum(a * b, -1) / np.linalg.norm(a, axis=-1) / np.linalg.norm(b, axis=-1)
        return 180 - np.degrees(np.arccos(cosine))

    def moved(mark, axis, before, after):
        return 100 * (figure[after][mark] - figure[before][mark])[:, axis]

    def middle(checkpoint):
        return (figure[checkpoint]["lead-hip"] + figure[checkpoint]["trail-hip"]) / 2

    def lean(checkpoint, axis):
        trunk = figure[checkpoint]["neck"] - middle(checkpoint)
        return np.degrees(np.arctan(trunk[:, axis] / trunk[:, 2]))

    start = figure["takeaway"]
    toward = (start["trail-ankle"] - start["trail-hip"])[:, ::2]
    toward = toward / np.linalg.norm(toward, axis=-1, keepdims=True)
    hip_moved = (figure["top"]["trail-hip"] - start["trail-hip"])[:, ::2]
    return {
        "pelvis-closed-top": closed("top", "hip"),
        "pelvis-turn-late": closed("top", "hip") - closed("takeaway", "hip"),
        "thorax-closed-top": closed("top", "shoulder"),
        "separation-top": closed("top", "shoulder") - closed("top", "hip"),
        "trail-hip-load": 100 * np.sum(hip_moved * toward, -1),
        "trail-knee-flex-top": knee("top", "trail"),
        "trail-knee-kept": knee("top", "trail") - knee("setup", "trail"),
        "knee-flex-transition": knee("transition", "lead") - knee("top", "lead"),
        "seat-forward-delivery": moved("seat", 1, "setup", "delivery"),
        "seat-forward-impact": moved("seat", 1, "setup", "impact"),
        "lead-hip-rise": moved("lead-hip", 2, "transition", "impact"),
        "pelvis-open-impact": -closed("impact", "hip"),
        "thorax-open-impact": -closed("impact", "shoulder"),
        "lead-knee-flex-impact": knee("impact", "lead"),
        "trail-heel-lift-impact": moved("trail-heel", 2, "setup", "impact"),
        "side-bend-impact": -lean("impact", 0),
        "posture-change-impact": lean("impact", 1) - lean("setup", 1),
        "pelvis-shift-impact": 100 * (middle("impact") - middle("setup"))[:, 0],
    }
