"""Apostrophes and quotation marks as they are printed: people type them straight, a reader is shown curly ones."""

import re

_STRAIGHT = re.compile(r"""
    (?P<kept> ```.*?``` | `[^`]*` | </?[A-Za-z!][^>]*> | \]\([^)]*\) | [^\s\[\]()]*(?:@|://)[^\s)]* )
  | (?P<double> ") | (?P<single> ')
""", re.VERBOSE | re.DOTALL)  # fmt: skip
"""What may be a mark to curl; `kept` is code, a tag, the target of a link or an address, in which nothing is curled."""

_DOUBLE = {"de": ("„", "“"), "fr": ("«\u00a0", "\u00a0»")}
_SINGLE = {"de": ("‚", "‘"), "fr": ("‹\u00a0", "\u00a0›")}
_ENGLISH = (("“", "”"), ("‘", "’"))
_OPENS_AFTER = frozenset(" \u00a0\n\t([{—–-/«„“‘‚")
APOSTROPHE = "’"


def quotes_of(language: str) -> tuple[tuple[str, str], tuple[str, str]]:
    """The double and the single marks of a language, each an opening and a closing one with its space."""
    code = language.partition("_")[0]
    return (_DOUBLE[code], _SINGLE[code]) if code in _DOUBLE else _ENGLISH


def curled(text: str, language: str = "en") -> str:
    """The text with the apostrophes and quotation marks of its language.

    Code between backticks, tags, targets of links and addresses stay as they are. So does a mark behind a digit that
    closes nothing: `6'` and `11"` are feet and inches.
    """
    if "'" not in text and '"' not in text:
        return text
    double, single = quotes_of(language)
    parts: list[str] = []
    done, in_double, in_single = 0, False, False
    for found in _STRAIGHT.finditer(text):
        parts.append(text[done : found.start()])
        done = found.end()
        before, after = text[: found.start()][-1:], text[done : done + 1]
        opens = (not before or before in _OPENS_AFTER) and bool(after) and not after.isspace()
        if found["kept"]:
            parts.append(found[0])
        elif found["double"]:
            measure = before.isdigit() and not in_double
            parts.append('"' if measure else double[not opens])
            in_double = in_double if measure else opens
        elif opens and _closed(text, done):
            parts.append(single[0])
            in_single = True
        elif in_single and not after.isalnum():
            parts.append(single[1])
            in_single = False
        else:
            parts.append("'" if before.isdigit() and not after.isalpha() else APOSTROPHE)
    return "".join((*parts, text[done:]))


def _closed(text: str, start: int) -> bool:
    """Whether a single mark that opens is closed behind a word further on; otherwise it is an apostrophe: ’tis."""
    return re.search(r"[^\s'\"]'(?!\w)", text[start:]) is not None
