"""Several swings of one metric into one value."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from reportgen.measuring.geometry import Array

COVERS_95 = 1.96
"""Half width of a 95 % interval in standard uncertainties."""


class Value(NamedTuple):
    """One swing's value, its standard uncertainty and its samples (samples,), all in one unit."""

    value: float
    u: float
    samples: Array


def combine(values: Sequence[Value], clock: float) -> tuple[float, float, float | None]:
    """Mean over swings, its standard uncertainty and effective degrees of freedom (None: infinitely many).

    `clock` is the standard uncertainty of one swing from the time within a frame, independent from swing to swing.
    What the swings share (scale, distance, a common setup) does not average out: it is in the samples of the mean,
    which move together; what a value's u has beyond its samples counts as shared too. What the swings really differ
    by, beyond what measuring one of them explains, s² − mean(u²), adds its part / n with n − 1 degrees of freedom
    (Welch-Satterthwaite, JCGM 100, G.4.1).
    """
    n = len(values)
    single = np.array([v.value for v in values])
    own = float(np.mean([v.u**2 for v in values]))
    if n == 1:
        return float(single[0]), float(np.hypot(values[0].u, clock)), None
    sampled = float(np.mean([np.var(v.samples, ddof=1) for v in values]))
    of_mean = float(np.var(np.mean([v.samples for v in values], axis=0), ddof=1))
    measured = of_mean + max(0.0, own - sampled) + clock**2 / n
    between = max(0.0, float(np.var(single, ddof=1)) - own - clock**2) / n
    total = measured + between
    return float(single.mean()), float(np.sqrt(total)), total**2 * (n - 1) / between**2 if between > 0 else None
