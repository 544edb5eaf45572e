"""How the camera of a view is turned, and where its scale lies: by a stick on the ground, or else as declared.

A line on the ground that runs away from a level camera tells how it is turned. With u to the target or the ball and v
down, both in pixels from the picture's centre, and f the pixels a metre times the distance, two ends 1 and 2 show
tan ψ = (u₁/v₁ − u₂/v₂) / (f·(1/v₂ − 1/v₁)), of the stick along the target line down-the-line as of the one square to it
face-on. How high the camera stands cancels (plane geometry of the pinhole; own).
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple, get_args

import numpy as np

from reportgen.measuring.blur import Noise, draws
from reportgen.measuring.camera import from_centre
from reportgen.measuring.geometry import Array
from reportgen.records.base import Pixel
from reportgen.records.stills import Scale, Still
from reportgen.records.words import Mark, Side, View

USUAL_DISTANCE_M = 4.0
"""Depth / this is the error of a coordinate where the camera's distance is not known."""
SQUARE_DEG = 1.0
"""Standard uncertainty of laying a stick square to the target line by eye (own figure). One along the target line is
what says where that line is."""
PITCH_SHARE = 1.5
"""A camera points up or down by this many times as much as it leans to the side (from memory: 1.5 and 1 degree by hand,
0.5 and 0.3 by a phone's level)."""
ANKLE_M = 0.08
"""How high the middle of an ankle is above the ground (own figure)."""
OFF_PLANE_M = 0.03
"""Standard uncertainty of how far a stick lies from the ankles, as the other view shows it (own figure)."""

_ANKLES: tuple[Mark, Mark] = ("lead-ankle", "trail-ankle")
_OTHER: dict[View, View] = {"face-on": "down-the-line", "down-the-line": "face-on"}


class Shown(NamedTuple):
    """A still with all that turns its pixels into metres: the swing it shows, its size in pixels where that is known,
    from which side the player plays, its scale, pixels a metre by that scale (rows,), the camera's distance in metres
    where that is known, and how far the whole picture has moved (pixels to the right and down)."""

    still: Still
    swing: int
    size: tuple[int, int] | None
    plays: Side
    scale: Scale | None
    px_per_m: Array
    distance: float | None
    moved: Pixel | None

    def place(self, pixel: Pixel) -> Array:
        """A place of the picture in pixels from its centre, to the target or the ball and up, the camera's move taken
        out. Where the size is not known, the centre is taken in the middle of the marks."""
        size = self.size or _twice_the_middle(self.still)
        return from_centre(np.subtract(pixel, self.moved or (0.0, 0.0)), size, self.plays)


class Stand(NamedTuple):
    """The camera of one view as samples (rows,): how it leans and is turned, in radians, and how far nearer than the
    player's plane a scale lies, in metres; `stick_nearer` that of the scale that is a stick seen in the other view."""

    roll: Array
    yaw: Array
    nearer: Array
    stick_nearer: Array | None

    def metres_a_pixel(self, shown: Shown) -> Array:
        """In the player's plane, (rows,). What lies nearer to the camera by s shows larger by D / (D − s); of a scale
        whose place is only declared, s is spread alike to both sides, and 1 + s / D keeps it so."""
        distance = shown.distance or USUAL_DISTANCE_M
        if self.stick_nearer is not None and shown.scale is not None and shown.scale.is_stick:
            return np.asarray(distance / (distance - self.stick_nearer) / shown.px_per_m)
        return np.asarray((1.0 + self.nearer / distance) / shown.px_per_m)


def _twice_the_middle(still: Still) -> tuple[float, float]:
    x, y = np.mean(list(still.marks.values()), axis=0)
    return 2 * float(x), 2 * float(y)


