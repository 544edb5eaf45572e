"""The layout engine, without two long ways that it goes to its C libraries.

- It asks for each library by several names. For every name that is not there `ctypes` asks the linker, the compiler and
  `ldconfig` in turn, each a process of its own: a quarter of a second. On Linux the engine's last name is the very one
  that the system's loader knows, so nothing is lost without that search.
- It names the type of an array with its length, `hb_codepoint_t[61]`, and each length that was not yet used is parsed
  as C, 6 ms, some ten times a recap. An array of the same values whose type leaves the length open is the same array.
"""

import ctypes.util
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any


@contextmanager
def _no_search() -> Iterator[None]:
    search = ctypes.util.find_library
    if sys.platform == "linux":
        ctypes.util.find_library = lambda name: None
    try:
        yield
    finally:
        ctypes.util.find_library = search


with _no_search():
    from weasyprint import CSS, HTML, Document
    from weasyprint.images import SVGImage
    from weasyprint.text.ffi import ffi
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

_new = ffi.new


def _new_of_any_length(kind: str, values: Any = None) -> Any:
    """What `ffi.new` gives, where an array is made from as many values as it has places."""
    if isinstance(values, (list, tuple)) and kind.endswith(f"[{len(values)}]"):
        kind = f"{kind[: kind.rindex('[')]}[]"
    return _new(kind, values)


ffi.new = _new_of_any_length

__all__ = [
    "CSS",
    "HTML",
    "Document",
    "FatalURLFetchingError",
    "FontConfiguration",
    "SVGImage",
    "URLFetcher",
    "URLFetcherResponse",
]
