"""Who reads a report: in which language and in which units, and the library as that reader has it."""

from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from reportgen.languages.catalogues import ENGLISH, Language, language_of
from reportgen.languages.speaking import speaking
from reportgen.records.academy import Student
from reportgen.records.words import UnitSystem
from reportgen.saying.translated import translated
from reportgen.sheets.academy_folder import Home
from reportgen.sheets.language_checks import catalogue_folders
from reportgen.sheets.library import Library

IMPERIAL = {"cm": "in", "m": "yd", "m/s": "mph", "km/h": "mph", "kg": "lb"}
"""What takes the place of a unit for readers who measure in inches; what is not named stays, as millimetres on a face
do."""


@dataclass(frozen=True)
class Reader:
    """Language and units of a report."""

    language: Language = ENGLISH
    units: UnitSystem = "metric"


def language_called(code: str, root: Path) -> Language:
    """The language of a report that was made for the academy in `root`. Raises LookupError, CatalogueError."""
    return language_of(code, *catalogue_folders(root))


def reader_of(student: Student | None, home: Home) -> Reader:
    """The reader of a student's pages; without a student, of what belongs to the academy. Raises LookupError,
    CatalogueError."""
    code = (student.language if student else None) or home.academy.language
    units = (student.units if student else None) or home.academy.units
    return Reader(language_called(code, home.root), units)


def library_for(reader: Reader, library: Library) -> Library:
    """The library in the reader's language, each metric with the unit in which this reader is told its values."""
    return _library_for(reader, _Same(library))


@dataclass(frozen=True)
class _Same:
    """A library, the same as itself alone."""

    library: Library

    def __hash__(self) -> int:
        return id(self.library)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.library is self.library


@lru_cache(maxsize=8)
def _library_for(reader: Reader, same: _Same) -> Library:
    with speaking(reader.language):
        library = translated(same.library)
    if reader.units == "metric":
        return library
    units = {name: IMPERIAL.get(metric.unit, metric.unit) for name, metric in library.metrics.items()}
    metrics = {name: metric.model_copy(update={"unit": units[name]}) for name, metric in library.metrics.items()}
    return replace(library, metrics=metrics)
