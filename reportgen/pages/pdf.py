"""HTML and a style of the theme -> PDF: the same bytes each time, nothing loaded from anywhere but the program."""

import logging
import zlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from types import MappingProxyType
from typing import Any

from weasyprint import CSS, HTML, Document
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

from reportgen.errors import ReportgenError
from reportgen.pages.faces import FACES, face_file
from reportgen.pages.theme import theme_file
from reportgen.records.academy import Academy

Loads = Callable[[str, str], tuple[bytes, str] | None]
"""What stands at an address `kind:name`, with its media type; None where that may not be loaded."""


class LayoutError(ReportgenError):
    """The theme's page cannot be laid out; the message says why."""


@dataclass(frozen=True)
class LaidOut:
    """A text on its printed pages, not yet written."""

    document: Document
    text: str

    @property
    def pages(self) -> int:
        return len(self.document.pages)

    def pdf(self) -> bytes:
        """Tagged as PDF/UA-1 asks, with title, language and bookmarks; the same text gives the same bytes."""
        identifier = sha256(self.text.encode()).digest()[:16]
        made = self.document.write_pdf(pdf_variant="pdf/ua-1", pdf_identifier=identifier, finisher=_packed_once)
        return bytes(made or b"")


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
        kind, _, name = url.partition(":")
        found = self.loads(kind, name)
        if found is None:
            raise FatalURLFetchingError(f"nothing is loaded from {url}")
        return URLFetcherResponse(url, found[0], {"Content-Type": found[1]})


def _faces(kind: str, name: str) -> tuple[bytes, str] | None:
    return (face_file(name).read_bytes(), "font/ttf") if kind == "face" and name in FACES else None


def laid_out(
    text: str,
    style: str,
    academy: Academy,
    root: Path,
    loads: Loads = lambda kind, name: None,
    drawn: Mapping[str, Any] = MappingProxyType({}),
) -> LaidOut:
    """An HTML text on paper, in the theme's style of that name; `drawn` are pictures that need no loading, by address.

    Raises LayoutError where a theme's own template or style loads what it must not, or is complained of.
    """
    try:
        sheet, fonts = _style(theme_file(style, academy, root), academy.paper)
        with _no_complaints():
            html = HTML(string=text, base_url="theme:", url_fetcher=_Fetcher(loads))
            document = html.render(font_config=fonts, stylesheets=[sheet], cache=dict(drawn), pdf_variant="pdf/ua-1")
        return LaidOut(document, text)
    except FatalURLFetchingError as error:
        raise LayoutError(f"the theme, {style}: {error}. Use chart:, photo: and face: addresses only.") from error


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
