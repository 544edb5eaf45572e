"""What is printed: a text, its style, the pictures in it. Nothing of it loads the layout engine."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from reportgen.errors import ReportgenError


class LayoutError(ReportgenError):
    """The theme's page cannot be laid out; the message says why."""


class TooLongError(LayoutError):
    """The recap of the lesson of that name takes more pages than it may, however close it is set."""

    def __init__(self, lesson: str, pages: int, most: int) -> None:
        super().__init__(f"the recap takes {pages} pages, more than {most}")
        self.lesson = lesson


@dataclass(frozen=True)
class Stylesheet:
    """A style of the theme for paper of a size: the name of its file, and its text."""

    name: str
    text: str
    paper: str


@dataclass(frozen=True)
class ToPrint:
    """An HTML text in a style. Of the addresses in it, `files` holds what stands there with its media type, and nothing
    else is loaded. More than `most_pages` are not written."""

    text: str
    style: Stylesheet
    files: Mapping[str, tuple[bytes, str]] = field(default_factory=dict)
    most_pages: int | None = None


@dataclass(frozen=True)
class Printed:
    """How many pages a text takes, how far down the last of them is filled (0 to 1), and the PDF, where there may be so
    many."""

    pages: int
    filled: float
    pdf: bytes | None


def printed(wanted: ToPrint) -> Printed:
    """As `pages.pdf.printed`, with the layout engine loaded at the first print: whoever makes pages alone needs none.
    Raises MachineError where it cannot be loaded."""
    from reportgen.pages import pdf

    return pdf.printed(wanted)
