"""What templates are given: values with names, and nothing that could be called.

A theme can come from anybody. A record of ours knows how to copy, parse and print itself, and by its methods a template
would reach all that Python can; so what a template sees of a record is a copy of its fields.
"""

from collections.abc import Mapping, Set
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from typing import Any

from markupsafe import Markup

from reportgen.languages.speaking import language_now
from reportgen.languages.typography import curled
from reportgen.records.academy import Academy
from reportgen.records.base import Record

_LEAVES = frozenset({str, Markup, int, float, bool, type(None), date})
_KEPT_BACK: Mapping[type, frozenset[str]] = {Academy: frozenset({"secret", "inbox", "upload_with"})}


class Plain:
    """Values by name. They are read as attributes and never change."""

    __slots__ = ("__dict__", "_of")
    _of: str

    def __init__(self, of: str, values: Mapping[str, Any]) -> None:
        object.__setattr__(self, "_of", of)
        self.__dict__.update(values)

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError(f"{self!r} does not change")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{self!r} does not change")

    def __repr__(self) -> str:
        return f"this {self._of}"


def plain(value: Any) -> Any:
    """A value as templates are given it, at any depth. Of a record that is its fields and what it computes from them,
    of a dataclass the fields that it prints of itself; what a file holds (bytes) is left out. Texts of a record get
    curly apostrophes and quotation marks. Raises TypeError for what has no such form."""
    kind: Any = type(value)
    if kind in _LEAVES or kind is Plain:
        return value
    if kind is tuple or kind is list:
        return kind([item if type(item) in _LEAVES else plain(item) for item in value])
    if kind is dict:
        return {name: inner if type(inner) in _LEAVES else plain(inner) for name, inner in value.items()}
    if isinstance(value, Record):
        told = value.__dict__ | {name: getattr(value, name) for name in _properties(kind)}
        return Plain(kind.__name__, _told(_printed_marks(told), _KEPT_BACK.get(kind, frozenset())))
    if is_dataclass(value):
        return Plain(kind.__name__, _told({name: getattr(value, name) for name in _printed(kind)}))
    return _seldom(value)


def _seldom(value: Any) -> Any:
    if hasattr(value, "_asdict"):
        return Plain(type(value).__name__, _told(value._asdict()))
    if isinstance(value, Mapping):
        return plain(dict(value))
    if isinstance(value, Set):
        return frozenset(plain(item) for item in value)
    for leaf in (str, int, float):
        if isinstance(value, leaf):
            return leaf(value)
    raise TypeError(f"a template gets no {type(value).__name__}")


def _told(values: Mapping[str, Any], kept_back: frozenset[str] = frozenset()) -> dict[str, Any]:
    return {
        name: value if type(value) in _LEAVES else plain(value)
        for name, value in values.items()
        if name not in kept_back and type(value) is not bytes
    }


def _printed_marks(texts: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of a record, what people typed in them with the marks of the language that is being spoken."""
    code = language_now().code
    return {name: curled(value, code) if type(value) is str else value for name, value in texts.items()}


@cache
def _properties(kind: type[Record]) -> tuple[str, ...]:
    own = kind.__mro__[: kind.__mro__.index(Record)]
    return tuple(name for part in own for name, member in vars(part).items() if isinstance(member, property))


@cache
def _printed(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind) if field.repr)
