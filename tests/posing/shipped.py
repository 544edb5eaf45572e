"""Every figure of the shipped drills."""

from reportgen.records.drill_figures import DrillFigure
from tests.content.shipped import DRILLS
from tests.each import for_each

FIGURES = [(f"{drill.id}-{number}", figure) for drill in DRILLS for number, figure in enumerate(drill.figures, 1)]

each_figure = for_each("figure", FIGURES)


def base(pose: str, **changed: object) -> DrillFigure:
    return DrillFigure.model_validate({"pose": pose, **changed})
