"""The scores of rounds over the same number of holes, with dates to scale: a filled disc is a competition, a ring any
other round. Shape tells them apart, so the chart says the same in grey."""

from reportgen.drawing.letters import text_width
from reportgen.drawing.over_time import along, date_row, join
from reportgen.drawing.placing import spread
from reportgen.drawing.plate import Disc, Look, Plate
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import HAIR, INK, MUTED, NAME, PAPER, SMALL
from reportgen.records.told import ToldScores
from reportgen.saying.charts import day_labels

LEAST_SPAN = 0.6
"""Strokes a hole that the height of a chart shows at least (own choice): a stroke or two is no cliff."""


def scores(told: ToldScores, *, small: bool = False) -> Drawing:
    """The chart as SVG, 6.1 × 1.5 inch, or 3 × 1 inch where `small`."""
    return to_drawing(scores_plate(told, small), told.says)


def scores_plate(told: ToldScores, small: bool) -> Plate:
    """The chart as drawn: strokes upward, the fewest and the most written on the left, the last on the right."""
    plate = Plate.blank(216, 72) if small else Plate.blank(439.2, 108)
    days, strokes = [played.date for played in told.rounds], [played.score for played in told.rounds]
    labels = day_labels(days)
    low, high, last = min(strokes), max(strokes), strokes[-1]
    bottom, top = SMALL + 12, plate.height - (7 if small else 10)
    span = max(high - low, LEAST_SPAN * told.holes)
    heights = [(bottom + top) / 2 + (top - bottom) * (s - (low + high) / 2) / span for s in strokes]
    inset = 6 if small else 14
    left = max(text_width(str(high), SMALL) + 6, text_width(labels[0], SMALL) / 2 + 1 - inset)
    on_the_right = max(text_width(str(last), NAME, "semibold") + 10, text_width(labels[-1], SMALL) / 2 - inset)
    right = plate.width - on_the_right
    xs = along(days, left + inset, right - inset, 4 if small else 6)
    places = list(zip(xs, heights, strict=True))
    join(plate, days, places)
    many = small or len(places) > 24
    for place, played in zip(places, told.rounds, strict=True):
        look = Look(INK, PAPER, HAIR) if played.competition else Look(PAPER, MUTED, HAIR)
        plate.drawn.append(Disc(place, 1.9 if many else 2.7, look))
    _ends(plate, {low: min(heights), high: max(heights)}, left - 5)
    plate.label((right + 8, heights[-1] - 0.33 * SMALL), str(last), NAME, INK, weight="semibold")
    date_row(plate, labels, xs)
    return plate


def _ends(plate: Plate, ends: dict[int, float], x: float) -> None:
    """The fewest and the most strokes, each at its height; one number where they are the same."""
    for strokes, height in zip(
        ends, spread([*ends.values()], [SMALL * 1.15] * len(ends), 0, plate.height), strict=True
    ):
        plate.label((x, height - 0.33 * SMALL), str(strokes), SMALL, align="right")
