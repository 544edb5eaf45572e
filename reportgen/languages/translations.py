"""Whether a translation fills the places of its message and brings no markup of its own: a catalogue can come from
anybody, and what it says stands in pages."""

import re

_PLACE = re.compile(r"%\(\w+\)s|\{\w+\}|%%")
_TAG = re.compile(r"</?[a-z][^>]*>")
_MARKUP = re.compile(r'<[a-z/!?]|"', re.IGNORECASE)
"""What begins a tag or ends the value of an attribute."""


def fault_of(message: tuple[str, ...], translated: str) -> str | None:
    """What is wrong with a translation of a message (of its forms for one and for many), if anything."""
    known = {found for form in message for found in (*_PLACE.findall(form), *_TAG.findall(form))}
    left = _without(translated, known)
    if "%(" in left or (any("{" in place for place in known) and re.search(r"[{}]", left)):
        return "it has a place that its message does not have"
    markup = _MARKUP.search(left)
    if markup and markup[0] not in _without(" ".join(message), known):
        return f"it has {markup[0]}, which its message does not have"
    return None


def _without(text: str, known: set[str]) -> str:
    for part in sorted(known, key=len, reverse=True):
        text = text.replace(part, "")
    return text
