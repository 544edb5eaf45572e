"""Where labels go when their places come too close."""

from collections.abc import Sequence


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
