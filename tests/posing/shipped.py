"""Every figure of the shipped drills, with a name for its test."""

import pytest

from reportgen.records.drill_figures import DrillFigure
from tests.content.shipped import DRILLS

FIGURES = [(f"{drill.id}-{number}", figure) for drill in DRILLS for number, figure in enumerate(drill.figures, 1)]

each_figure = pytest.mark.parametrize("figure", [pytest.param(figure, id=name) for name, figure in FIGURES])


def base(pose: str, **changed: object) -> DrillFigure:
    return DrillFigure.model_validate({"pose": pose, **changed})
