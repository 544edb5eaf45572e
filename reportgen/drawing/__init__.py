"""Charts of a judged lesson: records in, SVG or PNG out, no judgement."""

from reportgen.drawing.chain import chain
from reportgen.drawing.counts import count_chart
from reportgen.drawing.from_above import from_above, from_above_png
from reportgen.drawing.progress import progress, progress_png
from reportgen.drawing.saving import Drawing
from reportgen.drawing.scores import scores
from reportgen.drawing.strip import strip, strip_png

__all__ = [
    "Drawing",
    "chain",
    "count_chart",
    "from_above",
    "from_above_png",
    "progress",
    "progress_png",
    "scores",
    "strip",
    "strip_png",
]
