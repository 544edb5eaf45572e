"""Draws the stills of the demo academy and prints the `stills:` block of each drawn lesson.

    python examples/draw_stills.py

The golfer is ours, drawn from the poses of examples/drawn_lessons.py; the marks are its joints as two cameras see them,
with the error of a hand that clicks. The same poses always give the same pictures and the same marks.
"""

import sys
from pathlib import Path
from zlib import crc32

import numpy as np
from PIL import Image, ImageDraw

if not __package__:  # run as a file, with only its own folder on the path
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from examples.drawn_lessons import DRAWN, DrawnLesson
from examples.golfer import Camera, Figure, Pose, Vector, away, figure, pixel, project, unit
from reportgen.drawing.player import Member, Tone, arms, club_and_hands, legs, trunk_and_head
from reportgen.posing.vectors import Vec

ACADEMY = Path(__file__).parent / "academy"
CLICK_PX = 2.0
"""Standard deviation of a click, each way."""
FINER = 2
"""Drawn this many times larger, then made smaller, so that edges are smooth."""

PAPER, MAT, RULE, INK, MUTED = "#fffdf8", "#f6f1e4", "#dcd7c9", "#22302f", "#5a6866"
TONES: dict[Tone, str] = {
    "lead-leg": "#84918d", "trail-leg": "#c3cac4", "lead-arm": "#e6dcc8", "trail-arm": "#f3ead9",
    "lead-sleeve": "#b9c3bb", "trail-sleeve": "#e3e6da", "lead-shoe": MUTED, "trail-shoe": MUTED,
    "shirt": "#e3e6da", "belt": "#a3aea9", "skin": "#f3ead9", "hands": "#f3eadb", "cap": "#7d8a86", "club": INK,
}  # fmt: skip

MARKED = {
    "face-on": (
        "lead-hip", "trail-hip", "lead-knee", "trail-knee", "lead-ankle", "trail-ankle", "lead-heel", "trail-heel",
        "lead-toe", "trail-toe", "lead-shoulder", "trail-shoulder", "neck", "head", "lead-wrist", "ball",
    ),
    "down-the-line": (
        "lead-hip", "trail-hip", "lead-knee", "trail-knee", "lead-ankle", "trail-ankle", "trail-heel", "trail-toe",
        "lead-shoulder", "trail-shoulder", "neck", "head", "seat", "lead-wrist", "ball",
    ),
}  # fmt: skip

Disc = tuple[Vector, float]
"""A ball in space: its middle and its radius in metres. Two of them span a limb."""


class Sheet:
    """A picture being drawn: turns points in space into ink."""

    def __init__(self, camera: Camera, plays: str) -> None:
        self.camera, self.plays = camera, plays
        self.image = Image.new("RGB", (camera.size[0] * FINER, camera.size[1] * FINER), PAPER)
        self.pen = ImageDraw.Draw(self.image)

    def at(self, point: Vector) -> tuple[float, float]:
        x, y = pixel(point, self.camera, self.plays)
        return x * FINER, y * FINER

    def px(self, length: float, near: Vector) -> float:
        """A length in metres at the depth of `near`, in pixels of the large drawing."""
        return FINER * length * self.camera.px_per_m * self.camera.distance / away(near, self.camera)

    def line(self, points: list[Vector], colour: str, width: float) -> None:
        spots = [self.at(p) for p in points]
        self.pen.line(spots, fill=colour, width=round(width * FINER), joint="curve")
        for x, y in (spots[0], spots[-1]):
            r = width * FINER / 2
            self.pen.ellipse((x - r, y - r, x + r, y + r), fill=colour)

    def area(self, corners: list[Vector], colour: str, edge: str | None = None) -> None:
        self.pen.polygon([self.at(p) for p in corners], fill=colour, outline=edge, width=2 * FINER)

    def shape(self, parts: list[list[Disc]], colour: str, edge: str = INK, edge_px: float = 2.2) -> None:
        """Several hulls of discs as one shape with one outline round all of them."""
        for more, ink in ((edge_px * FINER, edge), (0.0, colour)):
            for part in parts:
                self.pen.polygon(_hull([(*self.at(p), self.px(r, p) + more) for p, r in part]), fill=ink)

    def finished(self) -> Image.Image:
        """The picture at its own size, with the few colours that it needs."""
        small = self.image.resize(self.camera.size, Image.Resampling.LANCZOS)
        return small.quantize(colors=40, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)


def _hull(discs: list[tuple[float, float, float]]) -> list[tuple[float, float]]:
    """Convex outline of some discs (x, y, radius), by a monotone chain over points of their rims."""
    rim = np.linspace(0, 2 * np.pi, 48, endpoint=False)
    points = sorted((x + r * np.cos(a), y + r * np.sin(a)) for x, y, r in discs for a in rim)
    chains: list[tuple[float, float]] = []
    for run in (points, points[::-1]):
        chain: list[tuple[float, float]] = []
        for p in run:
            while len(chain) > 1 and _turns_back(chain[-2], chain[-1], p):
                chain.pop()
            chain.append(p)
        chains += chain[:-1]
    return chains


