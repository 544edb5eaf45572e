"""What a style of an academy's own theme loads: nothing but what is published with the pages, or lies in the style."""

import re
from collections.abc import Iterable, Iterator
from typing import Any

from reportgen.sheets.problems import Problem, shown

_KNOWN = re.compile(
    r"faces/[a-z-]+\.woff2|(?:face|chart|photo|code):[\w.-]+|data:(?:image|font)/\S.*|#[\w-]+", re.DOTALL
)
"""On pages the faces, on paper what the program hands to the printer, and what needs no loading."""
_LOADING = frozenset({"src", "image", "image-set", "-webkit-image-set", "cross-fade", "-webkit-cross-fade"})
"""Functions that load what they are given, in forms that need no url()."""


def style_problems(text: str, path: str) -> list[Problem]:
    """A problem for each thing in a style that a browser would load from elsewhere, as for what cannot be read."""
    import tinycss2

    return list(_problems(tinycss2.parse_component_value_list(text, skip_comments=True), path))


def _problems(tokens: Iterable[Any], path: str) -> Iterator[Problem]:
    for token in tokens:
        if fault := _fault(token):
            yield Problem(path, token.source_line, token.source_column, *fault)
        else:
            for inside in (getattr(token, "arguments", None), getattr(token, "content", None)):
                yield from _problems(inside or (), path)


def _fault(token: Any) -> tuple[str, str] | None:
    if token.type == "error":
        return "the style cannot be read from here on", "Look for a quote or a bracket that is not closed."
    if token.type == "at-keyword" and token.lower_value == "import":
        return "@import loads a style from elsewhere", "Copy its rules into this file."
    if token.type == "function" and token.lower_name in _LOADING:
        return f"{token.lower_name}() can load a picture from elsewhere", "Write url(...) with what lies in the style."
    address = _address(token)
    if address is None or _KNOWN.fullmatch(address):
        return None
    wrong = f"the style loads {shown(address)}, which is not published with the pages"
    return wrong, "Take it out, or write it into the style as data:image/... or data:font/..."


def _address(token: Any) -> str | None:
    """What a token loads; None where it is nothing that does."""
    if token.type == "url":
        return str(token.value)
    if token.type == "function" and token.lower_name == "url":
        return " ".join(str(part.value) for part in token.arguments if part.type == "string")
    return None
