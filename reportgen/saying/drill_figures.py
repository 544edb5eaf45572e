"""What a figure of a drill shows, in sentences made from the same data as the drawing."""
from reportgen.records.drill_figures import DrillFigure
def of_figure(figure: DrillFigure) -> str:
    return "x"
