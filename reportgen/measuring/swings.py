"""Several swings of one metric into one value, and the parts of its uncertainty."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from reportgen.measuring.blur import PARTS, block
from reportgen.measuring.geometry import Array
from reportgen.measuring.typed import dof_of

COVERS_95 = 1.96
"""Half width of a 95 % interval in standard uncertainties."""

Spread = Callable[[Array, float], float]
"""Samples of a value, and the value of the marks as set -> the standard uncertainty that they show."""


@dataclass(frozen=True)
class Mean:
    """The mean over swings with its standard uncertainty, the parts of that, its effective degrees of freedom (None:
    infinitely many) and the single values, all in one unit."""

    value: float
    u: float
    parts: Mapping[str, float]
    dof: float | None
    swings: tuple[float, ...]


def mean_of(rows: Sequence[Array], clock: float, beside: float, spread: Spread) -> Mean:
    """The mean of swings, each given by the samples of its value.

    What swings share does not average out: habit, camera and visit move together in the samples of the mean. The click
    and the still do by as much as each swing has pictures of its own. `clock` is the standard uncertainty of one swing
    from the time within a frame, `beside` one that no sample has and that is a matter of habit. What the swings differ
    by, beyond what click, still and clock explain, is s² less these, / n, with n − 1 degrees of freedom
    (`dof_of`).
    """
    n, mean = len(rows), np.mean(rows, axis=0)
    single = np.array([row[0] for row in rows])
    value = float(mean[0])
    parts: dict[str, float] = {part: spread(block(mean, part), value) for part in PARTS}
    together = spread(block(mean, "all"), value)
    alone = float(np.sqrt(sum(part**2 for part in parts.values())))
    parts = {part: u * together / alone if alone > 0 else 0.0 for part, u in parts.items()}
    parts["habit"] = float(np.hypot(parts["habit"], beside))
    parts |= {"clock": clock / n**0.5, "swing": 0.0}
    dof = None
    if n > 1:
        stills = np.mean([spread(block(row, "still"), row[0]) ** 2 for row in rows])
        own = max(0.0, float(stills) - parts["still"] ** 2) * n / (n - 1)
        between = max(0.0, float(np.var(single, ddof=1)) - own - clock**2) / n
        parts["swing"] = between**0.5
        dof = dof_of(float(np.sqrt(sum(part**2 for part in parts.values()))), parts["swing"], n)
    u = float(np.sqrt(sum(part**2 for part in parts.values())))
    return Mean(value, u, parts, dof, tuple(map(float, single)))
