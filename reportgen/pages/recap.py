"""The recap: a lesson on at most two printed pages, as PDF."""

import logging
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from jinja2.sandbox import SandboxedEnvironment
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

from reportgen.errors import ReportgenError
from reportgen.pages.faces import FACES, face_file
from reportgen.pages.theme import theme_file
from reportgen.records.academy import Academy

MOST_PAGES = 2
DENSITIES = ("roomy", "close", "dense", "bare")
"""How a recap is made to fit, the first that does: as it is; in smaller type with one chart of change; without notes
and pictures; without the chart too. What is left out stands on the lesson's page, and the recap says so."""


class RecapError(ReportgenError):
    """The theme's recap cannot be laid out; the message says why."""


class _Faces(URLFetcher):  # type: ignore[misc]  # the library is untyped
    """What the style may load: the two faces; nothing from anywhere else."""

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        kind, _, name = url.partition(":")
        if kind == "face" and name in FACES:
            return URLFetcherResponse(url, face_file(name).read_bytes(), {"Content-Type": "font/ttf"})
        raise FatalURLFetchingError(f"a recap loads nothing from {url}")


class _Pictures(URLFetcher):  # type: ignore[misc]
    """What one recap may load: the charts and photos of its lesson."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        super().__init__()
        self.svg = {chart.file: chart.svg.encode() for chart in values["charts"].values()}
        self.photos = {shown.file: shown.data for shown in values["photos"].values()}

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        kind, _, name = url.partition(":")
        if kind == "chart" and name in self.svg:
            return URLFetcherResponse(url, self.svg[name], {"Content-Type": "image/svg+xml"})
        if kind == "photo" and name in self.photos:
            mime = "image/png" if name.endswith(".png") else "image/jpeg"
            return URLFetcherResponse(url, self.photos[name], {"Content-Type": mime})
        raise FatalURLFetchingError(f"a recap loads nothing from {url}")


def recap_pdf(values: Mapping[str, Any], pages: SandboxedEnvironment, academy: Academy, root: Path) -> bytes:
    """The recap of a lesson, from the same values as its page; the same bytes each time.

    Tagged as PDF/UA-1 asks, with title, language and bookmarks. Raises RecapError where a theme's own template loads
    what it must not, or takes more than two pages at the closest.
    """
    style, fonts = _style(theme_file("recap.css", academy, root), academy.paper)
    template = pages.get_template("recap.html")
    identifier = sha256()
    try:
        for density in DENSITIES:
            text = template.render(density=density, **values)
            with _no_complaints():
                html = HTML(string=text, base_url="lesson:", url_fetcher=_Pictures(values))
                document = html.render(font_config=fonts, stylesheets=[style], pdf_variant="pdf/ua-1")
            if len(document.pages) <= MOST_PAGES:
                identifier.update(text.encode())
                made = document.write_pdf(pdf_variant="pdf/ua-1", pdf_identifier=identifier.digest()[:16])
                return bytes(made or b"")
    except FatalURLFetchingError as error:
        raise RecapError(f"recap.html of the theme: {error}. Use chart:, photo: and face: addresses only.") from error
    report = values["report"]
    raise RecapError(
        f"the recap of {report.student}, {report.lesson}, takes {len(document.pages)} pages, more than two"
    )


@lru_cache(maxsize=4)
def _style(text: str, paper: str) -> tuple[CSS, FontConfiguration]:
    """One style and one font configuration for a process: a new one for each PDF costs time and memory."""
    fonts = FontConfiguration()
    page = f"@page {{ size: {paper} }}\n"
    return CSS(string=page + text, font_config=fonts, url_fetcher=_Faces()), fonts


@contextmanager
def _no_complaints() -> Iterator[None]:
    """Turns the layout engine's complaints about style or pictures into errors: they mean a broken theme."""
    logger = logging.getLogger("weasyprint")
    heard: list[str] = []

    class Listener(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            heard.append(record.getMessage())

    listener = Listener(level=logging.WARNING)
    logger.addHandler(listener)
    try:
        yield
    finally:
        logger.removeHandler(listener)
    if heard:
        raise RecapError("; ".join(heard))
