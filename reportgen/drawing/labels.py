"""Labels that have to find room."""

from reportgen.drawing.letters import text_width
from reportgen.records.content import SignWords
from reportgen.records.told import ToldFinding, ToldSeries
from reportgen.saying.wording import amount


def short_amount(of: ToldFinding | ToldSeries, sign: SignWords | None, value: float, size: float, room: float) -> str:
    """A value beside its mark: `62° open`; a signed number where that, semibold in `size`, needs more than `room`."""
    said = amount(value, of.unit, of.decimals, sign)
    return said if text_width(said, size, "semibold") <= room else amount(value, of.unit, of.decimals)
