"""The convex outline of some discs, as arcs and straight lines between them."""

from collections.abc import Sequence
from math import cos, pi, sin
from typing import NamedTuple

_STEPS = 60
"""Places looked at on each rim: an outline is off by less than a 700th of its radius."""
_RIM = [(cos(2 * pi * step / _STEPS), sin(2 * pi * step / _STEPS)) for step in range(_STEPS)]

Spot = tuple[float, float, float]
"""A disc on paper: x, y and radius."""


class Arc(NamedTuple):
    """A part of the outline that runs counter-clockwise round one disc, from one place to another."""

    centre: tuple[float, float]
    radius: float
    start: tuple[float, float]
    end: tuple[float, float]
    large: bool
    """Whether it is more than half of the rim."""


def outline(discs: Sequence[Spot]) -> list[Arc]:
    """The arcs of the outline in their order, counter-clockwise; a straight line joins each to the next."""
    rims = sorted((x + r * c, y + r * s, n) for n, (x, y, r) in enumerate(discs) for c, s in _RIM)
    corners = [*_chain(rims), *_chain(rims[::-1])]
    first = next((at for at in range(len(corners)) if corners[at - 1][2] != corners[at][2]), None)
    if first is None:
        return _whole(discs[corners[0][2]])
    arcs: list[Arc] = []
    run: list[tuple[float, float, int]] = []
    for corner in (*corners[first:], *corners[:first], None):
        if run and (corner is None or corner[2] != run[0][2]):
            disc = discs[run[0][2]]
            arcs.append(Arc(disc[:2], disc[2], run[0][:2], run[-1][:2], len(run) > _STEPS / 2 + 1))
            run = []
        if corner is not None:
            run.append(corner)
    return arcs


def _whole(disc: Spot) -> list[Arc]:
    x, y, r = disc
    right, left = (x + r, y), (x - r, y)
    return [Arc((x, y), r, right, left, large=False), Arc((x, y), r, left, right, large=False)]


def _chain(run: list[tuple[float, float, int]]) -> list[tuple[float, float, int]]:
    """One half of the outline, by a monotone chain."""
    chain: list[tuple[float, float, int]] = []
    for p in run:
        while len(chain) > 1 and _turns_back(chain[-2], chain[-1], p):
            chain.pop()
        chain.append(p)
    return chain[:-1]


def _turns_back(a: tuple[float, float, int], b: tuple[float, float, int], c: tuple[float, float, int]) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) <= 0
