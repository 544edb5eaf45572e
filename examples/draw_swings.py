"""Draws the swings of the demo academy that are stepped through, and prints the `swings:` block of each lesson.

    python examples/draw_swings.py

Frames, times and checkpoints come from examples/swinging.py; the same poses always give the same bytes.
"""

import io
import sys
from dataclasses import dataclass, replace
from pathlib import Path

from PIL import Image

if not __package__:  # run as a file, with only its own folder on the path
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from examples.draw_stills import ACADEMY, draw
from examples.drawn_lessons import DRAWN, DrawnLesson
from examples.golfer import Camera
from examples.swinging import swing

COLUMNS = 6
PX_PER_M = 205.0
WIDE, HIGH, ABOVE = 420, 550, 70
"""Pixels of a frame, and those that are cut off above it: the ball is in it, and the picture is no higher for that."""
COLOURS = 16


@dataclass(frozen=True)
class Swung:
    """A lesson with a swing: how much slower than the first player they swing, and from where it was filmed."""

    lesson: DrawnLesson
    slower: float
    views: tuple[str, ...] = ("face-on", "down-the-line")


def _of(student: str, date: str) -> DrawnLesson:
    return next(one for one in DRAWN if (one.student, one.date) == (student, date))


_MIRO = _of("miro-tavenhall", "2026-11-14")
SWUNG = (
    Swung(_of("duarte-pemberlow", "2026-08-20"), 0.92),
    Swung(_of("duarte-pemberlow", "2026-11-19"), 1.0),
    Swung(
        replace(
            _MIRO,
            date="2026-09-05",
            top=replace(_MIRO.top, pelvis_closed=58, thorax_closed=103, trail_knee=8),
            impact=replace(_MIRO.impact, pelvis_closed=-39, side_bend=21, forward_bend=24, heel_lift=0.075),
        ),
        0.84,
        ("face-on",),
    ),
    Swung(_MIRO, 0.88),
    Swung(_of("henrik-tavenhall", "2026-11-14"), 1.16),
)


def frame_camera(camera: Camera) -> Camera:
    """The camera of a still, whose picture is smaller and reaches as far below the player as above."""
    return replace(camera, px_per_m=PX_PER_M, size=(WIDE, HIGH + ABOVE))


def packed(swung: Swung, camera: Camera) -> bytes:
    """All frames of a swing as one picture."""
    _, checkpoints, poses = swing(swung.lesson, swung.slower)
    whole = Image.new("RGB", (WIDE * COLUMNS, HIGH * -(-len(poses) // COLUMNS)))
    for number, pose in enumerate(poses):
        struck = number > checkpoints["impact"]
        frame = draw(pose, frame_camera(camera), struck=struck).convert("RGB").crop((0, ABOVE, WIDE, ABOVE + HIGH))
        whole.paste(frame, (number % COLUMNS * WIDE, number // COLUMNS * HIGH))
    few = whole.quantize(COLOURS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE).convert("RGB")
    out = io.BytesIO()
    few.save(out, "WEBP", lossless=True, quality=100, method=6)
    return out.getvalue()


def swing_name(lesson: DrawnLesson, view: str) -> str:
    """File name of one packed swing: date, view."""
    return f"{lesson.date}-{'fo' if view == 'face-on' else 'dtl'}.webp"


def swing_block(swung: Swung) -> str:
    """The `swings:` block of a lesson's sheet."""
    times, checkpoints, _ = swing(swung.lesson, swung.slower)
    lines = ["swings:"]
    for camera in cameras(swung):
        scale = camera.px_per_m / PX_PER_M
        left, top = camera.size[0] / 2 - WIDE / 2 * scale, camera.size[1] / 2 - ((HIGH - ABOVE) / 2) * scale
        lines += [
            f"  - file: ../swings/{swing_name(swung.lesson, camera.view)}",
            f"    view: {camera.view}",
            f"    columns: {COLUMNS}",
            f"    frame: [{WIDE}, {HIGH}]",
            f"    times: [{', '.join(f'{time:.2f}' for time in times)}]",
            f"    checkpoints: {{{', '.join(f'{name}: {number}' for name, number in checkpoints.items())}}}",
            f"    cut: {{from: [{left:.0f}, {top:.0f}], to: [{left + WIDE * scale:.0f}, {top + HIGH * scale:.0f}]}}",
        ]
    return "\n".join(lines) + "\n"


def cameras(swung: Swung) -> list[Camera]:
    """Those of the lesson from which the swing was filmed."""
    return [camera for camera in swung.lesson.cameras if camera.view in swung.views]


def main() -> None:
    """Write every picture and print every block."""
    for swung in SWUNG:
        folder = ACADEMY / "students" / swung.lesson.student / "swings"
        folder.mkdir(parents=True, exist_ok=True)
        for camera in cameras(swung):
            (folder / swing_name(swung.lesson, camera.view)).write_bytes(packed(swung, camera))
        print(f"# {swung.lesson.student}, {swung.lesson.date}")
        print(swing_block(swung))


if __name__ == "__main__":
    main()
