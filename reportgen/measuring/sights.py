"""A still's marks as plane coordinates in metres, with the samples of everything that blurs them (see `blur`)."""

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from itertools import count
from typing import Any, NamedTuple

import numpy as np

from reportgen.measuring.blur import Noise, clicks, draws, placement, rows_of
from reportgen.measuring.camera import from_centre
from reportgen.measuring.geometry import Array
from reportgen.measuring.moments import HIPS, WRISTS
from reportgen.measuring.unscaled import by_the_leg
from reportgen.records.lesson import Camera, Scale, Still
from reportgen.records.units import convert
from reportgen.records.words import Checkpoint, Mark, Side, View

USUAL_DISTANCE_M = 4.0
"""Depth / this is the error of a coordinate where the camera's distance is not known."""

_ALWAYS: frozenset[Mark] = frozenset({"lead-ankle", "trail-ankle", "ball", *HIPS, *WRISTS})


@dataclass(frozen=True)
class Sight:
    """One still in metres: plane coordinates of every mark that is wanted, (rows, 2) each, across and up.

    `inverse_distance` (rows,) in 1/m is 0 in row 0 where the distance is not known; `yaw` (rows,) in radians is how far
    the camera may be turned from its right direction; `size` is the picture's, in pixels; `fps` the video's frames a
    second, `seconds` when it was taken, by its film's own clock. Where it is not `scaled`, its metres are good for
    angles alone.
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
    scaled: bool


def swing_numbers(stills: Sequence[Still]) -> tuple[int, ...]:
    """The swing each still belongs to: its own number, otherwise the lowest that no still of its view and checkpoint
    has, in the order of the sheet."""
    taken: dict[tuple[View, Checkpoint], set[int]] = {}
    for still in stills:
        taken.setdefault((still.view, still.checkpoint), set()).update({still.swing} if still.swing else ())
    numbers = []
    for still in stills:
        used = taken[still.view, still.checkpoint]
        number = still.swing or next(n for n in count(1) if n not in used)
        used.add(number)
        numbers.append(number)
    return tuple(numbers)


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
    takes those of the first still of its view that has them: one view is one camera on its stand. Only the marks that
    are `wanted` at a checkpoint are looked at, the ankles, which tie two cameras together, the ball, which tells
    whether one has moved, and wrists and hips, which tell whether two pictures are of one moment.
    """
    first_scale = _first(stills, "scale")
    first_camera = _first(stills, "camera")
    rows = rows_of(samples)
    lengths: dict[tuple[Any, ...], Array | None] = {}
    found = []
    for still, swing in zip(stills, swing_numbers(stills), strict=True):
        scale = still.scale or first_scale.get(still.view)
        names = still.marks.keys() & (_ALWAYS | wanted.get(still.checkpoint, set()))
        key = (still.view, scale)
        if key not in lengths:
            number = sum(view == still.view for view, _ in lengths)
            lengths[key] = (
                _pixels_per_metre(still.view, number, scale, noise, rows)
                if scale is not None
                else by_the_leg(stills, still.view, rows)
            )
        length = lengths[key]
        if length is None or not names:
            continue
        camera = still.camera or first_camera.get(still.view)
        taken = _Taken(still, names, swing, sizes.get(still.file), plays, scale is not None)
        found.append(_sight(taken, length, camera, noise))
    return tuple(found)


def _first(stills: Sequence[Still], name: str) -> dict[View, Any]:
    first: dict[View, Any] = {}
    for still in stills:
        if getattr(still, name) is not None:
            first.setdefault(still.view, getattr(still, name))
    return first


def _twice_the_middle(still: Still) -> tuple[float, float]:
    """Where the picture's size is not known, its centre is taken in the middle of the marks."""
    x, y = np.mean(list(still.marks.values()), axis=0)
    return 2 * float(x), 2 * float(y)


def _pixels_per_metre(view: View, number: int, scale: Scale, noise: Noise, rows: int) -> Array:
    """Pixels a metre in the player's plane, by the scale that is the `number`th of its view."""
    length = convert(scale.length.value, scale.length.unit, "m")
    clicks = np.sqrt(2) * noise.scale_px * draws("visit", rows, "scale", view, number, shape=(2,))
    across, up = np.subtract(scale.to, scale.from_)
    span = np.array([[abs(across)], [abs(up)]]) + clicks  # so that a mirrored picture has the same samples
    return np.asarray(np.hypot(span[0], span[1]) / length)


class _Taken(NamedTuple):
    """A still with those of its marks that are wanted, the swing it shows, its size in pixels where that is known, and
    from which side the player plays."""

    still: Still
    names: Set[Mark]
    swing: int
    size: tuple[int, int] | None
    plays: Side
    scaled: bool


def _sight(taken: _Taken, pixels_per_metre: Array, camera: Camera | None, noise: Noise) -> Sight:
    still, names, swing, size, plays, scaled = taken
    rows, view = len(pixels_per_metre), still.view
    roll, yaw, plane = draws("camera", rows, "stand", view, shape=(3,)) * _turned(noise)[:, None]
    if camera is None:
        distance, inverse = USUAL_DISTANCE_M, draws("camera", rows, "distance", view) / USUAL_DISTANCE_M
    else:
        distance = convert(camera.distance.value, camera.distance.unit, "m")
        inverse = np.full(rows, 1.0 / distance)
    metres_a_pixel = (1.0 + plane / distance) / pixels_per_metre
    placed, clicked = placement(noise, still.checkpoint, rows), clicks(view, still.checkpoint, swing, rows)
    click = np.hypot(noise.click_px / pixels_per_metre[0], noise.still_mm / 1000)
    marks: dict[Mark, Array] = {}
    for name in names:
        x, y = from_centre(still.marks[name], size or _twice_the_middle(still), plays)
        across, up = metres_a_pixel * (x + roll * y), metres_a_pixel * (y - roll * x)
        seen = placed[name]
        across = across + seen[0 if view == "face-on" else 1] + click * clicked[name][0]
        marks[name] = np.stack([across, up + seen[2] + click * clicked[name][1]], axis=-1)
    known = camera is not None
    return Sight(view, still.checkpoint, swing, size, marks, inverse, yaw, known, still.fps, still.seconds, scaled)


def _turned(noise: Noise) -> Array:
    """Standard uncertainties of one camera: roll and yaw in radians, the plane of its scale in metres."""
    return np.array([np.radians(noise.roll_deg), np.radians(noise.yaw_deg), noise.scale_plane_m])
