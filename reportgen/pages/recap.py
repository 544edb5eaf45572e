"""The recap: a lesson on at most two printed pages, as PDF."""

from collections.abc import Callable, Mapping
from typing import Any

from reportgen.pages.plain import plain
from reportgen.pages.printing import Printed, TooLongError, ToPrint, printed
from reportgen.pages.sandbox import Sandbox
from reportgen.pages.swing_pages import recap_frames
from reportgen.pages.theme import stylesheet
from reportgen.sheets.academy_folder import Home

MOST_PAGES = 2
DENSITIES = ("roomy", "close", "plain", "dense", "bare", "short", "spare", "least")
"""How a recap is made to fit, the first that does: as it is; in smaller type with one chart of change; without that
chart; without the drawn drills; with all values in words alone and without the notes on the drills; without pictures;
without the letter, feels, tests and setup; at last with those values alone that are not in range. What is left out
stands on the lesson's page, and the recap says so. Cautions are never left out."""

SNUG, AMPLE = "snug", "ample"
"""In smaller type with less between the lines; as it is, with the drills drawn large."""
LITTLE, HALF = 0.25, 0.5
"""Of a page: what the former can save, and what leaves a page more white than filled."""

FAR_TOO_LONG = 3 * MOST_PAGES
"""Pages that no smaller type and no picture less brings to two: with such a long letter it is not tried."""
WITH_THE_LETTER = DENSITIES[: DENSITIES.index("spare")]


def recap_pdf(
    values: Mapping[str, Any],
    told: Mapping[str, Any],
    pages: Sandbox,
    home: Home,
) -> bytes:
    """The recap of a lesson as PDF, from the same values as its page, `told` as templates get them; the same bytes each
    time.

    Raises LayoutError where a theme's own template loads what it must not, TooLongError where it takes more than two
    pages at the closest.
    """
    template = pages.get_template("recap.html")
    style = stylesheet("recap.css", home)
    files = {f"chart:{name}": (chart.svg.encode(), "image/svg+xml") for name, chart in values["charts"].items()}
    for shown in values["photos"].values():
        files[f"photo:{shown.file}"] = shown.data, "image/png" if shown.file.endswith(".png") else "image/jpeg"

    rows = recap_frames(values["report"], home.root)
    for shown in (frame["photo"] for row in rows for frame in row["frames"]):
        files[f"photo:{shown.file}"] = shown.data, "image/jpeg"
    swings = plain(rows)

    def set_as(density: str, most: int = MOST_PAGES) -> Printed:
        text = template.render(density=density, swing_rows=swings, **told)
        shown = {address: file for address, file in files.items() if f'"{address}"' in text}
        return printed(ToPrint(text, style, shown, most))

    made = set_as(DENSITIES[0])
    if made.pages == MOST_PAGES and made.filled <= HALF:
        made = _without_white(made, set_as)
    for density in DENSITIES[1:]:
        if made.pdf is None and not (made.pages > FAR_TOO_LONG and density in WITH_THE_LETTER):
            made = set_as(density)
    if made.pdf is None:
        raise TooLongError(values["report"].lesson, made.pages, MOST_PAGES)
    return made.pdf


def _without_white(made: Printed, set_as: Callable[..., Printed]) -> Printed:
    """A recap whose last page is more white than text: on one page where it can be, else with larger drills."""
    if made.filled <= LITTLE:
        snug = set_as(SNUG, 1)
        if snug.pdf is not None:
            return snug
    ample = set_as(AMPLE)
    return made if ample.pdf is None else ample
