"""The player is followed from picture to picture: each crop comes from the landmarks of the picture before, the first
from a search over crops of several sizes."""

from collections.abc import Iterable, Iterator

from reportgen.films.crops import Crop, Cutter, around
from reportgen.films.pose import Pose, pose_in
from reportgen.films.reading import Picture
from reportgen.films.tracks import Seen

THERE = 0.5
"""The score from which somebody is there; the model was trained to tell so."""
_SURE = 0.9
"""A search ends at a crop with this score,"""
_SURELY_THERE = 0.75
"""and has found somebody only where the crop laid about them has this one: grass has more than a half at times."""
SEARCHED = ((1.0, (0.5,)), (0.75, (0.5, 0.25, 0.75)), (0.5, (0.5, 0.2, 0.8)))
"""Sides of crops in parts of the picture's longer side, and where their middles are along it."""
_SETTLED = 2
"""How often a crop is laid anew about what was found in it."""
_AGAIN_S = 0.25
"""How long nobody is looked for after a search that found nobody."""
_LEAST_SIDE = 48.0
"""Pixels: a smaller person shows nothing."""


def followed(pictures: Iterable[Picture]) -> Iterator[tuple[Picture, Seen]]:
    """Each picture as it comes, with the pose of the player in it, or nobody. Raises MissingFilmLibraryError, and what
    the pictures raise."""
    crop: Crop | None = None
    empty_until = -float("inf")
    for picture in pictures:
        cutter = Cutter(picture.pixels)
        pose = pose_in(cutter, crop) if crop is not None else None
        if (pose is None or pose.score < THERE) and picture.time >= empty_until:
            pose = found_in(cutter)
            if pose is None:
                empty_until = picture.time + _AGAIN_S
        if pose is not None and pose.score < THERE:
            pose = None
        crop = None if pose is None else next_crop(pose)
        yield picture, Seen(picture.number, picture.time, pose)


def found_in(cutter: Cutter) -> Pose | None:
    """The person in a picture of which nothing is known; None where there is nobody."""
    best: Pose | None = None
    for crop in _searched(cutter.width, cutter.height):
        pose = pose_in(cutter, crop)
        if best is None or pose.score > best.score:
            best = pose
        if best.score >= _SURE:
            break
    if best is None or best.score < THERE:
        return None
    for _ in range(_SETTLED):
        crop = next_crop(best)
        best = pose_in(cutter, crop)
        if best.score < THERE or crop.side < _LEAST_SIDE:
            return None
    return best if best.score >= _SURELY_THERE else None


def next_crop(pose: Pose) -> Crop:
    """The crop about a pose, for the next look at it or the next picture."""
    return around(pose.points[33], pose.points[34])


def _searched(width: int, height: int) -> Iterator[Crop]:
    longer = max(width, height)
    for part, middles in SEARCHED:
        for middle in middles:
            x, y = (middle, 0.5) if width >= height else (0.5, middle)
            yield Crop(x * width, y * height, part * longer)
