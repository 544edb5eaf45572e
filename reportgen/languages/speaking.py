"""Every sentence that the program makes passes through here, in English as it stands in the code or translated.

The language is that of the person who reads what is being made. It is set around the making of one student's report,
as gettext does for a process, so that no function between has to hand it on: `with speaking(language): ...`.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from reportgen.languages.catalogues import ENGLISH, Language
from reportgen.languages.typography import curled

_LANGUAGE: ContextVar[Language] = ContextVar("language", default=ENGLISH)


@contextmanager
def speaking(language: Language) -> Iterator[None]:
    """Within it, sentences are made in this language."""
    before = _LANGUAGE.set(language)
    try:
        yield
    finally:
        _LANGUAGE.reset(before)


def language_now() -> Language:
    """The language in which sentences are made."""
    return _LANGUAGE.get()


def say(message: str, /, **values: object) -> str:
    """The message in the language, its {names} replaced by the values."""
    said = translation(message)
    return said.format(**values) if values else said


def say_count(one: str, many: str, /, count: float, **values: object) -> str:
    """The message for `count` things, its {names} replaced; {count} is the number itself."""
    said = translation_for(one, many, _counted_as(count))
    return said.format(count=count, **values)


def say_as(context: str, message: str, /, **values: object) -> str:
    """A word that English uses for several things: `context` says which one is meant."""
    said = translation(message, context)
    return said.format(**values) if values else said


def translation(message: str, context: str | None = None) -> str:
    """The message in the language, with its marks of quotation, its places not filled."""
    language = _LANGUAGE.get()
    said = language.catalogue.pgettext(context, message) if context else language.catalogue.gettext(message)
    return curled(said, language.code)


def translation_for(one: str, many: str, count: int) -> str:
    """The form of a message for so many things, its places not filled."""
    language = _LANGUAGE.get()
    return curled(language.catalogue.ngettext(one, many, count), language.code)


def later(message: str) -> str:
    """Marks a message that stands in a table, for the catalogues; it is said where the table is used."""
    return message


def _counted_as(count: float) -> int:
    """The whole number that chooses the form. Half a year is several in English and one in French (CLDR)."""
    if count == int(count):
        return int(count)
    from babel import Locale

    return 1 if Locale.parse(_LANGUAGE.get().locale).plural_form(count) == "one" else 2
