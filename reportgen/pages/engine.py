"""The layout engine, without long ways that it goes to its libraries.

- It asks for each C library by several names. For every name that is not there `ctypes` asks the linker, the compiler
  and `ldconfig` in turn, each a process of its own: a quarter of a second. On Linux the engine's last name is the very
  one that the system's loader knows, so nothing is lost without that search.
- It names the type of an array with its length, `hb_codepoint_t[61]`, and each length that was not yet used is parsed
  as C, 6 ms, some ten times a recap. An array of the same values whose type leaves the length open is the same array.
- It loads what cuts faces down where a C library is missing, and what makes one face of a variable one: a quarter of
  its start, for what no style of this program asks for. It is loaded when it is called.
"""

import ctypes.util
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from types import ModuleType
from typing import Any

_RARELY_CALLED = {
    "fontTools.subset": ("Options", "Subsetter"),
    "fontTools.varLib.instancer": ("instantiateVariableFont",),
}
"""What the engine uses of modules that it seldom needs."""


@contextmanager
def _no_search() -> Iterator[None]:
    search = ctypes.util.find_library
    if sys.platform == "linux":
        ctypes.util.find_library = lambda name: None
    try:
        yield
    finally:
        ctypes.util.find_library = search


@contextmanager
def _loaded_when_called() -> Iterator[None]:
    """Within it, what is imported of these modules loads them when it is called."""
    stand_ins = {name: ModuleType(name) for name in _RARELY_CALLED if name not in sys.modules}
    for module, stand_in in stand_ins.items():
        for name in _RARELY_CALLED[module]:
            setattr(stand_in, name, _when_called(module, name))
    sys.modules.update(stand_ins)
    try:
        yield
    finally:
        for module in stand_ins:
            del sys.modules[module]


def _when_called(module: str, name: str) -> Callable[..., Any]:
    return lambda *values, **named: getattr(import_module(module), name)(*values, **named)


with _no_search(), _loaded_when_called():
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
