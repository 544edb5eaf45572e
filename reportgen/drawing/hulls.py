"""The convex outline of some discs, as arcs and straight lines between them."""

from collections.abc import Sequence
from math import acos, atan2, cos, degrees, hypot, pi, sin
from typing import NamedTuple

Spot = tuple[float, float, float]
"""A disc on paper: x, y and radius."""


class Arc(NamedTuple):
    """A part of the outline that runs counter-clockwise round one disc, from one place to another."""

    centre: tuple[float, float]
    radius: float
    start: tuple[float, float]
    end: tuple[float, float]
    turns: tuple[float, float]
    """From which direction to which, in degrees."""

    @property
    def large(self) -> bool:
        """Whether it is more than half of the rim."""
        return self.turns[1] - self.turns[0] > 180 + 1e-6


def outline(discs: Sequence[Spot]) -> list[Arc]:
    """The arcs of the outline in their order, counter-clockwise; a straight line joins each to the next.

    In each direction the outline is where the disc that reaches furthest has its rim. Which one that is changes only
    in the directions in which two discs reach equally far.
    """
    turns = sorted(angle for n, one in enumerate(discs) for other in discs[:n] for angle in _equal(one, other))
    parts: list[tuple[Spot, float, float]] = []
    for at, start in enumerate(turns):
        end = turns[at + 1] if at + 1 < len(turns) else turns[0] + 2 * pi
        disc = _furthest(discs, (start + end) / 2)
        if parts and parts[-1][0] is disc:
            parts[-1] = (disc, parts[-1][1], end)
        else:
            parts.append((disc, start, end))
    if len(parts) > 1 and parts[0][0] is parts[-1][0]:
        disc, start, _ = parts.pop()
        parts[0] = (disc, start - 2 * pi, parts[0][2])
    if len(parts) < 2:
        disc = parts[0][0] if parts else _furthest(discs, 0.0)
        return [_arc(disc, 0.0, pi), _arc(disc, pi, 2 * pi)]
    return [_arc(*part) for part in parts]


def _equal(one: Spot, other: Spot) -> tuple[float, ...]:
    """The two directions in which both reach equally far; none where one lies within the other."""
    across, up, less = other[0] - one[0], other[1] - one[1], one[2] - other[2]
    apart = hypot(across, up)
    if apart <= abs(less):
        return ()
    along, half = atan2(up, across), acos(less / apart)
    return (along - half) % (2 * pi), (along + half) % (2 * pi)


def _furthest(discs: Sequence[Spot], angle: float) -> Spot:
    c, s = cos(angle), sin(angle)
    return max(discs, key=lambda disc: disc[0] * c + disc[1] * s + disc[2])


def _arc(disc: Spot, start: float, end: float) -> Arc:
    x, y, r = disc
    first, last = ((x + r * cos(angle), y + r * sin(angle)) for angle in (start, end))
    return Arc((x, y), r, first, last, (degrees(start), degrees(end)))
