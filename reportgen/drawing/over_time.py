"""What charts over time share: dates to scale, runs joined by a line, dates below."""

from collections.abc import Sequence
from datetime import date

from reportgen.drawing.letters import text_width
from reportgen.drawing.placing import spread
from reportgen.drawing.plate import Plate
from reportgen.drawing.style import HAIR, MUTED, SMALL

LONG_GAP_DAYS = 60
"""Days further apart than this are joined by dots: nothing is known of the time between."""

Place = tuple[float, float]


def along(days: Sequence[date], left: float, right: float, apart: float) -> list[float]:
    """Dates to scale; what would cover each other, as two on one day, stands a little `apart`."""
    counted = [day.toordinal() for day in days]
    span = counted[-1] - counted[0]
    wanted = [left + (right - left) * (d - counted[0]) / span if span else right for d in counted]
    apart = min(apart, (right - left) / len(counted))
    return spread(wanted, [apart] * len(counted), left - apart / 2, right + apart / 2)


def join(plate: Plate, days: Sequence[date], places: Sequence[Place]) -> None:
    """A thin line from place to place, dotted over a long gap."""
    for runs, dashes in ((_joined(days, places), ()), (_apart(days, places), (0.1, 2.6))):
        for run in runs:
            plate.line(run, MUTED, HAIR, dashes=dashes, cap="round")


def _long_gaps(days: Sequence[date]) -> list[int]:
    """The places in the row of days before which a long time passed."""
    return [k for k in range(1, len(days)) if (days[k] - days[k - 1]).days > LONG_GAP_DAYS]


def _joined(days: Sequence[date], places: Sequence[Place]) -> list[Sequence[Place]]:
    starts = [0, *_long_gaps(days)]
    runs = [places[first:last] for first, last in zip(starts, [*starts[1:], len(places)], strict=True)]
    return [run for run in runs if len(run) > 1]


def _apart(days: Sequence[date], places: Sequence[Place]) -> list[Sequence[Place]]:
    return [places[k - 1 : k + 1] for k in _long_gaps(days)]


def date_row(plate: Plate, labels: Sequence[str], xs: Sequence[float]) -> None:
    """The first and the last date, and the one nearest the middle where it has room."""
    baseline = 3.0
    half = [text_width(label, SMALL) / 2 for label in labels]
    last = len(xs) - 1
    chosen = {last}
    left, right = max(0.5, xs[0] - half[0]) + 2 * half[0], xs[last] - half[last]
    if last and labels[0] != labels[last] and right - left > 8:
        middle = (xs[0] + xs[last]) / 2
        fit = [k for k, x in enumerate(xs) if x - half[k] - left > 16 and right - x - half[k] > 16]
        # Two may lie as far from the middle, but for the last digits of a sum.
        chosen |= {0, *sorted(fit, key=lambda k: round(abs(xs[k] - middle), 2))[:1]}
    for k in sorted(chosen):
        plate.label((xs[k], baseline), labels[k], SMALL, align="center")
