"""What is printed, by value, so that another process can do it: a text, its style, the pictures in it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from reportgen.errors import ReportgenError


class LayoutError(ReportgenError):
    """The theme's page cannot be laid out; the message says why."""


@dataclass(frozen=True)
class Stylesheet:
    """A style of the theme for paper of a size: the name of its file, and its text."""

    name: str
    text: str
    paper: str


@dataclass(frozen=True)
class Painting:
    """A chart as PDF content: width and height in points, and pairs of opacity and operators (see
    `drawing.saving.to_pdf_operators`)."""

    width: float
    height: float
    parts: tuple[tuple[float, str], ...]


@dataclass(frozen=True)
class ToPrint:
    """An HTML text in a style. Of the addresses in it, `files` holds what stands there with its media type, and nothing
    else is loaded; `paintings` are charts that need no reading. More than `most_pages` are not written."""

    text: str
    style: Stylesheet
    files: Mapping[str, tuple[bytes, str]] = field(default_factory=dict)
    paintings: Mapping[str, Painting] = field(default_factory=dict)
    most_pages: int | None = None


@dataclass(frozen=True)
class Printed:
    """How many pages a text takes, and the PDF, where there may be so many."""

    pages: int
    pdf: bytes | None


Print = Callable[[ToPrint], Callable[[], Printed]]
"""Begins to print; what it returns gives the result, and raises what went wrong."""


def print_here(wanted: ToPrint) -> Callable[[], Printed]:
    """Print in this process, at once."""
    from reportgen.pages.pdf import printed

    done = printed(wanted)
    return lambda: done
