"""HTML and a style of the theme -> PDF: the same bytes each time, nothing loaded from anywhere but the program."""

import logging
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache
from hashlib import sha256
from typing import Any

from reportgen.pages.engine import (
    CSS,
    HTML,
    Document,
    FatalURLFetchingError,
    FontConfiguration,
    URLFetcher,
    URLFetcherResponse,
)
from reportgen.pages.faces import FACES, face_file
from reportgen.pages.printing import LayoutError, Printed, ToPrint

Loads = Callable[[str], tuple[bytes, str] | None]
"""What stands at an address, with its media type; None where that may not be loaded."""


def _packed_once(document: Document, pdf: Any) -> None:
    """Pack the streams of a PDF before it is written: the writer itself would pack each twice, for its bytes and for
    their digest, at zlib's slowest level, and take a sixth of the time of a recap for it."""
    for part in pdf.objects:
        if getattr(part, "compress", False):
            part.compress = False
            content = part.data.partition(b"\nstream\n")[2].removesuffix(b"\nendstream")
            part.stream = [zlib.compress(content, 3)]
            part.extra["Filter"] = "/FlateDecode"


class _Fetcher(URLFetcher):  # type: ignore[misc]  # the library is untyped
    """What a page may load: whatever `loads` knows."""

    def __init__(self, loads: Loads) -> None:
        super().__init__()
        self.loads = loads

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        found = self.loads(url)
        if found is None:
            raise FatalURLFetchingError(f"nothing is loaded from {url}")
        return URLFetcherResponse(url, found[0], {"Content-Type": found[1]})


def _faces(url: str) -> tuple[bytes, str] | None:
    kind, _, name = url.partition(":")
    return (face_file(name).read_bytes(), "font/ttf") if kind == "face" and name in FACES else None


def printed(wanted: ToPrint) -> Printed:
    """An HTML text on paper, and as PDF where it takes no more pages than it may.

    Tagged as PDF/UA-1 asks, with title, language and bookmarks; the same text gives the same bytes. Raises LayoutError
    where a theme's own template or style loads what it must not, or is complained of.
    """
    try:
        return _printed(wanted)
    except FatalURLFetchingError as error:
        raise LayoutError(
            f"the theme, {wanted.style.name}: {error}. Use chart:, photo: and face: addresses only."
        ) from error


def _printed(wanted: ToPrint) -> Printed:
    sheet, fonts = _style(wanted.style.text, wanted.style.paper)
    with _no_complaints():
        html = HTML(string=wanted.text, base_url="theme:", url_fetcher=_Fetcher(wanted.files.get))
        document = html.render(font_config=fonts, stylesheets=[sheet], pdf_variant="pdf/ua-1")
    pages, filled = len(document.pages), _filled(document)
    if wanted.most_pages is not None and pages > wanted.most_pages:
        return Printed(pages, filled, None)
    identifier = sha256(wanted.text.encode()).digest()[:16]
    made = document.write_pdf(pdf_variant="pdf/ua-1", pdf_identifier=identifier, finisher=_packed_once)
    return Printed(pages, filled, bytes(made or b""))


def _filled(document: Document) -> float:
    """The share of the last page's height, within its margins, above the end of its text."""
    page = document.pages[-1]._page_box
    body = page.children[0].children[0]
    end = max((part.position_y + part.margin_height() for part in body.children), default=page.content_box_y())
    return float((end - page.content_box_y()) / page.height)


@lru_cache(maxsize=4)
def _style(text: str, paper: str) -> tuple[CSS, FontConfiguration]:
    """One style and one font configuration for a process: a new one for each PDF costs time and memory."""
    fonts = FontConfiguration()
    page = f"@page {{ size: {paper} }}\n"
    return CSS(string=page + text, font_config=fonts, url_fetcher=_Fetcher(_faces)), fonts


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
        raise LayoutError("; ".join(heard))
