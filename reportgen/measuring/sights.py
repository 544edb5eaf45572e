"""A still's marks as plane coordinates in metres, with the samples of everything that blurs them (see `blur`)."""

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from typing import Any

import numpy as np

from reportgen.measuring.blur import Noise, clicks, draws, placement, rows_of
from reportgen.measuring.geometry import Array
from reportgen.measuring.moments import HIPS, WRISTS
from reportgen.measuring.stands import USUAL_DISTANCE_M, Shown, Stand, stands_of
from reportgen.measuring.unscaled import by_the_leg
from reportgen.records.stills import Camera, FilmLag, Scale, Still, swing_numbers
from reportgen.records.units import convert
from reportgen.records.words import Checkpoint, Mark, Side, View
from reportgen.sheets.ball_shifts import ball_shifts

_ALWAYS: frozenset[Mark] = frozenset({"lead-ankle", "trail-ankle", "ball", *HIPS, *WRISTS})


@dataclass(frozen=True)
class Sight:
    """One still in metres: plane coordinates of every mark that is wanted, (rows, 2) each, across and up.

    `inverse_distance` (rows,) in 1/m is 0 in row 0 where the distance is not known; `yaw` (rows,) in radians is how far
    the camera is turned from its right direction; `size` is the picture's, in pixels; `fps` the video's frames a
    second, `seconds` when it was taken, by its film's own clock, and `lag` what puts that on the other's. Where it is
    not `scaled`, its metres are good for angles alone. Where the camera has `moved` since the first still of the swing,
    by the ball, that is taken out.
    """

    view: View
    checkpoint: Checkpoint
    swing: int
    size: tuple[float, float] | None
    marks: Mapping[Mark, Array]
    inverse_distance: Array
    yaw: Array
    distance_known: bool
    fps: float | None
    seconds: float | None
    lag: FilmLag | None
    scaled: bool
    moved: bool


def sights(
    stills: Sequence[Still],
    plays: Side,
    sizes: Mapping[str, tuple[int, int]],
    noise: Noise,
    samples: int,
    wanted: Mapping[Checkpoint, Set[Mark]],
) -> tuple[Sight, ...]:
    """All stills that have marks, in metres.

    `sizes` gives width and height in pixels by the name of the file. A still without a scale or camera of its own
    takes those of the first still of its view that has them: one view is one camera on its stand, whose sticks tell how
    it is turned. Only the marks that are `wanted` at a checkpoint are looked at, the ankles, which tie two cameras
    together, the ball, which tells whether one has moved, and wrists and hips, which tell whether two pictures are of
    one moment.
    """
    first_scale = _first(stills, "scale")
    first_camera = _first(stills, "camera")
    shifts = ball_shifts(stills, noise.click_px)
    rows = rows_of(samples)
    lengths: dict[tuple[Any, ...], Array | None] = {}
    shown = []
    for index, (still, swing) in enumerate(zip(stills, swing_numbers(stills), strict=True)):
        scale = still.scale or first_scale.get(still.view)
        key = (still.view, scale)
        if key not in lengths:
            number = sum(view == still.view for view, _ in lengths)
            lengths[key] = (
                _pixels_per_metre(still.view, number, scale, noise, rows)
                if scale is not None
                else by_the_leg(stills, still.view, rows)
            )
        if (length := lengths[key]) is not None:
            distance = _metres(still.camera or first_camera.get(still.view))
            size = sizes.get(still.file)
            shown.append(Shown(still, swing, size, plays, scale, length, distance, shifts.get(index)))
    stands = stands_of(shown, noise, rows)
    names = [one.still.marks.keys() & (_ALWAYS | wanted.get(one.still.checkpoint, set())) for one in shown]
    return tuple(
        _sight(one, marks, stands[one.still.view], noise) for one, marks in zip(shown, names, strict=True) if marks
    )


def _metres(camera: Camera | None) -> float | None:
    return None if camera is None else convert(camera.distance.value, camera.distance.unit, "m")


def _first(stills: Sequence[Still], name: str) -> dict[View, Any]:
    first: dict[View, Any] = {}
    for still in stills:
        if getattr(still, name) is not None:
            first.setdefault(still.view, getattr(still, name))
    return first


def _pixels_per_metre(view: View, number: int, scale: Scale, noise: Noise, rows: int) -> Array:
    """Pixels a metre in the player's plane, by the scale that is the `number`th of its view."""
    length = convert(scale.length.value, scale.length.unit, "m")
    clicks = np.sqrt(2) * noise.scale_px * draws("visit", rows, "scale", view, number, shape=(2,))
    across, up = np.subtract(scale.to, scale.from_)
    span = np.array([[abs(across)], [abs(up)]]) + clicks  # so that a mirrored picture has the same samples
    return np.asarray(np.hypot(span[0], span[1]) / length)


def _sight(shown: Shown, names: Set[Mark], stand: Stand, noise: Noise) -> Sight:
    still, view, checkpoint, roll = shown.still, shown.still.view, shown.still.checkpoint, stand.roll
    rows = len(roll)
    if shown.distance is None:
        inverse = draws("camera", rows, "distance", view) / USUAL_DISTANCE_M
    else:
        inverse = np.full(rows, 1.0 / shown.distance)
    metres_a_pixel = stand.metres_a_pixel(shown)
    placed, clicked = placement(noise, checkpoint, rows), clicks(view, checkpoint, shown.swing, rows)
    click = np.hypot(noise.click_px / shown.px_per_m[0], noise.still_mm / 1000)
    shift = np.zeros((2, rows))
    if shown.moved is not None:
        by = np.sqrt(2) * noise.click_px / shown.px_per_m[0]
        shift = by * draws("still", rows, "moved", view, checkpoint, shown.swing, shape=(2,))
    marks: dict[Mark, Array] = {}
    for name in names:
        x, y = shown.place(still.marks[name])
        across, up = metres_a_pixel * (x + roll * y), metres_a_pixel * (y - roll * x)
        seen = placed[name]
        across = across + seen[0 if view == "face-on" else 1] + click * clicked[name][0] + shift[0]
        marks[name] = np.stack([across, up + seen[2] + click * clicked[name][1] + shift[1]], axis=-1)
    return Sight(
        view=view,
        checkpoint=checkpoint,
        swing=shown.swing,
        size=shown.size,
        marks=marks,
        inverse_distance=inverse,
        yaw=stand.yaw,
        distance_known=shown.distance is not None,
        fps=still.fps,
        seconds=still.seconds,
        lag=still.lag,
        scaled=shown.scale is not None,
        moved=shown.moved is not None,
    )
