"""A count as a row of shots: filled ones were made, and a line below them tells how many it may be in the long run."""

from dataclasses import dataclass

from reportgen.drawing.plate import Plate
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import EDGE, INK, LINE, MUTED, NAME, RANGE, SMALL
from reportgen.records.findings import Interval
from reportgen.records.told_shots import ToldCount
from reportgen.saying.charts import label_of, of_count
from reportgen.saying.wording import short_day

WIDTH, ROW, LEFT, RIGHT = 226.8, 18.0, 56.0, 190.0
"""Points: the width, the height of a row, and where the shots begin and end."""
EARLIER = 4
"""So many earlier dates stand above this one, the latest."""
SINGLE = 20
"""More shots than this are drawn as a bar."""


@dataclass(frozen=True)
class Row:
    """A count of one date; its long run where it is this lesson's."""

    label: str
    made: int
    of: int
    interval: Interval | None


def count_chart(count: ToldCount) -> Drawing:
    """The rows of one count as SVG, the earliest above, 3.15 inch wide."""
    return to_drawing(count_plate(count), of_count(count))


def rows_of(count: ToldCount) -> list[Row]:
    """Earlier dates (or what it was before the lesson's work), then this count."""
    work = count.before_work
    earlier = [Row(short_day(one.on), one.made, one.of, None) for one in count.earlier[-EARLIER:]]
    before = [] if work is None else [Row(label_of("before"), work.made, work.of, None)]
    return [*earlier, *before, Row(label_of("now"), count.run.made, count.run.of, count.run.interval)]


def count_plate(count: ToldCount) -> Plate:
    """The rows of one count as drawn."""
    rows = rows_of(count)
    plate = Plate.blank(WIDTH, ROW * len(rows) + 3)
    for number, row in enumerate(reversed(rows)):
        _row(plate, row, 3 + ROW * number)
    return plate


def _row(plate: Plate, row: Row, bottom: float) -> None:
    today = row.interval is not None
    colour = INK if today else EDGE
    middle = bottom + 9.5
    plate.label((0, middle - 2.6), row.label, SMALL)
    if row.of <= SINGLE:
        step = min(16.0, (RIGHT - LEFT) / row.of)
        size = min(9.0, 0.8 * step)
        places = [(LEFT + step * (shot + 0.5), middle) for shot in range(row.of)]
        plate.rings(places[: row.made], size, colour, LINE, fill=colour)
        plate.rings(places[row.made :], size, colour, LINE)
        end = LEFT + step * row.of
    else:
        end = RIGHT
        plate.box(LEFT, middle - 3.6, RIGHT, middle + 3.6, RANGE)
        plate.box(LEFT, middle - 3.6, LEFT + (RIGHT - LEFT) * row.made / row.of, middle + 3.6, colour)
    if row.interval is not None:
        low, high = (LEFT + (end - LEFT) * share for share in row.interval)
        plate.line([(low, bottom + 1), (high, bottom + 1)], MUTED, LINE, cap="round")
    plate.label(
        (WIDTH, middle - 2.9),
        f"{row.made}/{row.of}",
        NAME,
        INK if today else MUTED,
        weight="semibold" if today else "regular",
        align="right",
    )
