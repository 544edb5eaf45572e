"""The figures of a drill as its page, its card and the recap show them: drawings that stand inside the page, and
pictures of the academy's own, which are files beside it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from markupsafe import Markup

from reportgen.drawing.drill_figure import drill_figures
from reportgen.drawing.photos import Photo, drill_photo
from reportgen.pages.charts import Chart, chart_of
from reportgen.records.content import Drill
from reportgen.records.drill_figures import Seen
from reportgen.records.told_practice import ToldDrill, ToldFigure
from reportgen.records.words import Side
from reportgen.saying.drill_figures import told_figures
from reportgen.sheets.library import Library

FIRST_FIGURES = 2


@dataclass(frozen=True)
class ShownFigure:
    """A figure with its heading and the line below it: as SVG, or as `file`, the name of a picture, whose bytes are
    `data`. Sizes in CSS pixels."""

    heading: str
    says: str | None
    alt: str
    wrong: bool
    seen: Seen
    svg: Markup | None
    file: str | None
    width: int
    height: int
    data: bytes = field(default=b"", repr=False)


def shown_figures(drill: Drill, plays: Side, library: Library) -> tuple[ShownFigure, ...]:
    """The figures of a drill in their order, drawn for a right- or left-handed player; `library` is the reader's.
    Raises BrokenPictureError, OSError."""
    told, pictures = told_figures(drill), library.pictures.get(drill.id, {})
    drawn = iter(_charts(told, plays))
    return tuple(
        _as_picture(one, drill_photo(pictures[at])) if at in pictures else _as_drawn(one, next(drawn))
        for at, one in enumerate(told)
    )


def figure_files(shown: Iterable[ShownFigure]) -> Mapping[str, bytes]:
    """The pictures among some figures, file name -> bytes."""
    return {one.file: one.data for one in shown if one.file is not None}


def first_figures(given: Iterable[ToldDrill], plays: Side) -> dict[str, Chart]:
    """`drill-<id>-<number>` for the first figures, from 0 on, of each drill that shows how it is done."""
    charts: dict[str, Chart] = {}
    for drill in given:
        right = tuple(one for one in drill.figures if not one.wrong)[:FIRST_FIGURES]
        charts |= {f"drill-{drill.drill}-{number}": chart for number, chart in enumerate(_charts(right, plays))}
    return charts


def _charts(told: tuple[ToldFigure, ...], plays: Side) -> list[Chart]:
    drawn = tuple(one for one in told if one.figure.picture is None)
    return [chart_of(drawing) for drawing in drill_figures(drawn, plays)]


def _as_drawn(told: ToldFigure, chart: Chart) -> ShownFigure:
    return ShownFigure(
        told.heading, told.says, told.alt, told.wrong, told.figure.seen, chart.svg, None, chart.width, chart.height
    )


def _as_picture(told: ToldFigure, photo: Photo) -> ShownFigure:
    return ShownFigure(
        told.heading,
        told.says,
        told.alt,
        told.wrong,
        told.figure.seen,
        None,
        photo.file,
        photo.width,
        photo.height,
        photo.data,
    )
