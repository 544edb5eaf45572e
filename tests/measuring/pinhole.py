"""Level cameras that see invented bodies, and whoever marks their pictures: the textbook pinhole, written here apart
from the program's own geometry."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from reportgen.measuring.blur import Noise
from reportgen.records.amounts import Quantity
from reportgen.records.stills import Still
from tests.measuring.figures import CHECKPOINTS, Joints

WIDTH, HEIGHT = 1920, 1080
PICTURE_FILLED = 0.8


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
