"""Invented bodies in the six checkpoints of a swing, and level pinhole cameras that see them.

All arrays are (bodies, 3) in metres: X to the target, Y from the player to the ball, Z up. The pictures are taken by
the textbook pinhole, written here apart from the program's own geometry; the truth of every metric likewise.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from reportgen.measuring.blur import Noise
from reportgen.records.amounts import Quantity
from reportgen.records.stills import Still

WIDTH, HEIGHT = 1920, 1080
PICTURE_FILLED = 0.8
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


@dataclass(frozen=True)
class View:
    """A level camera: distance from the player's plane, height, where its axis passes the middle of the feet (m)."""

    view: str
    distance: float
    height: float
    aside: float = 0.0
    pixels_per_metre: float = 500.0
    plays: str = "right"
    marks_hidden: tuple[str, ...] = field(default=())
    yaw_deg: float = 0.0
    roll_deg: float = 0.0

    def picture(self, point: np.ndarray) -> np.ndarray:
        """Pixels (..., 2) of points (..., 3), seen by a camera that stands turned about the middle of the feet."""
        yaw, roll = np.radians(self.yaw_deg), np.radians(self.roll_deg)
        x = point[..., 0] * np.cos(yaw) + point[..., 1] * np.sin(yaw)
        y = point[..., 1] * np.cos(yaw) - point[..., 0] * np.sin(yaw)
        across, depth = (x, y) if self.view == "face-on" else (y, -x)
        focal = self.pixels_per_metre * self.distance
        right = focal * (across - self.aside) / (self.distance - depth)
        up = focal * (point[..., 2] - self.height) / (self.distance - depth)
        right, up = right * np.cos(roll) - up * np.sin(roll), up * np.cos(roll) + right * np.sin(roll)
        side = 1 if self.plays == "right" else -1
        return np.stack([WIDTH / 2 + side * right, HEIGHT / 2 - up], -1)


@dataclass(frozen=True)
class Marker:
    """Where somebody sees the landmarks of one body in one lesson: metres off, by checkpoint and mark, and how far
    nearer to the camera than the feet the scales lie, by view."""

    off: Mapping[str, Mapping[str, np.ndarray]]
    scale_nearer: Mapping[str, float]


def placed(figure: Joints, random: np.random.Generator, mm: float) -> dict[str, dict[str, np.ndarray]]:
    """Landmarks seen off from where they are, half of the variance alike at all checkpoints."""
    names = [name for name in figure["setup"] if name != "ball"]
    common = {name: random.standard_normal(3) for name in names}
    return {
        at: {name: mm / 1000 * np.sqrt(0.5) * (common[name] + random.standard_normal(3)) for name in names}
        for at in figure
    }


def marker(figure: Joints, random: np.random.Generator, noise: Noise) -> Marker:
    """A marker's habit and one visit, with the scales of that visit's stand."""
    habit, visit = placed(figure, random, noise.habit_mm), placed(figure, random, noise.visit_mm)
    off = {at: {name: habit[at][name] + visit[at][name] for name in habit[at]} for at in figure}
    return Marker(off, {view: random.normal(0, noise.scale_plane_m) for view in ("face-on", "down-the-line")})


def metres(value: float) -> Quantity:
    """A length as it is, also where no sheet may write it: a camera so far away that all its rays are parallel."""
    return Quantity(value=1.0, unit="m").model_copy(update={"value": value})


def filling(figure: Joints, number: int) -> float:
    """Pixels a metre with which the player at setup fills 80 % of the picture's height."""
    top = figure["setup"]["head"][number, 2] + 0.12
    return PICTURE_FILLED * HEIGHT / top


