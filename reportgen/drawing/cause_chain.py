"""The chain behind what the ball did: from the body, through the club, to the ball, each step with its basis."""

from reportgen.drawing.letters import text_width
from reportgen.drawing.plate import Plate
from reportgen.drawing.saving import Drawing, to_drawing
from reportgen.drawing.style import HAIR, INK, LINE, MUTED, NAME, SMALL
from reportgen.records.told_shots import ToldChain, ToldChainEnd

STEP = 52.0
"""From one name to the next below it."""
BESIDE = 13.0
"""From the left edge of a mark to its name."""
TOP, BOTTOM = 12.0, 16.0
"""From the upper edge to the first baseline, and from the last one to the lower edge."""


def cause_chain(told: ToldChain) -> Drawing:
    """A chain as SVG, its ends below each other: 48 points high for each step."""
    return to_drawing(cause_chain_plate(told), told.says)


def cause_chain_plate(told: ToldChain) -> Plate:
    """The chain as drawn."""
    widest = max(
        [max(text_width(end.name, NAME), text_width(end.where, SMALL)) for end in told.ends]
        + [text_width(basis, SMALL) for basis in told.rests_on]
    )
    plate = Plate.blank(BESIDE + widest + 1, TOP + BOTTOM + STEP * (len(told.ends) - 1))
    for k, end in enumerate(told.ends):
        baseline = plate.height - TOP - STEP * k
        _name(plate, end, baseline)
        if k < len(told.rests_on):
            _arrow(plate, baseline, told.rests_on[k])
    return plate


def _name(plate: Plate, end: ToldChainEnd, baseline: float) -> None:
    middle = (5, baseline + 0.25 * NAME + 0.6)
    if end.seen:
        plate.mark(*middle, end.verdict)
    else:
        plate.rings([middle], 5, MUTED, LINE)
    plate.label((BESIDE, baseline), end.name, NAME, INK)
    plate.label((BESIDE, baseline - 1.25 * SMALL), end.where, SMALL)


def _arrow(plate: Plate, baseline: float, basis: str) -> None:
    """Down from one end to the next, with what the step rests on beside it."""
    foot = baseline - STEP + NAME + 3
    plate.line([(5, baseline - 5), (5, foot)], MUTED, HAIR, cap="round")
    plate.arrow_head(5, foot, MUTED, "bottom")
    plate.label((BESIDE, baseline - 0.5 * STEP - 2), basis, SMALL)
