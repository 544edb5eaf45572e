"""The marking page, written to disk."""

from collections.abc import Sequence
from pathlib import Path

from reportgen.authoring.followed import followed_at
from reportgen.errors import ReportgenError
from reportgen.languages.catalogues import ENGLISH, Language, language_of, languages_in
from reportgen.languages.speaking import speaking
from reportgen.pages.marking import is_marking_page, marking_page
from reportgen.rights import write_atomically
from reportgen.saying.readers import Reader, library_for
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped


def write_marking_page(pictures: Sequence[Path], video: Path | None, to: Path, code: str = ENGLISH.code) -> Path:
    """Write the marking page to `to` in the language of that code, for its owner's eyes alone, replacing an earlier one
    in one step. It measures the metrics of the academy in which the first picture or the video lies, else of that in
    which one works, else the shipped ones; what is wrong with its own metrics is for `check` to tell. Where the first
    picture or the video is a student's, the page asks for what is followed.

    Raises ReportgenError where there is no such language, another file stands there, or a picture or video cannot be
    used, OSError.
    """
    language = shipped_language(code)
    place_for(to)
    first = next(iter((*pictures, video)), None)
    own = _academy_around(first or Path())
    library = library_for(Reader(language), load_library(shipped("content"), own)[0])
    followed = followed_at(first, own) if first is not None else ()
    with speaking(language):
        page = marking_page(pictures, video, library.metrics, followed)
    write_atomically(to, page.encode())
    return to


def place_for(page: Path) -> None:
    """Raises ReportgenError where something else than a marking page stands at its place."""
    if page.exists() and not (page.is_file() and is_marking_page(page)):
        raise ReportgenError(f"{page} is there already, and is no marking page. Give another name with --to.")


def _academy_around(place: Path) -> Path:
    """The academy in whose folder a place lies; where there is none, a folder that is not there."""
    around = (place.resolve(), *place.resolve().parents)
    return next((folder for folder in around if (folder / "academy.yaml").is_file()), shipped("content") / "no-academy")


def shipped_language(code: str) -> Language:
    """The language of that code, of those that come with the program. Raises ReportgenError where there is none."""
    catalogues = shipped("content") / "languages"
    known = languages_in(catalogues)
    if code not in known:
        raise ReportgenError(f"There is no catalogue of the language {code}. Give one of {', '.join(known)}.")
    return language_of(code, catalogues)
