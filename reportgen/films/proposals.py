"""Marks proposed on one picture: places for a person to confirm or to move, never a measurement.

The picture is looked at in eight crops, a little shifted, turned, scaled and mirrored. Where they disagree, the model
guesses, and nothing is proposed.
"""

from collections.abc import Collection
from math import radians
from typing import NamedTuple

import numpy as np

from reportgen.films.crops import Array, Crop, Cutter, to_picture
from reportgen.films.following import THERE, found_in, next_crop
from reportgen.films.pose import outline, pose_in
from reportgen.films.reading import Pixels
from reportgen.films.tracks import Seen, Track, track
from reportgen.records.films import ProposedMark
from reportgen.records.words import Checkpoint, Mark, Side, View

LOOKS = (
    (0.0, 0.0, 1.0, 0.0, False), (0.03, 0.02, 1.08, 6.0, False), (-0.03, 0.03, 0.95, -6.0, False),
    (0.02, -0.03, 1.15, -3.0, False), (0.0, 0.0, 1.0, 0.0, True), (-0.03, 0.02, 1.08, -6.0, True),
    (0.03, 0.03, 0.95, 6.0, True), (-0.02, -0.03, 1.15, 3.0, True),
)  # fmt: skip
"""Shift in parts of the crop's side, its size in parts, its turn in degrees, whether it is mirrored."""
DISAGREE_MM = 25.0
"""From so far on, of the look that is furthest from the middle of all, nothing is proposed."""
SHOULDERS_TO_ANKLES = 0.715
"""Of a player's stature, while standing over the ball (own figure)."""
_POINT_OF: dict[Mark, int] = {
    "lead-shoulder": 11, "trail-shoulder": 12, "lead-wrist": 15, "trail-wrist": 16, "lead-hip": 23, "trail-hip": 24,
    "lead-knee": 25, "trail-knee": 26, "lead-ankle": 27, "trail-ankle": 28, "lead-heel": 29, "trail-heel": 30,
    "lead-toe": 31, "trail-toe": 32,
}  # fmt: skip
START_ONLY: tuple[tuple[Checkpoint, Mark], ...] = (
    ("top", "lead-shoulder"), ("top", "trail-shoulder"),
    ("transition", "lead-shoulder"), ("transition", "trail-shoulder"),
    ("delivery", "lead-hip"), ("delivery", "trail-hip"), ("impact", "lead-hip"), ("impact", "trail-hip"),
)  # fmt: skip
"""Where the model is wrong to one side, by more than the turns that are measured there can bear."""
INVENTED: tuple[tuple[View, Checkpoint, Mark], ...] = (
    ("face-on", "top", "trail-wrist"), ("face-on", "transition", "trail-wrist"), ("face-on", "finish", "trail-wrist"),
)  # fmt: skip
"""What cannot be seen there and is never proposed, however sure the model is."""
_NECK = 1 / 3
"""Of the way from the middle of the shoulders to the middle of the ears."""


class Still(NamedTuple):
    """What the proposals need to know of a picture: from which side, who plays how, at which moment, and how many
    pixels a metre is in the player's plane (None: a player of 1.70 m is taken)."""

    view: View
    plays: Side
    checkpoint: Checkpoint | None = None
    px_per_m: float | None = None


def proposed_marks(
    pixels: Pixels, still: Still, wanted: Collection[Mark], about: Crop | None = None
) -> tuple[ProposedMark, ...]:
    """The marks of `wanted` that the model can tell, in their order; none where there is no person.

    `about` is the crop of the player, in this picture's pixels, where a film has told it; otherwise the person is
    looked for. The ball is never proposed, the seat down-the-line alone. Raises MissingFilmLibraryError.
    """
    cutter = Cutter(pixels)
    if about is None:
        pose = found_in(cutter)
        if pose is None:
            return ()
        about = next_crop(pose)
    looks, seats = _looks(cutter, about, still, "seat" in wanted)
    if len(looks.times) < len(LOOKS):
        return ()
    scale = still.px_per_m or px_per_m(looks)
    proposed = (_mark(mark, looks, seats, still, scale) for mark in wanted)
    return tuple(one for one in proposed if one is not None)


def px_per_m(track: Track, stature_m: float = 1.7) -> float:
    """Pixels a metre in the player's plane, about: from the height of the shoulders over the ankles."""
    heights = track.points[:, [27, 28], 1].mean(axis=1) - track.points[:, [11, 12], 1].mean(axis=1)
    return max(float(np.percentile(heights, 75)), 1.0) / (SHOULDERS_TO_ANKLES * stature_m)


def _looks(cutter: Cutter, about: Crop, still: Still, seat: bool) -> tuple[Track, Array]:
    """The eight looks as if they were pictures of a film, with sides put right, and the seats (k, 2) seen in them."""
    seen, outlines = [], []
    for number, (right, down, size, turn, mirrored) in enumerate(LOOKS):
        x, y = about.x + right * about.side, about.y + down * about.side
        crop = Crop(x, y, about.side * size, about.turn + radians(turn), mirrored)
        pose = pose_in(cutter, crop)
        if pose.score >= THERE:
            seen.append(Seen(number, float(number), pose))
            if seat:
                outlines.append(to_picture(crop, np.argwhere(outline())[:, ::-1].astype(np.float64) + 0.5))
    looks = track(seen, still.view, still.plays)
    seats = [one for points in outlines if (one := _seat(points, looks, still)) is not None]
    return looks, np.array(seats).reshape(-1, 2)


def _seat(person: Array, looks: Track, still: Still) -> Array | None:
    """The rearmost point of a person's outline (n, 2) between the waist and the middle of the thighs; down-the-line."""
    if still.view != "down-the-line" or not len(person):
        return None
    middle = np.median(looks.points, axis=0)
    hips, knees = middle[[23, 24], 1].mean(), middle[[25, 26], 1].mean()
    tall = knees - hips
    band = person[(person[:, 1] > hips - 0.5 * tall) & (person[:, 1] < hips + 0.5 * tall)]
    if not len(band):
        return None
    rear = band[:, 0].min() if still.plays == "right" else band[:, 0].max()
    rearmost = band[np.abs(band[:, 0] - rear) < 0.02 * tall + 1]
    return np.array([rear, np.median(rearmost[:, 1])])


def _mark(mark: Mark, looks: Track, seats: Array, still: Still, scale: float) -> ProposedMark | None:
    if still.checkpoint is not None and (still.view, still.checkpoint, mark) in INVENTED:
        return None
    places = _places(mark, looks.points, seats)
    if len(places) < len(LOOKS):
        return None
    middle = np.median(places, axis=0)
    spread = 1000 * float(np.linalg.norm(places - middle, axis=1).max()) / scale
    if spread >= DISAGREE_MM:
        return None
    at = round(float(middle[0]), 1), round(float(middle[1]), 1)
    start_only = still.checkpoint is not None and (still.checkpoint, mark) in START_ONLY
    return ProposedMark(mark=mark, at=at, spread_mm=round(spread, 1), start_only=start_only)


def _places(mark: Mark, points: Array, seats: Array) -> Array:
    """(8, 2) where each look has the mark; (0, 2) for what the model does not tell."""
    if mark in _POINT_OF:
        return points[:, _POINT_OF[mark]]
    shoulders, ears = points[:, [11, 12]].mean(axis=1), points[:, [7, 8]].mean(axis=1)
    if mark == "neck":
        return np.asarray(shoulders + _NECK * (ears - shoulders))
    if mark == "head":
        return np.asarray(ears)
    return seats if mark == "seat" else np.empty((0, 2))
