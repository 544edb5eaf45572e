"""Message catalogues: those that are shipped, `content/languages/<code>.mo`, and an academy's own `languages/<code>.po`
instead.

What is shipped was compiled beforehand from the `.po` beside it (`tests/languages/collect.py`); an academy's own is
looked through and compiled when it is read, since a catalogue can come from anybody. English stands in the program
itself and needs no catalogue. What a catalogue leaves out is said in English.
"""

import gettext
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from reportgen.languages.catalogue_checks import Fault, decoded, faults_in, forms_fault

CODE = r"^[a-z]{2,3}(_[A-Z]{2})?$"
"""How a language is named: its ISO 639 code, with an ISO 3166 country where that matters."""


@dataclass(frozen=True)
class Language:
    """A language: its code, the name of its conventions for dates and numbers (CLDR), and its messages."""

    code: str
    locale: str
    catalogue: gettext.NullTranslations

    @property
    def tag(self) -> str:
        """The code as HTML and mail write it: `pt-BR`."""
        return self.code.replace("_", "-")

    @property
    def direction(self) -> str:
        """`ltr`, or `rtl` where it is written from right to left."""
        from babel import Locale

        return Locale.parse(self.locale).text_direction


ENGLISH = Language("en", "en_GB", gettext.NullTranslations())


class CatalogueError(ValueError):
    """A catalogue cannot be used; `faults` say in which lines of the `file`, and why."""

    def __init__(self, file: Path, *faults: Fault) -> None:
        super().__init__("; ".join(f"{file}:{fault.line}: {fault.wrong}" for fault in faults))
        self.file = file
        self.faults = faults


def languages_in(shipped: Path, own: Path | None = None) -> tuple[str, ...]:
    """The codes of all languages that can be chosen, English first: of the shipped folder and of an academy's own."""
    found = {file.stem for file in (*shipped.glob("*.mo"), *(own.glob("*.po") if own else ()))}
    return ("en", *sorted(code for code in found if re.match(CODE, code) and code != "en"))


def language_of(code: str, shipped: Path, own: Path | None = None) -> Language:
    """The language of this code, by an academy's own catalogue where it has one, otherwise by the shipped one.

    Raises LookupError where there is none, CatalogueError where the academy's own is broken.
    """
    if code == ENGLISH.code:
        return ENGLISH
    for file, read in ((own / f"{code}.po" if own else None, _own), (shipped / f"{code}.mo", _shipped)):
        if file is not None and file.is_file():
            written = file.stat()
            return read(file, code, written.st_mtime_ns, written.st_size)
    raise LookupError(code)


@lru_cache(maxsize=8)
def _shipped(file: Path, code: str, changed: int, size: int) -> Language:
    return _language(code, file.read_bytes())


@lru_cache(maxsize=8)
def _own(file: Path, code: str, changed: int, size: int) -> Language:
    return _language(code, compiled(file, code))


def _language(code: str, messages: bytes) -> Language:
    from babel import Locale

    return Language(code, str(Locale.parse(code)), gettext.GNUTranslations(io.BytesIO(messages)))


def compiled(file: Path, code: str) -> bytes:
    """The messages of a `.po` in the binary form of gettext (`.mo`). Raises CatalogueError."""
    try:
        text, fault = decoded(file.read_bytes())
    except OSError as error:
        text = ""
        fault = Fault(1, f"the file cannot be read ({error.strerror})", "Look at its name and its rights.")
    if fault := fault or _locale_fault(code) or forms_fault(text):
        raise CatalogueError(file, fault)
    return _mo_of(file, code, text)


def _locale_fault(code: str) -> Fault | None:
    from babel import Locale

    try:
        Locale.parse(code)
    except Exception:  # the library has one of its own for a code that is not known, and others for odd ones
        mend = "Name the file by the ISO 639 code of its language, as in de.po."
        return Fault(1, f"nothing is known of a language {code}: neither its dates nor its numbers", mend)
    return None


def _mo_of(file: Path, code: str, text: str) -> bytes:
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    read = []

    def lines() -> Iterator[str]:
        for line in text.split("\n"):
            read.append(line)
            yield line

    try:
        catalogue = read_po(lines(), locale=code, abort_invalid=True)
        if faults := tuple(faults_in(catalogue, text)):
            raise CatalogueError(file, *faults)
        catalogue.charset = "utf-8"
        into = io.BytesIO()
        write_mo(into, catalogue)
    except CatalogueError:
        raise
    except Exception as error:  # whatever a damaged file leads the library to
        told = str(error).partition(" on ")[0]
        mend = "Look at this line and those above it."
        raise CatalogueError(file, Fault(len(read), f"this is no catalogue of messages ({told})", mend)) from error
    return into.getvalue()
