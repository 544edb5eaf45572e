"""Charts of a judged lesson: records in, SVG or PNG out, no judgement."""

from reportgen.drawing.cause_chain import cause_chain
from reportgen.drawing.chain import chain
from reportgen.drawing.club_face import strike, struck
from reportgen.drawing.counts import count_chart
from reportgen.drawing.drill_figure import drill_figures
from reportgen.drawing.flights import flights
from reportgen.drawing.from_above import from_above, from_above_png
from reportgen.drawing.landed import landed
from reportgen.drawing.progress import progress, progress_png
from reportgen.drawing.saving import Drawing
from reportgen.drawing.scores import scores
from reportgen.drawing.strip import strip, strip_png

__all__ = [
    "Drawing",
    "cause_chain",
    "chain",
    "count_chart",
    "drill_figures",
    "flights",
    "from_above",
    "from_above_png",
    "landed",
    "progress",
    "progress_png",
    "scores",
    "strike",
    "strip",
    "strip_png",
    "struck",
]
