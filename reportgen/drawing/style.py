"""The look of every chart: its colours, and the mark of each verdict."""

from collections.abc import Mapping

from reportgen.records.words import Verdict

SMALL, NAME = 9.0, 9.6
"""Sizes of letters in points. The small one is 12 px on a page, and nothing is smaller; what is named or valued has the
other."""
HAIR, LINE, THICK = 0.8, 1.2, 2.0
"""Widths of lines in points: what stands about, what is drawn, what is meant."""

PAPER = "#fffdf8"
INK = "#22302f"
MUTED = "#5a6866"
RULE = "#cfcabb"
RANGE = "#dde7d9"
EDGE = "#7d9a82"
OUT = "#9c3a1f"
CLOSE = "#7a5c00"
FEEL = "#1d5f8a"
"""The one accent of a drill's figure: where the feel is, and where something goes. It is no colour of a verdict."""

COLOURS: Mapping[Verdict, str] = {
    "in range": INK,
    "above range": OUT,
    "below range": OUT,
    "too close to call": CLOSE,
    "not judged": INK,
}

DISCS: Mapping[Verdict, float] = {"in range": 3.5, "not judged": 2.2}
"""Radius in points of the marks that are discs."""

CORNERS: Mapping[Verdict, tuple[tuple[float, float], ...]] = {
    "above range": ((-4.1, -3.3), (4.1, -3.3), (0, 4.2)),
    "below range": ((-4.1, 3.3), (4.1, 3.3), (0, -4.2)),
    "too close to call": ((-4.2, 0), (0, 4.2), (4.2, 0), (0, -4.2)),
}
"""The other marks, in points about their middle, upward."""
