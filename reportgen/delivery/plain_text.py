"""Plain text that reads well: Markdown without its marks, every line at most 72 columns wide."""

import re
import textwrap
import unicodedata
from itertools import groupby

COLUMNS = 72

_ITEM = re.compile(r"^\s*(?:[-*+•●▲▼◇·]|\d+[.)]) +")
_HEADING = re.compile(r"^#{1,6} +")


_BULLET = re.compile(r"^([*+])(?= )")
_LINK = re.compile(r"!?\[([^\]\n]+)\]\(<?([^)\s>]*)>?\)")
_EMPHASIS = re.compile(r"(?<![\w*\\])(\*{1,3})(?![\s*])(.+?)(?<![\s*\\])\1(?![\w*])")
_UNDERLINED = re.compile(r"(?<![\w\\])(_{1,3})(?![\s_])(.+?)(?<![\s_\\])\1(?!\w)")
_CODE = re.compile(r"(`+)(.+?)\1")
_ESCAPED = re.compile(r"\\([!-/:-@\[-`{-~])")


def flowed(markdown: str) -> str:
    """A Markdown text with each paragraph and each item of a list on one line, without the marks of headings, emphasis,
    code and links; an address stands behind the words that lead to it. An asterisk that marks nothing stays."""
    blocks = [list(lines) for some, lines in groupby(markdown.splitlines(), lambda line: bool(line.strip())) if some]
    return "\n\n".join("\n".join(map(_unmarked, _joined(lines))) for lines in blocks)


def _unmarked(line: str) -> str:
    line = _LINK.sub(lambda link: link[1] if link[0][0] == "!" else f"{link[1]} ({link[2]})", _BULLET.sub("-", line))
    for mark in (_EMPHASIS, _UNDERLINED, _CODE):
        while (bare := mark.sub(r"\2", line)) != line:
            line = bare
    return _ESCAPED.sub(r"\1", line)


def _joined(lines: list[str]) -> list[str]:
    joined: list[str] = []
    breaks = True
    for line in lines:
        text = line.strip()
        heading = bool(_HEADING.match(text))
        if breaks or heading or _ITEM.match(line):
            joined.append(_HEADING.sub("", text).removesuffix("\\"))
        else:
            joined[-1] += " " + text.removesuffix("\\")
        breaks = heading or line.endswith(("  ", "\\"))
    return joined


def wrapped(text: str) -> str:
    """`text` with its long lines broken between words; an item of a list hangs under its first word.

    The address of a page is never broken. What a terminal would obey is taken out, and of several empty lines in a row
    one stays.
    """
    lines: list[str] = []
    for line in text.splitlines():
        clean = "".join(sign for sign in line if sign == "\t" or unicodedata.category(sign) != "Cc").rstrip()
        item = _ITEM.match(clean)
        indent = len(item[0]) if item else len(clean) - len(clean.lstrip())
        lines += textwrap.wrap(
            clean, COLUMNS, subsequent_indent=" " * indent, break_long_words=False, break_on_hyphens=False
        ) or [""]
    kept = [line for number, line in enumerate(lines) if line or (number and lines[number - 1])]
    return "\n".join(kept).strip("\n") + "\n"
