"""Rows of a table that are no shots, but sum up the shots above them: by their label, or by their numbers."""

import re
from collections import Counter
from collections.abc import Callable, Collection, Mapping, Sequence
from math import fsum, sqrt

_LABEL = re.compile(
    r"\W*(mean|average|avg|median|std|st ?dev|std\.? dev|sd|standard deviation|deviation|spread|min|max|minimum|"
    r"maximum|total|sum|mittelwert|durchschnitt|mittel|standardabweichung|streuung|moyenne|médiane|écart[- ]type)\W*",
    re.IGNORECASE,
)
_ALIKE = 3
"""In so many columns that vary, over so many shots, a row must be the mean of those above before it is taken for one.
A shot that is so by chance would have to agree to half a step in all of its columns (own rule)."""

Numbers = Mapping[str, float]
_Summary = Callable[[Sequence[float]], float]


def labels_in(cells: Collection[str]) -> frozenset[str]:
    """The texts among the cells in front of the numbers that name a mean or another summary, in English, German or
    French. Max and Min are names of people too, who stand in every row: they count where one row in four at most has
    them."""
    counts = Counter(cells)
    labels = [cell for cell in counts if _LABEL.fullmatch(cell)]
    return frozenset(cell for cell in labels if cell.lower() not in ("max", "min") or counts[cell] * 4 <= len(cells))


def summaries_at_the_end(rows: Sequence[Numbers], steps: Sequence[Numbers]) -> int:
    """How many rows at the end of a table, without a label, hold the means of all rows above, or the means and below
    them the standard deviations: 0, 1 or 2. `steps` are those of the last decimals; a summary agrees to half of one."""
    if len(rows) > _ALIKE and _alike(rows[-1], steps[-1], rows[:-1], _mean):
        return 1
    if len(rows) > _ALIKE + 1 and _alike(rows[-2], steps[-2], rows[:-2], _mean):
        return 2 if _alike(rows[-1], steps[-1], rows[:-2], _spread, _spread_of_all) else 0
    return 0


def _alike(row: Numbers, steps: Numbers, above: Sequence[Numbers], *ways: _Summary) -> bool:
    """Whether every number of a row sums up its column in one of the `ways`, and enough columns vary."""
    varied = 0
    for field, value in row.items():
        column = [shot[field] for shot in above if field in shot]
        if not column or not any(abs(abs(value) - abs(way(column))) <= 0.51 * steps[field] for way in ways):
            return False
        varied += max(column) - min(column) > steps[field]
    return varied >= _ALIKE


def _mean(column: Sequence[float]) -> float:
    return fsum(column) / len(column)


def _spread_of_all(column: Sequence[float]) -> float:
    """The standard deviation with n."""
    mean = _mean(column)
    return sqrt(fsum((value - mean) ** 2 for value in column) / len(column))


def _spread(column: Sequence[float]) -> float:
    """The standard deviation with n - 1; 0 of a single number."""
    return _spread_of_all(column) * sqrt(len(column) / max(1, len(column) - 1))
