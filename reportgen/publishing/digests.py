"""Digests of what pages are made from."""

from functools import cache
from hashlib import sha256
from importlib.metadata import version

from reportgen import __version__

_ENGINES = (
    "babel", "fonttools", "icalendar", "jinja2", "markdown-it-py", "matplotlib", "pikepdf", "pillow",
    "pydantic", "pydyf", "pyphen", "segno", "tinycss2", "tinyhtml5", "uharfbuzz", "weasyprint",
)  # fmt: skip


def program() -> str:
    """The program and the libraries that decide what bytes come out."""
    return f"reportgen {__version__} {_engines()}"


@cache
def _engines() -> str:
    return " ".join(f"{name} {version(name)}" for name in _ENGINES)


def combined(*digests: str) -> str:
    """One digest of several."""
    return sha256("\n".join(digests).encode()).hexdigest()
