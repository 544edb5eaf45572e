"""What a film needs beyond the program itself, and the line that installs it."""

from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module

from reportgen.errors import ReportgenError

INSTALL = "pip install 'reportgen[film]'"


class FilmError(ReportgenError):
    """A film or a picture cannot be used; the message says which, why, and how to mend it."""


class MissingFilmLibraryError(ReportgenError):
    """The extra `film` is not installed; the message has the line that installs it."""


_OF_FILMS = ("av", "ai_edge_litert.interpreter")


def film_libraries() -> None:
    """Returns where films can be read and moments be found in them; raises MissingFilmLibraryError where not."""
    with needed("Reading films"):
        for name in _OF_FILMS:
            import_module(name)


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
