"""A track: where the points of a player are in every picture of a film, with its sides put right.

A model that never saw golf takes left for right in some pictures, of the whole body or of a limb. Face-on the lead side
is the one nearer the target; down-the-line the trail foot is nearer the camera, which stands higher than the feet, and
so is lower in the picture. Pictures in which the two sides of a pair fall together tell neither side.
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from reportgen.films.crops import Array
from reportgen.films.pose import EXCHANGED, POINTS, Pose
from reportgen.records.words import Side, View

SMOOTHED_S = 0.033
"""Either way in time: points are smoothed over so much, and no body is fitted."""
_LEGS, _TOES, _ARMS = (23, 25, 27, 29, 31), (31,), (11, 13, 15)
"""The left of each pair; the right is the next. Hip, knee, ankle, heel, toe; shoulder, elbow, wrist."""
_LEAST = 0.02
"""What a point weighs that the model does not see, or whose side is not told: where nothing else is near, it counts."""
_COLLAPSED = 0.3
"""Of the width at which a pair stands in most pictures: nearer to each other its two sides are one."""


class Seen(NamedTuple):
    """What was seen in the picture of a `number` and `time` (s): the pose, or nobody."""

    number: int
    time: float
    pose: Pose | None


class Track(NamedTuple):
    """The points of a player over the n pictures of a film in which there is one.

    `numbers` (n,), `times` (n,) in seconds, `points` (n, 33, 2) in pixels with the lead side of each pair first (where
    the model has left), `seen` (n, 33) how sure the model is of each, 0 to 1, `told` (n, 33) whether a point's side is
    known: False where a pair collapses.
    """

    numbers: NDArray[np.int_]
    times: Array
    points: Array
    seen: Array
    told: NDArray[np.bool_]


def track(seen: Sequence[Seen], view: View, plays: Side) -> Track:
    """The track of a player who `plays` right- or left-handed, as a camera of that `view` saw it; empty where nobody
    was seen."""
    found = [(one, one.pose) for one in seen if one.pose is not None]
    points = np.array([pose.points[:POINTS] for _, pose in found]).reshape(-1, POINTS, 2)
    sure = np.array([pose.seen for _, pose in found]).reshape(-1, POINTS)
    numbers = np.array([one.number for one, _ in found], dtype=int)
    times = np.array([one.time for one, _ in found], dtype=float)
    if plays == "left":
        points, sure = points[:, EXCHANGED[:POINTS]], sure[:, EXCHANGED[:POINTS]]
    points, sure, told = _sides(points, sure, view, plays)
    return Track(numbers, times, points, sure, told)


def smoothed(track: Track, names: Sequence[int], at: Array | None = None) -> Array:
    """(n, k, 2) the points of `names` at the track's times, or at the times `at`: each the value of a parabola laid
    through what is within ±33 ms, weighted by how near it is and how sure the model was."""
    at = track.times if at is None else at
    out = np.empty((len(at), len(names), 2))
    step = float(np.median(np.diff(track.times))) if len(track.times) > 1 else SMOOTHED_S
    reach = max(SMOOTHED_S, 2.01 * step)
    for row, time in enumerate(at):
        near = np.flatnonzero(np.abs(track.times - time) <= reach)
        if not near.size:
            near = np.array([np.abs(track.times - time).argmin()])
        for column, name in enumerate(names):
            out[row, column] = _parabola(track, near, time, name, reach)
    return out


def _parabola(track: Track, near: NDArray[np.int_], time: float, name: int, reach: float) -> Array:
    dt = (track.times[near] - time) / reach
    weight = (1 - (dt / 1.05) ** 2) * np.maximum(track.seen[near, name] * track.told[near, name], _LEAST)
    degree = min(2, len(near) - 1)
    terms = np.vander(dt, degree + 1, increasing=True) * weight[:, None]
    fit, *_ = np.linalg.lstsq(terms, track.points[near, name] * weight[:, None], rcond=None)
    return np.asarray(fit[0])


def _sides(points: Array, sure: Array, view: View, plays: Side) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Points, sureness and which sides are told, with lead and trail put right picture by picture."""
    told = np.ones(points.shape[:2], dtype=bool)
    if not len(points):
        return points, sure, told
    axis, sign = (0, 1 if plays == "right" else -1) if view == "face-on" else (1, -1)
    voters = _LEGS if view == "face-on" else _TOES
    ahead = np.sum([sign * _apart(points, left, axis) for left in voters], axis=0)
    points, sure = _exchanged(points, sure, ahead < 0, range(POINTS))
    if view == "face-on":
        for limb in ((_LEGS[0],), _LEGS[1:], _ARMS):
            ahead = sign * _apart(points, limb[0], axis)
            width = float(np.median(np.abs(ahead)))
            pairs = [side for left in limb for side in (left, left + 1)]
            points, sure = _exchanged(points, sure, ahead < -_COLLAPSED * width, pairs)
            told[:, pairs] &= (np.abs(ahead) >= _COLLAPSED * width)[:, None]
    return points, sure, told


def _apart(points: Array, left: int, axis: int) -> Array:
    return np.asarray(points[:, left, axis] - points[:, left + 1, axis])


def _exchanged(points: Array, sure: Array, where: NDArray[np.bool_], names: Sequence[int]) -> tuple[Array, Array]:
    names = list(names)
    points, sure = points.copy(), sure.copy()
    rows = np.flatnonzero(where)[:, None]
    points[rows, names] = points[rows, EXCHANGED[names]]
    sure[rows, names] = sure[rows, EXCHANGED[names]]
    return points, sure
