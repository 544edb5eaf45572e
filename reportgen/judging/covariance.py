"""What the lessons of one metric share, and what each has alone: the variances behind a line and a level."""

from collections.abc import Sequence
from datetime import date
from math import inf
from typing import TYPE_CHECKING, Any, NamedTuple

from reportgen.judging.difference import RESIDUE, of_lesson
from reportgen.records.findings import Parts, Reading

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]


class Taken(NamedTuple):
    """A reading and the day of its lesson."""

    on: date
    reading: Reading


def covariances(readings: Sequence[Reading]) -> "tuple[Array, Array]":
    """What lessons share, as a matrix, and the variance that each has alone.

    The habit of one marker is alike in all lessons, and so is the camera's part of one stand, but for its residue.
    """
    import numpy as np

    parts = [reading.parts or Parts(visit=reading.u) for reading in readings]
    habit, camera = (np.array([getattr(part, name) for part in parts]) for name in ("habit", "camera"))
    same_marker = np.array([[a.marked_by == b.marked_by for b in readings] for a in readings])
    same_stand = np.array([[a.stand is not None and a.stand == b.stand for b in readings] for a in readings])
    kept = (1 - RESIDUE**2) * same_stand * np.outer(camera, camera)
    np.fill_diagonal(kept, camera**2)
    return same_marker * np.outer(habit, habit) + kept, np.array([of_lesson(part) for part in parts])


POOLED = 10.0
"""With so many degrees of freedom the stated uncertainty is believed beside what the lessons themselves show."""


def own_scatter(values: "Array", shared: "Array", alone: "Array", at_most: float = inf) -> tuple[float, float]:
    """By how much the variance of a lesson is wider than stated, 1 at least, by what lessons in a row differ; and the
    degrees of freedom of that. A difference counts as `at_most` standard uncertainties where it is more."""
    import numpy as np

    expected = alone[1:] + alone[:-1] + np.diag(shared)[1:] + np.diag(shared)[:-1] - 2 * np.diag(shared, 1)
    differences = np.minimum(np.diff(values) ** 2 / expected, at_most**2)
    dof = POOLED + 2 / 3 * len(differences)
    return max(1.0, float(POOLED + 2 / 3 * np.sum(differences)) / dof), dof
