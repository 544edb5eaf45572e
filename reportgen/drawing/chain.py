"""The chain: what is out of range early in the swing, and what can follow from it later on."""

from collections.abc import Sequence

from reportgen.drawing.letters import text_width
from reportgen.drawing.plate import Plate
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import HAIR, INK, MUTED, NAME, SMALL
from reportgen.records.told import ToldFinding
from reportgen.saying.charts import of_chain
from reportgen.saying.wording import moment_name

WIDEST = 240.0
"""A row that is longer, too long for a phone, becomes a column."""

STEP = 29.0
"""From one name to the next below it."""
BESIDE = 13.0
"""From the left edge of a verdict's mark to its name."""
REACH = 26.0
"""Length of an arrow between two names in a row, with its air."""
INDENT = 20.0
"""How far an effect stands to the right of its cause, where it stands below it."""
TOP, BOTTOM = 12.0, 16.0
"""From the upper edge to the first baseline, and from the last one to the lower edge."""


def chain(cause: ToldFinding, effects: Sequence[ToldFinding]) -> Drawing:
    """A cause and what can follow from it (at least one), as SVG: 29 points high for each effect, up to 3.3 inch wide.

    Effects stand below each other to the right of the cause, or below it where a row would be too long.
    """
    return to_drawing(chain_plate(cause, effects), of_chain(cause, effects))


def chain_plate(cause: ToldFinding, effects: Sequence[ToldFinding]) -> Plate:
    """The chain as drawn."""
    if not effects:
        raise ValueError("a chain needs an effect")
    first, widest = _width(cause), max(map(_width, effects))
    row = first + REACH + widest + 1
    return _row(cause, effects, row) if row <= WIDEST else _column(cause, effects, max(first, INDENT + widest) + 1)


def _row(cause: ToldFinding, effects: Sequence[ToldFinding], width: float) -> Plate:
    plate = Plate.blank(width, TOP + BOTTOM + STEP * (len(effects) - 1))
    first, start = plate.height - TOP, _width(cause)
    for k, effect in enumerate(effects):
        height = first - STEP * k
        bend = [(start + 9, _middle(first)), (start + 9, _middle(height))] if k else [(start + 4, _middle(first))]
        _arrow(plate, [*bend, (start + REACH - 4, _middle(height))])
        _name(plate, effect, start + REACH, height)
    _name(plate, cause, 0, first)
    return plate


def _column(cause: ToldFinding, effects: Sequence[ToldFinding], width: float) -> Plate:
    plate = Plate.blank(width, TOP + BOTTOM + STEP * len(effects))
    first, stem = plate.height - TOP, 5.0
    for k, effect in enumerate(effects, 1):
        height = first - STEP * k
        _arrow(plate, [(stem, _middle(first) - 8), (stem, _middle(height)), (INDENT - 3, _middle(height))])
        _name(plate, effect, INDENT, height)
    _name(plate, cause, 0, first)
    return plate


def _width(of: ToldFinding) -> float:
    return BESIDE + max(text_width(of.short, NAME), text_width(moment_name(of.checkpoint), SMALL))


def _middle(baseline: float) -> float:
    """The middle of the small letters above a baseline."""
    return baseline + 0.25 * NAME


def _name(plate: Plate, of: ToldFinding, left: float, baseline: float) -> None:
    plate.mark(left + 5, _middle(baseline) + 0.6, of.verdict)
    plate.label((left + BESIDE, baseline), of.short, NAME, INK)
    plate.label((left + BESIDE, baseline - 1.25 * SMALL), moment_name(of.checkpoint), SMALL)


def _arrow(plate: Plate, through: list[tuple[float, float]]) -> None:
    plate.line(through, MUTED, HAIR, cap="round")
    plate.arrow_head(*through[-1], MUTED, "right")
