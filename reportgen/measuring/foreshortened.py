"""A turn from the face-on picture alone, by how narrow a line looks in it."""

from collections.abc import Mapping

import numpy as np

from reportgen.measuring import geometry
from reportgen.measuring.blur import block
from reportgen.measuring.geometry import Array
from reportgen.records.formulas import Joints
from reportgen.records.words import Checkpoint

COVERED = (0.025, 0.975)
"""The quantiles that bound a central 95 % interval."""

NO_SIGN_DEG: Mapping[Checkpoint, float] = {"delivery": np.inf, "impact": 30.0}
"""Up to here a turn has no sign: at impact shoulders can be this far closed still as well as open, at delivery any
line either way (own figures, wide)."""
HIPS_NO_SIGN_DEG = 15.0
"""The same of the hips at impact (own figure)."""


def foreshortened(line: Array, at_setup: Array, of: Joints, at: Checkpoint) -> Array:
    """The turn of a line (rows, 3) since it was square at setup, deg; + is the side to which it usually turns by then.

    One picture shows no sign. Where the size may be one that is seen to either side at that moment, half of the samples
    go to each, around 0, and the interval runs to both. Hips and other lines take their sides apart from each other, so
    that a difference of two has every sign that it may have.
    """
    size = _size(line, at_setup)
    no_sign = HIPS_NO_SIGN_DEG if of == "hips" and at == "impact" else NO_SIGN_DEG.get(at, -np.inf)
    if np.quantile(block(size, "all"), COVERED[0]) > no_sign:
        return size
    number = np.arange(len(size)) // (1 if of == "hips" else 2)
    rows = np.where(number % 2, size, -size)
    rows[0] = 0.0
    return rows


def _size(line: Array, at_setup: Array) -> Array:
    square = geometry.square_width(line, at_setup)
    # A line cannot be wider than itself: what the marks say beyond that is error in every sample.
    over = max(0.0, line[0, 0] - square[0])
    rows = geometry.foreshortened_turn(line[:, 0] - over, square)
    # Near square the marks as set say 0 half of the time; the middle of what they may mean is nearer to the truth.
    rows[0] = max(rows[0], np.quantile(block(rows, "all"), COVERED).mean())
    return rows
