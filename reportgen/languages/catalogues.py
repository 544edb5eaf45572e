"""Message catalogues: `content/languages/<code>.po`, and an academy's own `languages/<code>.po` in its place.

English stands in the program itself and needs no catalogue. What a catalogue leaves out is said in English.
"""

import gettext
import io
import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

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
    """A catalogue cannot be read; the message says where and why."""


def languages_in(*folders: Path) -> tuple[str, ...]:
    """The codes of all languages that can be chosen, English first."""
    found = {file.stem for folder in folders if folder.is_dir() for file in folder.glob("*.po")}
    return ("en", *sorted(code for code in found if re.match(CODE, code) and code != "en"))


def language_of(code: str, *folders: Path) -> Language:
    """The language of this code, from the last folder that has a catalogue of it.

    Raises LookupError where none has, CatalogueError where it is broken.
    """
    if code == ENGLISH.code:
        return ENGLISH
    for folder in reversed(folders):
        file = folder / f"{code}.po"
        if file.is_file():
            written = file.stat()
            return _read(file, code, written.st_mtime_ns, written.st_size)
    raise LookupError(code)


@lru_cache(maxsize=8)
def _read(file: Path, code: str, changed: int, size: int) -> Language:
    from babel import Locale
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import PoFileError, read_po

    try:
        with file.open("rb") as read:
            catalogue = read_po(read, locale=str(Locale.parse(code)), abort_invalid=True)
    except (PoFileError, ValueError, LookupError) as error:  # LookupError: a charset that nobody knows
        raise CatalogueError(f"{file}: {error}") from error
    compiled = io.BytesIO()
    write_mo(compiled, catalogue)
    compiled.seek(0)
    return Language(code, str(Locale.parse(code)), gettext.GNUTranslations(compiled))
