"""What a film needs beyond the program itself, and the line that installs it."""

from collections.abc import Iterator
from contextlib import contextmanager

from reportgen.errors import ReportgenError

INSTALL = "pip install 'reportgen[film]'"


class FilmError(ReportgenError):
    """A film or a picture cannot be used; the message says which, why, and how to mend it."""


class MissingFilmLibraryError(ReportgenError):
    """The extra `film` is not installed; the message has the line that installs it."""


@contextmanager
def needed(what: str) -> Iterator[None]:
    """Around the import of a library of the extra: where it is not there, raises MissingFilmLibraryError, which says
    that `what` needs it."""
    try:
        yield
    except ImportError:
        raise MissingFilmLibraryError(
            f"{what} needs libraries that are not installed. Install them: {INSTALL}"
        ) from None
