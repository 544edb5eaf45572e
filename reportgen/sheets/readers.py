"""Who reads a report: in which language and in which units, and the library as that reader has it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from reportgen.languages.catalogues import ENGLISH, Language, language_of
from reportgen.languages.speaking import speaking
from reportgen.records.academy import Academy, Student
from reportgen.records.conditions import Condition
from reportgen.records.content import Band, Metric, Uncertainty
from reportgen.records.units import convert
from reportgen.records.words import UnitSystem
from reportgen.sheets.language_checks import catalogue_folders
from reportgen.sheets.library import Library
from reportgen.sheets.translated import translated

IMPERIAL = {"mm": "in", "cm": "in", "m": "yd", "m/s": "mph", "km/h": "mph", "kg": "lb"}
"""What takes the place of a unit for readers who measure in inches; what is not named stays."""


@dataclass(frozen=True)
class Reader:
    """Language and units of a report."""

    language: Language = ENGLISH
    units: UnitSystem = "metric"


def spoken(code: str, root: Path) -> Language:
    """The language of a report that was made for the academy in `root`. Raises LookupError, CatalogueError."""
    return language_of(code, *catalogue_folders(root))


def reader_of(student: Student | None, academy: Academy, root: Path) -> Reader:
    """The reader of a student's pages; without a student, of what belongs to the academy. Raises LookupError,
    CatalogueError."""
    code = (student.language if student else None) or academy.language
    units = (student.units if student else None) or academy.units
    return Reader(spoken(code, root), units)


def library_for(reader: Reader, library: Library) -> Library:
    """The library in the reader's language, its metrics, ranges and rules in the reader's units."""
    return library if reader == Reader() else _library_for(reader, _Same(library))


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
    return in_imperial(library) if reader.units == "imperial" else library


def in_imperial(library: Library) -> Library:
    """The library with every figure of a length or a speed in inches and miles an hour."""
    units = {name: IMPERIAL.get(metric.unit, metric.unit) for name, metric in library.metrics.items()}
    return replace(
        library,
        metrics={name: _metric(metric, units[name]) for name, metric in library.metrics.items()},
        bands={
            name: tuple(_band(band, library.metrics[name].unit, units[name]) for band in bands)
            for name, bands in library.bands.items()
        },
        rules={
            name: rule.model_copy(update={"when": _condition(rule.when, library.metrics, units)})
            for name, rule in library.rules.items()
        },
    )


def _metric(metric: Metric, unit: str) -> Metric:
    figures = {
        name: figure if figure is None or name == "source" else convert(figure, metric.unit, unit)
        for name, figure in ((name, getattr(metric.uncertainty, name)) for name in Uncertainty.model_fields)
    }
    uncertainty = metric.uncertainty.model_copy(update=figures)
    return metric.model_copy(update={"unit": unit, "uncertainty": uncertainty})


def _band(band: Band, unit: str, into: str) -> Band:
    limits = {
        side: None if limit is None else convert(limit, unit, into)
        for side, limit in (("low", band.low), ("high", band.high))
    }
    return band.model_copy(update=limits)


def _condition(condition: Condition, metrics: Mapping[str, Metric], units: Mapping[str, str]) -> Condition:
    """The condition with the figures that it asks of a metric in that metric's new unit."""
    (asked,) = condition.model_fields_set
    wanted = getattr(condition, asked)
    if asked == "finding" and wanted.metric in metrics:
        unit, into = metrics[wanted.metric].unit, units[wanted.metric]
        limits = {
            side: None if limit is None else convert(limit, unit, into)
            for side, limit in (("at_least", wanted.at_least), ("at_most", wanted.at_most))
        }
        return condition.model_copy(update={asked: wanted.model_copy(update=limits)})
    if asked in ("all", "any"):
        return condition.model_copy(update={asked: tuple(_condition(inner, metrics, units) for inner in wanted)})
    if asked == "not_":
        return condition.model_copy(update={asked: _condition(wanted, metrics, units)})
    return condition
