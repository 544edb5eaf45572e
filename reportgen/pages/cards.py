"""The drills as cards to print: four to a page, to cut apart."""

from collections.abc import Mapping, Sequence
from math import ceil
from types import MappingProxyType

from reportgen.pages.drill_pictures import ShownFigure
from reportgen.pages.media import media_type
from reportgen.pages.printing import ToPrint, printed
from reportgen.pages.theme import environment, stylesheet
from reportgen.records.content import Drill
from reportgen.saying.drill_tests import how_to_test
from reportgen.saying.skipping import leave_out_if
from reportgen.sheets.academy_folder import Home

TO_A_PAGE = 4
DENSITIES = ("roomy", "close", "bare")
"""How the cards are made to fit, the first that does: as they are; in smaller type; without the set-up."""


def cards_pdf(
    drills: Sequence[Drill], home: Home, figures: Mapping[str, Sequence[ShownFigure]] = MappingProxyType({})
) -> bytes:
    """The cards of the drills, in their order, each with its `figures` (by the drill's id); a drill whose text is too
    long for a quarter of a page takes more."""
    template = environment(home).get_template("cards.html")
    style = stylesheet("cards.css", home)
    tests = {drill.id: drill.test and how_to_test(drill.test) for drill in drills}
    leave_outs = {drill.id: leave_out_if(drill) for drill in drills}
    files = {_address(name, at): _file_of(one) for name, of in figures.items() for at, one in enumerate(of)}
    drawn = {
        drill.id: [
            {"address": _address(drill.id, at), "alt": one.alt, "heading": one.heading}
            for at, one in enumerate(figures.get(drill.id, ()))
        ]
        for drill in drills
    }
    rows = [drills[at : at + 2] for at in range(0, len(drills), 2)]
    for density in DENSITIES:
        most = ceil(len(drills) / TO_A_PAGE) if density != DENSITIES[-1] else None
        text = template.render(rows=rows, tests=tests, leave_outs=leave_outs, figures=drawn, density=density)
        made = printed(ToPrint(text, style, files, most_pages=most))
        if made.pdf is not None:
            return made.pdf
    raise AssertionError("the last density takes as many pages as it needs")


def _address(drill: str, number: int) -> str:
    return f"chart:drill-{drill}-{number}"


def _file_of(figure: ShownFigure) -> tuple[bytes, str]:
    if figure.svg is not None:
        return figure.svg.encode(), "image/svg+xml"
    return figure.data, media_type(figure.file or "") or ""
