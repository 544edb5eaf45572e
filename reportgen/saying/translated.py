"""The library in a language: every text of metrics, ranges, drills, cautions and practice that a reader sees.

Citations stay as they are; what a source says in plain words, that there is none for instance, is said in the language.
A text that the catalogue does not have, an academy's own for instance, stays too.
"""

import re
from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from pydantic import BaseModel

from reportgen.languages.speaking import say, say_as
from reportgen.records.causes import Cause
from reportgen.records.content import Band, Beyond, CountKind, Drill, Metric, SignWords
from reportgen.records.drill_tests import DrillTest
from reportgen.records.practice import PhaseText, PracticeRules, SmallGame, WarmUp
from reportgen.records.returning import ReturnRules, ReturnStep
from reportgen.records.safety import SafetyRule
from reportgen.records.setup import SetupKind, SetupWord
from reportgen.records.skipping import SkipIf
from reportgen.saying.wording import apart
from reportgen.sheets.library import Library

R = TypeVar("R", bound=BaseModel)

SIGN = "after a value"
"""The context of the words that stand after a value in the place of its sign: `5° open`."""

SEEN = "observed at setup"
"""The context of the words for what is observed at setup: a `strong` grip, an `open` stance."""

_TEXTS: dict[type[BaseModel], tuple[str, ...]] = {
    Metric: ("name", "short", "explain", "taken"),
    Beyond: ("means", "work_on", "because"),
    Band: ("for_", "limits", "note"),
    Drill: ("title", "aim", "feel"),
    DrillTest: ("count", "setting"),
    CountKind: ("name", "explain"),
    Cause: ("caveat",),
    SetupKind: ("name", "explain"),
    SetupWord: ("means",),
    SafetyRule: ("label", "student", "instructor"),
    SkipIf: ("also",),
    WarmUp: ("what", "without_swings"),
    PhaseText: ("says", "mixed", "speed"),
    SmallGame: ("says", "balls", "counts"),
    ReturnRules: ("go_on", "step_back", "stop"),
    ReturnStep: ("title",),
}
_SOURCED = frozenset({Band, Drill, SafetyRule})
"""What is printed with its source."""
_PARTS: dict[type[BaseModel], tuple[str, ...]] = {
    Metric: ("below", "above", "sign"),
    Drill: ("test", "skip_if"),
    SetupKind: ("sign",),
    PracticeRules: ("warm_up", "small_game"),
    SmallGame: ("warm_up",),
}


NO_SOURCE = "common practice, no source"
_CITATION = re.compile(r"\b(?:19|20)\d\d\b|\bet al\b")
"""What a part of a source has that cites something."""


def _source(of: BaseModel, change: Callable[[str | None, str], str]) -> str:
    """A source, its plain words changed; of a caution, which a student reads without it, only the stock phrase."""
    source: str = of.source  # type: ignore[attr-defined]
    parts = source.split("; ")
    plain = [part == NO_SOURCE or (type(of) is not SafetyRule and not _CITATION.search(part)) for part in parts]
    return apart(change(None, part) if said else part for part, said in zip(parts, plain, strict=True))


def translated(library: Library) -> Library:
    """The library in the language that is being spoken."""
    return Library(
        metrics={name: _translated(metric) for name, metric in library.metrics.items()},
        bands={name: tuple(map(_translated, bands)) for name, bands in library.bands.items()},
        drills={name: _translated(drill) for name, drill in library.drills.items()},
        rules={name: _translated(rule) for name, rule in library.rules.items()},
        practice=_translated(library.practice).model_copy(
            update={"phases": tuple(map(_translated, library.practice.phases))}
        ),
        returning=library.returning
        and _translated(library.returning).model_copy(
            update={"steps": tuple(map(_translated, library.returning.steps))}
        ),
        videos=library.videos,
        pictures=library.pictures,
        counts={name: _translated(kind) for name, kind in library.counts.items()},
        causes={name: _translated(row) for name, row in library.causes.items()},
        setup={name: _translated(kind) for name, kind in library.setup.items()},
    )


def texts_of(library: Library) -> Iterator[tuple[str, str | None, str]]:
    """(where it stands, context, text) of everything that `translated` translates, for the catalogues."""
    found: list[tuple[str | None, str]] = []

    def note(context: str | None, text: str) -> str:
        found.append((context, text))
        return text

    practice = [library.practice, *library.practice.phases]
    for kind, records in (
        ("metrics", library.metrics.values()),
        ("bands", [band for bands in library.bands.values() for band in bands]),
        ("drills", library.drills.values()),
        ("safety", library.rules.values()),
        ("practice", practice),
        ("returning", [library.returning, *library.returning.steps] if library.returning else []),
        ("counts", library.counts.values()),
        ("causes", library.causes.values()),
        ("setup", library.setup.values()),
    ):
        for record in records:
            found.clear()
            _changed(record, note)
            yield from ((f"{kind}/{getattr(record, 'id', '')}".rstrip("/"), *message) for message in found)


def _translated(record: R) -> R:
    return _changed(record, lambda context, text: say(text) if context is None else say_as(context, text))


def _changed(record: R, change: Callable[[str | None, str], str]) -> R:
    """The record with each of its texts changed."""
    new: dict[str, Any] = {}
    for name in _TEXTS.get(type(record), ()):
        if text := getattr(record, name):
            new[name] = change(None, text)
    for name in _PARTS.get(type(record), ()):
        if (part := getattr(record, name)) is not None:
            new[name] = _changed(part, change)
    if isinstance(record, SignWords):
        new = {"plus": change(SIGN, record.plus), "minus": change(SIGN, record.minus)}
    if isinstance(record, SetupKind):
        new["words"] = tuple(_changed(word, change) for word in record.words)
    if isinstance(record, SetupWord):
        new["says"] = change(SEEN, record.says)
    if type(record) in _SOURCED:
        new["source"] = _source(record, change)
    if isinstance(record, Drill):
        new["sections"] = {heading: change(None, text) for heading, text in record.sections.items()}
    return record.model_copy(update=new)
