"""The drills as cards to print: four to a page, to cut apart."""

from collections.abc import Sequence
from math import ceil

from reportgen.pages.printing import ToPrint, printed
from reportgen.pages.theme import environment, stylesheet
from reportgen.records.content import Drill
from reportgen.saying.drill_tests import how_to_test
from reportgen.saying.skipping import leave_out_if
from reportgen.sheets.academy_folder import Home

TO_A_PAGE = 4
DENSITIES = ("roomy", "close", "bare")
"""How the cards are made to fit, the first that does: as they are; in smaller type; without the set-up."""


def cards_pdf(drills: Sequence[Drill], home: Home) -> bytes:
    """The cards of the drills, in their order; a drill whose text is too long for a quarter of a page takes more."""
    template = environment(home).get_template("cards.html")
    style = stylesheet("cards.css", home)
    tests = {drill.id: drill.test and how_to_test(drill.test) for drill in drills}
    leave_outs = {drill.id: leave_out_if(drill) for drill in drills}
    rows = [drills[at : at + 2] for at in range(0, len(drills), 2)]
    for density in DENSITIES:
        most = ceil(len(drills) / TO_A_PAGE) if density != DENSITIES[-1] else None
        text = template.render(rows=rows, tests=tests, leave_outs=leave_outs, density=density)
        made = printed(ToPrint(text, style, most_pages=most))
        if made.pdf is not None:
            return made.pdf
    raise AssertionError("the last density takes as many pages as it needs")