def stands_of(shown: Sequence[Shown], noise: Noise, rows: int) -> Mapping[View, Stand]:
    """The cameras of both views. The mean of all sticks of a view counts; a stick counts where the picture's size and
    the camera's distance are known."""
    views: tuple[View, ...] = get_args(View)
    by_view = {view: [one for one in shown if one.still.view == view and _tells(one)] for view in views}
    stands = {}
    for view in views:
        drawn = draws("camera", rows, "stand", view, shape=(3,))
        size = np.array([np.radians(noise.roll_deg), np.radians(noise.yaw_deg), noise.scale_plane_m])
        roll, yaw, nearer = drawn * size[:, None]
        stand = Stand(roll, yaw, nearer, _stick_nearer(by_view[_OTHER[view]], rows))
        stands[view] = stand._replace(yaw=_yaw(by_view[view], stand, noise)) if by_view[view] else stand
    return stands


def _tells(one: Shown) -> bool:
    return one.still.stick is not None and one.size is not None and one.distance is not None


def _yaw(shown: Sequence[Shown], stand: Stand, noise: Noise) -> Array:
    """How a camera is turned by the sticks of its stills, radians (rows,), with clicks, roll, pitch and how squarely
    the stick lies. Sticks are laid anew in each lesson, so that is a matter of the visit."""
    view, rows = shown[0].still.view, len(stand.roll)
    pitch = np.radians(PITCH_SHARE * noise.roll_deg) * draws("camera", rows, "pitch", view)
    aside = np.radians(SQUARE_DEG) * draws("visit", rows, "square stick") if view == "face-on" else 0.0
    found = []
    for number, one in enumerate(shown):
        focal = (one.distance or USUAL_DISTANCE_M) / stand.metres_a_pixel(one)
        clicked = noise.scale_px * draws("visit", rows, "stick", view, number, shape=(2, 2))
        ends = [place[:, None] + click for place, click in zip(_ends(one), clicked, strict=True)]
        turned = [(x + stand.roll * y, stand.roll * x - y + focal * np.tan(pitch)) for x, y in ends]
        found.append(yaw_by_stick(turned[0], turned[1], focal))
    return np.asarray(np.mean(found, axis=0) + aside)


def _ends(one: Shown) -> list[Array]:
    stick = one.still.stick
    return [one.place(end) for end in (stick.from_, stick.to)] if stick else []


def yaw_by_stick(one: tuple[Array, Array], other: tuple[Array, Array], focal: Array) -> Array:
    """How a level camera is turned, in radians, + counter-clockwise seen from above, by the two ends (u, v) in either
    order: pixels from the centre to the target or the ball, and below it. `focal` in pixels. Source: see above."""
    (u1, v1), (u2, v2) = one, other
    return np.asarray(np.arctan((u1 / v1 - u2 / v2) / (focal * (1.0 / v2 - 1.0 / v1))))


def _stick_nearer(shown: Sequence[Shown], rows: int) -> Array | None:
    """How far nearer to the one camera than the ankles a stick lies, metres (rows,), by stills of the other camera;
    None where none of them shows both ankles."""
    off = [_off_the_ankles(one) for one in shown if all(mark in one.still.marks for mark in _ANKLES)]
    if not off:
        return None
    return float(np.mean(off)) + OFF_PLANE_M * draws("visit", rows, "stick off the ankles", shown[0].still.view)


def _off_the_ankles(one: Shown) -> float:
    """How far a stick lies from the ground below the middle of the ankles, metres toward the camera of the other view.

    Where the line of the stick is as low in the picture as that ground, it is as far away from this camera. The cosine
    of this camera's yaw, 0.5 % at 6°, is left out.
    """
    (x1, y1), (x2, y2) = _ends(one)
    x, y = np.mean([one.place(one.still.marks[mark]) for mark in _ANKLES], axis=0)
    per_metre = float(one.px_per_m[0])
    ground = y - ANKLE_M * per_metre
    along = x1 + (x2 - x1) * (ground - y1) / (y2 - y1)
    return float(along - x) / per_metre * (1.0 if one.still.view == "down-the-line" else -1.0)
