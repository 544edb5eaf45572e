"""The recap: a lesson on at most two printed pages, as PDF."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from jinja2.sandbox import SandboxedEnvironment

from reportgen.languages.speaking import language_now, speaking
from reportgen.pages.printing import LayoutError, Print, Printed, ToPrint, print_here
from reportgen.pages.theme import stylesheet
from reportgen.records.academy import Academy

MOST_PAGES = 2
DENSITIES = ("roomy", "close", "plain", "dense", "bare")
"""How a recap is made to fit, the first that does: as it is; in smaller type with one chart of change; without
pictures; without the chart too; without the notes too. What is left out stands on the lesson's page, and the recap
says so."""


def recap_pdf(
    values: Mapping[str, Any], pages: SandboxedEnvironment, academy: Academy, root: Path, begin: Print = print_here
) -> Callable[[], bytes]:
    """Begin to print the recap of a lesson, from the same values as its page; what is returned gives the PDF, the same
    bytes each time.

    It raises LayoutError where a theme's own template loads what it must not, or takes more than two pages at the
    closest.
    """
    template = pages.get_template("recap.html")
    style = stylesheet("recap.css", academy, root)
    charts = {f"chart:{chart.file}": chart for chart in values["charts"].values()}
    photos = {f"photo:{shown.file}": shown.data for shown in values["photos"].values()}

    def begun(density: str) -> Callable[[], Printed]:
        text = template.render(density=density, **values)
        shown = {address: chart for address, chart in charts.items() if f'"{address}"' in text}
        files = {address: (chart.svg.encode(), "image/svg+xml") for address, chart in shown.items()}
        for address, data in photos.items():
            if f'"{address}"' in text:
                files[address] = data, "image/png" if address.endswith(".png") else "image/jpeg"
        paintings = {address: chart.painting for address, chart in shown.items()}
        return begin(ToPrint(text, style, files, paintings, MOST_PAGES))

    language = language_now()

    def recap() -> bytes:
        made = first()
        for density in DENSITIES[1:]:
            if made.pdf is None:
                with speaking(language):  # whoever waits for the recap may speak another one by now
                    made = begun(density)()
        if made.pdf is None:
            report = values["report"]
            raise LayoutError(
                f"the recap of {report.student}, {report.lesson}, takes {made.pages} pages, more than two"
            )
        return made.pdf

    first = begun(DENSITIES[0])
    return recap