def stills(
    figure: Joints,
    number: int,
    cameras: Mapping[str, View] | tuple[View, ...],
    random: np.random.Generator,
    click_px: float = 0.0,
    placement_mm: float = 0.0,
    marker: Marker | None = None,
    distances: bool = True,
    checkpoints: tuple[str, ...] = CHECKPOINTS,
) -> list[Still]:
    """The marked stills of one swing of one body: a still for each camera and checkpoint, with the noise asked for.
    `placement_mm` is another place of each mark in each still; `marker` holds what all stills of a lesson share."""
    taken = []
    scales = {}
    for camera in cameras:
        nearer = marker.scale_nearer[camera.view] if marker else 0.0
        ends = camera.picture(
            np.array([[-0.5, nearer, 0.02], [0.5, nearer, 0.02]])
            if camera.view == "face-on"
            else np.array([[-nearer, -0.5, 0.02], [-nearer, 0.5, 0.02]])
        )
        scales[camera.view] = ends + click_px * random.standard_normal((2, 2))
    for checkpoint in checkpoints:
        names = list(figure[checkpoint])
        points = np.array([figure[checkpoint][name][number] for name in names])
        if marker is not None:
            points = points + np.array([marker.off[checkpoint].get(name, np.zeros(3)) for name in names])
        for camera in cameras:
            seen = points + placement_mm / 1000 * random.standard_normal(points.shape)
            pixels = camera.picture(seen) + click_px * random.standard_normal((len(names), 2))
            ends = scales[camera.view]
            taken.append(
                Still(
                    file=f"{checkpoint}-{camera.view}.png",
                    view=camera.view,
                    checkpoint=checkpoint,
                    scale={"from": tuple(ends[0]), "to": tuple(ends[1]), "length": "1.00 m"},
                    camera={"distance": metres(camera.distance), "height": metres(camera.height)}
                    if distances
                    else None,
                    marks={
                        name: (float(x), float(y))
                        for name, (x, y) in zip(names, pixels, strict=True)
                        if not (name == "seat" and camera.view == "face-on")
                    },
                )
            )
    return taken


STICKS = {
    "face-on": np.array([[0.1, 0.95, 0.0], [0.1, 0.15, 0.0]]),
    "down-the-line": np.array([[-0.5, 0.25, 0.0], [0.5, 0.25, 0.0]]),
}
"""Two sticks on the ground by the view that sees them run away from its camera: one square to the target line, and one
along it at the toes."""


def with_sticks(
    taken: list[Still],
    cameras: tuple[View, ...],
    random: np.random.Generator,
    click_px: float = 0.0,
    square_deg: float = 0.0,
    as_scale: bool = False,
) -> list[Still]:
    """The stills with the ends of the sticks marked at setup. The stick across lies up to some `square_deg` (one
    standard deviation) from square; with `as_scale` each picture's scale is the stick that the other one marks."""
    aside = np.radians(random.normal(0, square_deg))
    turn = np.array([[np.cos(aside), np.sin(aside), 0], [-np.sin(aside), np.cos(aside), 0], [0, 0, 1]])
    middle = STICKS["face-on"].mean(axis=0)
    lie = STICKS | {"face-on": middle + (STICKS["face-on"] - middle) @ turn}
    marked = {}
    for camera in cameras:
        stick = camera.picture(lie[camera.view]) + click_px * random.standard_normal((2, 2))
        other = next(ends for view, ends in lie.items() if view != camera.view)
        scale = camera.picture(other) + click_px * random.standard_normal((2, 2))
        length = f"{np.linalg.norm(other[1] - other[0]):.6f} m"
        marked[camera.view] = {"stick": {"from": tuple(stick[0]), "to": tuple(stick[1])}} | (
            {"scale": {"from": tuple(scale[0]), "to": tuple(scale[1]), "length": length, "is_stick": True}}
            if as_scale
            else {}
        )
    found = []
    for still in taken:
        given = {**still.model_dump(by_alias=True), "camera": None} | (
            marked[still.view] if still.checkpoint == "setup" else {"scale": None} if as_scale else {}
        )
        found.append(Still.model_validate(given).model_copy(update={"camera": still.camera}))
    return found


def sizes(of: list[Still]) -> dict[str, tuple[int, int]]:
    """The size of every picture."""
    return {still.file: (WIDTH, HEIGHT) for still in of}
