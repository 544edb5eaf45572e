"""How a language writes dates, numbers and rows of words, as the Unicode CLDR has it (through Babel)."""

from datetime import date, time
from functools import lru_cache

from reportgen.languages.speaking import language_now


def written_day(of: date, parts: str) -> str:
    """A day, or a part of it: `parts` is a skeleton of CLDR (`MMMMd`, 5 March), `long` or a pattern (`cccc`)."""
    return _written_day(of, parts, language_now().locale)


def written_time(of: time) -> str:
    """A time of day in hours and minutes."""
    from babel.dates import format_time

    return format_time(of, "short", locale=language_now().locale)


def decimal_sign() -> str:
    """What stands before the decimals."""
    return _decimal_sign(language_now().locale)


def words_in_a_row(words: tuple[str, ...]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    from babel.lists import format_list

    return format_list(words, locale=language_now().locale)


def one_of(words: tuple[str, ...]) -> str:
    """`a`, `a or b`, `a, b, or c`."""
    if len(words) < 2:
        return "".join(words)
    from babel.lists import format_list

    return format_list(words, style="or", locale=language_now().locale)


@lru_cache(maxsize=1024)
def _written_day(of: date, parts: str, locale: str) -> str:
    from babel.dates import format_date, format_skeleton

    if parts in ("long", "cccc"):
        return format_date(of, parts, locale=locale)
    return format_skeleton(parts, of, locale=locale)


@lru_cache(maxsize=8)
def _decimal_sign(locale: str) -> str:
    if locale.startswith("en"):  # so that to check sheets in English loads no tables
        return "."
    from babel.numbers import get_decimal_symbol

    return get_decimal_symbol(locale)
