"""Square pieces of a picture for the pose model, and the way back from a point in one to the picture.

A crop is a square anywhere over the picture, turned and mirrored if asked; what lies outside the picture is black.
"""

from math import cos, hypot, sin
from typing import TYPE_CHECKING, NamedTuple, cast

import numpy as np
from numpy.typing import NDArray

from reportgen.films.reading import Pixels

if TYPE_CHECKING:
    pass

Array = NDArray[np.float64]

SIDE = 256
"""Pixels of a side of what the model sees."""


class Crop(NamedTuple):
    """A square of `side` pixels of the picture about (x, y), turned clockwise by `turn` radians, perhaps mirrored."""

    x: float
    y: float
    side: float
    turn: float = 0.0
    mirrored: bool = False


def scaled(crop: Crop, by: float) -> Crop:
    """The same crop in a picture that is `by` times as large."""
    return crop._replace(x=crop.x * by, y=crop.y * by, side=crop.side * by)


def matrix(crop: Crop) -> Array:
    """(2, 3): the picture's point of a point u, v, 1 of what the model sees, both from the upper left corner."""
    scale = crop.side / SIDE
    across, down = np.array([cos(crop.turn), sin(crop.turn)]), np.array([-sin(crop.turn), cos(crop.turn)])
    if crop.mirrored:
        across = -across
    corner = np.array([crop.x, crop.y]) - (across + down) * crop.side / 2
    return np.column_stack((across * scale, down * scale, corner))


def to_picture(crop: Crop, points: Array) -> Array:
    """Points (n, 2) of what the model sees, in pixels of the picture."""
    turned = matrix(crop)
    return points @ turned[:, :2].T + turned[:, 2]


class Cutter:
    """A picture from which crops are cut; it is shrunk beforehand, so that no crop skips pixels."""

    def __init__(self, pixels: Pixels) -> None:
        from PIL import Image

        self.height, self.width = pixels.shape[:2]
        self._whole = Image.fromarray(pixels)
        self._shrunk: dict[int, Image.Image] = {}

    def cut(self, crop: Crop) -> NDArray[np.float32]:
        """(1, 256, 256, 3), 0 to 1."""
        from PIL import Image

        by = max(1, int(crop.side / SIDE))
        if by not in self._shrunk:
            self._shrunk[by] = self._whole.reduce(by) if by > 1 else self._whole
        six = cast("tuple[float, ...]", tuple((matrix(crop) / by).ravel()))
        seen = self._shrunk[by].transform((SIDE, SIDE), Image.Transform.AFFINE, six, Image.Resampling.BILINEAR)
        return np.asarray(np.asarray(seen)[None] / np.float32(255), dtype=np.float32)


def around(centre: Array, other: Array) -> Crop:
    """The crop that the model was trained on: about `centre` (middle of the hips) a circle through `other`, and a
    quarter more, turned so that `other` is above."""
    dx, dy = other - centre
    turn = float(np.arctan2(dx, -dy))
    return Crop(float(centre[0]), float(centre[1]), 2.5 * hypot(dx, dy), turn)
