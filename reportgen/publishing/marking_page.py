"""The marking page, written to disk."""

from collections.abc import Sequence
from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.languages.catalogues import ENGLISH, Language, language_of, languages_in
from reportgen.languages.speaking import speaking
from reportgen.pages.marking import is_marking_page, marking_page
from reportgen.sheets.library import load_library
from reportgen.sheets.readers import Reader, library_for
from reportgen.sheets.shipped import shipped

NOBODYS = shipped("content") / "no-academy"
"""A folder that is not there: the library has nothing of an academy's own."""


def write_marking_page(pictures: Sequence[Path], video: Path | None, to: Path, code: str = ENGLISH.code) -> Path:
    """Write the marking page to `to` in the language of that code, replacing an earlier one in one step.

    Raises ReportgenError where there is no such language, another file stands there, or a picture or video cannot be
    used, OSError.
    """
    language = _shipped_language(code)
    if to.exists() and not (to.is_file() and is_marking_page(to)):
        raise ReportgenError(f"{to} is there already, and is no marking page. Give another name with --to.")
    library = library_for(Reader(language), load_library(shipped("content"), NOBODYS)[0])
    with speaking(language):
        page = marking_page(pictures, video, library.metrics)
    beside = to.with_name(f".{to.name}.new")
    beside.write_text(page, encoding="utf-8")
    beside.replace(to)
    return to


def _shipped_language(code: str) -> Language:
    catalogues = shipped("content") / "languages"
    known = languages_in(catalogues)
    if code not in known:
        raise ReportgenError(f"There is no catalogue of the language {code}. Give one of {', '.join(known)}.")
    return language_of(code, catalogues)
