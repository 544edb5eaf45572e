"""Where labels go when their places come too close."""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot, inf


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float]:
    """Centres as near as possible to `wanted` (least squares) in the same order, without overlap, from low to high.

    Least squares under an order is isotonic regression; solved by pooling neighbours (Ayer et al. 1955).
    Where there is not room for all, they start at `low` and run over `high`.
    """
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    offsets = [0.0] * len(order)
    for k in range(1, len(order)):
        offsets[k] = offsets[k - 1] + (sizes[order[k - 1]] + sizes[order[k]]) / 2
    blocks: list[tuple[float, int]] = []
    for k, i in enumerate(order):
        mean, count = wanted[i] - offsets[k], 1
        while blocks and blocks[-1][0] > mean:
            other, n = blocks.pop()
            mean, count = (mean * count + other * n) / (count + n), count + n
        blocks.append((mean, count))
    starts = [mean for mean, count in blocks for _ in range(count)]
    centres = [0.0] * len(order)
    for k, i in enumerate(order):
        first = low + sizes[order[0]] / 2
        last = high - sizes[order[-1]] / 2 - offsets[-1]
        centres[i] = max(first, min(starts[k], last)) + offsets[k]
    return centres


Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""

_STEPS = 22
"""Places that are tried across the longer side of an area."""
_ALONG = 8
"""Points that are looked at along a piece of a line: labels are higher than what lies between two of them."""


def free_place(
    size: Point, of: Sequence[Point], lines: Sequence[Sequence[Point]], taken: Sequence[Box], area: Point, gap: float
) -> Box | None:
    """Where a label of `size` stands nearest to the line or point `of`, inside `area` (width and height), no nearer
    than `gap` to any of the `lines`, its own among them, and over none of what is `taken`; None where no room is."""
    width, height = size
    step = max(area) / _STEPS
    best: tuple[float, Box] | None = None
    for x in _spaced(gap, area[0] - width - gap, step):
        for y in _spaced(gap, area[1] - height - gap, step):
            box = (x, y, x + width, y + height)
            away = min(_away(box, one, two) for one, two in _pieces(of))
            if best is not None and away >= best[0]:
                continue
            if any(meet(box, other) for other in taken):
                continue
            if all(_away(box, one, two) >= gap for line in lines for one, two in _pieces(line)):
                best = away, box
    return None if best is None else best[1]


def meet(one: Box, other: Box) -> bool:
    """Whether two boxes share a point of their insides."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _spaced(first: float, last: float, step: float) -> list[float]:
    return [first + n * step for n in range(int((last - first) / step) + 1)] if last >= first else []


def _pieces(line: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(pairwise(line)) if len(line) > 1 else [(line[0], line[0])]


def _away(box: Box, one: Point, two: Point) -> float:
    """The distance between a box and a piece of a line, by points along the piece."""
    nearest = inf
    for n in range(_ALONG + 1):
        x, y = (a + (b - a) * n / _ALONG for a, b in zip(one, two, strict=True))
        aside = max(box[0] - x, x - box[2], 0.0), max(box[1] - y, y - box[3], 0.0)
        nearest = min(nearest, hypot(*aside))
    return nearest
