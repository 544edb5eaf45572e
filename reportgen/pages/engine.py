"""The layout engine, or one line that tells how to install the C library that it needs."""

import sys
from contextlib import redirect_stdout
from io import StringIO

from reportgen.errors import MachineError

_HOW_TO_GET_PANGO = {"darwin": "brew install pango", "win32": "pacman -S mingw-w64-x86_64-pango, in MSYS2"}

try:
    with redirect_stdout(StringIO()):  # where its library is not there, the engine prints a page of advice
        from weasyprint import CSS, HTML, Document
        from weasyprint.text.fonts import FontConfiguration
        from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse
except OSError as error:  # what a C library that is not there comes to
    how = _HOW_TO_GET_PANGO.get(sys.platform, "apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0")
    wrong = "Nothing can be printed: the library Pango cannot be loaded"
    raise MachineError(f"{wrong}. Install it ({how}), or give the program more memory.") from error

__all__ = [
    "CSS",
    "HTML",
    "Document",
    "FatalURLFetchingError",
    "FontConfiguration",
    "URLFetcher",
    "URLFetcherResponse",
]
