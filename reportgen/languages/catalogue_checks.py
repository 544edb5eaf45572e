"""What is wrong in a message catalogue, before a sentence is said by it."""

import codecs
import re
from collections.abc import Iterator, Sequence
from gettext import c2py
from typing import TYPE_CHECKING, NamedTuple

from reportgen.languages.translations import fault_of

if TYPE_CHECKING:
    from babel.messages.catalog import Catalog, Message


class Fault(NamedTuple):
    """What is wrong in a line of a catalogue, and how to mend it."""

    line: int
    wrong: str
    mend: str


MOST_FORMS = 6
"""No language of the CLDR has more plural forms."""
_COUNTS = (*range(1001), 10_000, 100_000, 1_000_000)
"""The counts for which a plural rule must have a form."""
_CHARSET = re.compile(rb"charset=([\w.:-]+)", re.IGNORECASE)
_FORMS = re.compile(r"nplurals\s*=\s*(\d*)")
_PLACES = re.compile(r"\{[^{}]*\}|[{}]|%\(\w*\)\w?|%%|%")
_IN_BRACES = re.compile(r"\{\w+\}")
_SIGNS = re.compile(r"[{}%<\"]")
"""What places, tags and attributes begin or end with."""
_COUNTED = frozenset(("{count}", "%(num)s", "%(count)s"))
"""Places that a form for one or two things can leave out."""


def decoded(raw: bytes) -> tuple[str, Fault | None]:
    """The text of a catalogue, without a byte order mark, in the charset that its header names, UTF-8 where it names
    none."""
    raw = raw.removeprefix(codecs.BOM_UTF8)
    named = _CHARSET.search(raw[:4096])
    charset = named[1].decode() if named else "utf-8"
    header = raw[: named.start()].count(b"\n") + 1 if named else 1
    try:
        return codecs.decode(raw, charset), None
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        wrong = f"the byte 0x{raw[error.start]:02x} is not {charset}"
        return "", Fault(line, wrong, "Save the file as UTF-8, and write charset=utf-8 into its header.")
    except Exception:
        return "", Fault(
            header, f"the charset {charset} is not known", "Save the file as UTF-8 and write charset=utf-8."
        )


def forms_fault(text: str) -> Fault | None:
    """What is wrong with the number of plural forms: a reader makes room for so many in each message."""
    found = _FORMS.search(text)
    if found is None or 1 <= int(found[1][:9] or 0) <= MOST_FORMS:
        return None
    line = text[: found.start()].count("\n") + 1
    return Fault(line, "the number of plural forms (nplurals) cannot be right", f"Write 1 to {MOST_FORMS}.")


def faults_in(catalogue: "Catalog", text: str) -> Iterator[Fault]:
    """What would go wrong in saying the messages of a catalogue that was read."""
    if (fault := _rule_fault(catalogue)) is not None:
        line = text[: text.find("Plural-Forms")].count("\n") + 1 if "Plural-Forms" in text else 1
        yield Fault(line, *fault)
    for message in catalogue:
        if message.id and any(_forms(message.string)) and not message.fuzzy:
            yield from _in_message(message, catalogue.num_plurals)


def _rule_fault(catalogue: "Catalog") -> tuple[str, str] | None:
    mend = "Write Plural-Forms as your language has them, as in nplurals=2; plural=(n != 1);"
    try:
        rule = c2py(catalogue.plural_expr)
        chosen = {int(rule(count)) for count in _COUNTS}
    except Exception as error:
        return f"the plural rule fails ({error})", mend
    if not 0 <= min(chosen) <= max(chosen) < catalogue.num_plurals:
        return f"the plural rule asks for form {max(chosen)}, and there are {catalogue.num_plurals}", mend
    return None


def _in_message(message: "Message", plurals: int) -> Iterator[Fault]:
    """The faults of a translated message."""
    line, english, forms = int(message.lineno or 1), _forms(message.id), _forms(message.string)
    if len(english) > 1 and not (all(forms) and len(forms) == plurals):
        yield Fault(line, f"a message has not all of its {plurals} plural forms", "Translate each of msgstr[0], ...")
        return
    if not any(_SIGNS.search(form) for form in (*english, *forms)):
        return
    wanted = set().union(*(_PLACES.findall(form) for form in english))
    needed = set(_PLACES.findall(english[-1])) - (_COUNTED if len(english) > 1 else set())
    literal = _literal(message, english)
    for form in forms:
        found = {place for place in _PLACES.findall(form) if place[0] not in literal}
        if more := sorted(found - wanted):
            yield Fault(line, f"the translation has {more[0]}, and its message has not", _as_in(wanted))
        elif less := sorted(place for place in needed - found if place[0] not in literal):
            yield Fault(line, f"the translation lacks {less[0]}, which its message has", _as_in(wanted))
        elif wrong := fault_of(tuple(english), form):
            yield Fault(line, f"the translation of {english[0][:40]!r} is wrong: {wrong}", _as_in(wanted))


def _literal(message: "Message", english: Sequence[str]) -> set[str]:
    """The signs that begin no place in a message: braces where it has no place in braces, as in an example of a sheet,
    and a percent sign outside templates."""
    braces = len(english) == 1 and not _IN_BRACES.search(english[0])
    elsewhere = bool(message.locations) and not any(place.startswith("themes/") for place, _ in message.locations)
    return {*("{}" if braces else ""), *("%" if elsewhere else "")}


def _forms(written: str | Sequence[str] | None) -> Sequence[str]:
    return (written,) if isinstance(written, str) else written or ()


def _as_in(wanted: set[str]) -> str:
    return f"Keep the places as they are: {', '.join(sorted(wanted))}." if wanted else "Take it out."