def _turns_back(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) <= 0


def draw(pose: Pose, camera: Camera, *, struck: bool = False) -> Image.Image:
    """The golfer in `pose` as `camera` sees it: ink on paper, the lead side darker than the trail side. The ball has
    gone where it was `struck`."""
    sheet, body = Sheet(camera, pose.plays), figure(pose)
    _ground(sheet)
    if not struck:
        sheet.shape([[(body["ball"], 0.0214)]], PAPER)
    for member in sorted(_members(body, pose.stature), key=lambda member: -_depth(member, camera)):
        for shape in member.shapes:
            sheet.shape([[(_array(p), r) for p, r in hull] for hull in shape.hulls], TONES[shape.tone])
    return sheet.finished()


def _members(body: Figure, h: float) -> list[Member]:
    at = {name: Vec(*map(float, point)) for name, point in body.items()}
    return [*legs(at, h), *arms(at, h), *club_and_hands(at, h), *trunk_and_head(at, h, at["ball"])]


def _depth(member: Member, camera: Camera) -> float:
    return sum(away(_array(p), camera) for p in member.at) / len(member.at)


def _array(v: Vec) -> Vector:
    return np.array([v.x, v.y, v.z])


def _ground(sheet: Sheet) -> None:
    def spot(x: float, y: float) -> Vector:
        return np.array([x, y, 0.0])

    sheet.area([spot(-0.72, -0.66), spot(0.72, -0.66), spot(0.72, 0.84), spot(-0.72, 0.84)], MAT, RULE)
    for start, end in metre_tapes().values():
        sheet.line([start, end], MUTED, 3)
        across = 0.025 * unit((end - start)[[1, 0, 2]])
        for tip in (start, end):
            sheet.line([tip - across, tip + across], MUTED, 3)
    # An arrow without a word: a picture says it in no language, and a word would be too small on a phone.
    y = -0.58
    sheet.line([spot(-0.45, y), spot(0.55, y)], MUTED, 2)
    sheet.area([spot(0.66, y), spot(0.54, y - 0.035), spot(0.54, y + 0.035)], MUTED)


def metre_tapes() -> dict[str, tuple[Vector, Vector]]:
    """The ends of the metre of tape that lies in the player's plane, for each view."""
    return {
        "face-on": (np.array([-0.5, 0.0, 0.0]), np.array([0.5, 0.0, 0.0])),
        "down-the-line": (np.array([0.0, -0.5, 0.0]), np.array([0.0, 0.5, 0.0])),
    }


def marks(pose: Pose, camera: Camera, seed: str) -> dict[str, tuple[int, int]]:
    """The joints as a hand would click them: where the camera sees them, with a normal error of CLICK_PX."""
    hand = np.random.default_rng(crc32(seed.encode()))
    seen = project(figure(pose), camera, pose.plays)
    clicks = {name: np.array(seen[name]) + hand.normal(0, CLICK_PX, 2) for name in MARKED[camera.view]}
    return {name: (round(float(x)), round(float(y))) for name, (x, y) in clicks.items()}


def still_block(lesson: DrawnLesson) -> str:
    """The `stills:` block of a lesson's sheet."""
    lines = ["stills:"]
    captions = iter(lesson.captions)
    for checkpoint, pose in lesson.poses().items():
        for camera in lesson.cameras:
            name = still_name(lesson, checkpoint, camera)
            clicks = marks(pose, camera, f"{lesson.student} {name}")
            ends = [pixel(end, camera, pose.plays) for end in metre_tapes()[camera.view]]
            scale = ", ".join(f"{k}: [{x:.0f}, {y:.0f}]" for k, (x, y) in zip(("from", "to"), ends, strict=True))
            lines += [
                f"  - file: ../stills/{name}",
                f"    view: {camera.view}",
                f"    checkpoint: {checkpoint}",
                f"    caption: {next(captions)}",
                f"    scale: {{{scale}, length: 1.00 m}}",
                f"    camera: {{distance: {camera.distance:.2f} m, height: {camera.height:.2f} m}}",
                *([f"    fps: {lesson.fps}"] if lesson.fps else []),
                "    marks:",
                *(f"      {mark}: [{x}, {y}]" for mark, (x, y) in clicks.items()),
            ]
    return "\n".join(lines) + "\n"


def still_name(lesson: DrawnLesson, checkpoint: str, camera: Camera) -> str:
    """File name of one still: date, checkpoint, view."""
    return f"{lesson.date}-{checkpoint}-{'fo' if camera.view == 'face-on' else 'dtl'}.png"


def main() -> None:
    """Write every picture and print every block."""
    for lesson in DRAWN:
        folder = ACADEMY / "students" / lesson.student / "stills"
        folder.mkdir(parents=True, exist_ok=True)
        for checkpoint, pose in lesson.poses().items():
            for camera in lesson.cameras:
                draw(pose, camera).save(folder / still_name(lesson, checkpoint, camera), optimize=True)
        print(f"# {lesson.student}, {lesson.date}")
        print(still_block(lesson))


if __name__ == "__main__":
    main()
