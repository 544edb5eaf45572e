"""The recap: a lesson on at most two printed pages, as PDF."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from jinja2.sandbox import SandboxedEnvironment

from reportgen.pages.pdf import LayoutError, laid_out
from reportgen.pages.vectors import image_cache
from reportgen.records.academy import Academy

MOST_PAGES = 2
DENSITIES = ("roomy", "close", "plain", "dense", "bare")
"""How a recap is made to fit, the first that does: as it is; in smaller type with one chart of change; without
pictures; without the chart too; without the notes too. What is left out stands on the lesson's page, and the recap
says so."""


def recap_pdf(values: Mapping[str, Any], pages: SandboxedEnvironment, academy: Academy, root: Path) -> bytes:
    """The recap of a lesson, from the same values as its page; the same bytes each time.

    Raises LayoutError where a theme's own template loads what it must not, or takes more than two pages at the closest.
    """
    template = pages.get_template("recap.html")
    svg = {chart.file: chart.svg.encode() for chart in values["charts"].values()}
    photos = {shown.file: shown.data for shown in values["photos"].values()}

    def loads(kind: str, name: str) -> tuple[bytes, str] | None:
        """The charts and photos of this lesson."""
        if kind == "chart" and name in svg:
            return svg[name], "image/svg+xml"
        if kind == "photo" and name in photos:
            return photos[name], "image/png" if name.endswith(".png") else "image/jpeg"
        return None

    drawn = image_cache(values["charts"].values())
    for density in DENSITIES:
        made = laid_out(template.render(density=density, **values), "recap.css", academy, root, loads, drawn)
        if made.pages <= MOST_PAGES:
            return made.pdf()
    report = values["report"]
    raise LayoutError(f"the recap of {report.student}, {report.lesson}, takes {made.pages} pages, more than two")
