"""What a text of a sheet may hold besides its length: more of it than this, and a page or a recap takes minutes to lay
out, or loses a part of the text."""

import re
from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

from reportgen.records.bounds import BLOCKS, INDENT, LINES, LONG_WORDS, LONGEST_WORD, MARKS, RARE, ROW, WORD

_SPACE = " \t\n\r\x0b\x0c\x85\u1680\u2000-\u2006\u2008-\u200b\u2028\u2029\u3000"
"""Where a line can break; it cannot at the spaces that are left out here, the no-break ones."""
_WIDE = "\u2e80-\u9fff\ua000-\ua4cf\uac00-\ud7ff\uf900-\ufaff\uff00-\uffef\U00020000-\U0003ffff"
"""Signs between which a line can break without a space, as in Chinese."""
_LONG_WORD = re.compile(f"[^{_SPACE}{_WIDE}]{{{WORD + 1},}}")
_LONG_ROW = re.compile(f"[^{_SPACE}]{{{ROW + 1},}}")
_TARGET = re.compile(r"\]\([^\s()]*\)")
"""Where a link leads, which no page prints."""
_MARK = re.compile(r"[*_\[\]`<]")
_ITEM = re.compile(r"[ \t]*(?:[-*+>]|\d{1,9}[.)])(?=[ \t>]|$)")
_RARE = re.compile("[\u200b-\u200f\u202a-\u202e\u2060-\u2069\u2190-\u2bff\ufe00-\ufe0f\U0001f000-\U0001faff]")


class TextFault(NamedTuple):
    """What is wrong at a place of a text, counted from its beginning, and how to mend it."""

    at: int
    wrong: str
    mend: str


def text_faults(text: str) -> Iterator[TextFault]:
    """Each kind of fault once, where it is first one."""
    yield from _words(text)
    if (at := _nth("\n", text, LINES)) is not None:
        yield TextFault(at, f"the text has more than {LINES} lines", "Make it shorter.")
    if (at := _nth(_MARK, text, MARKS)) is not None:
        wrong = f"the text has more than {MARKS} signs of emphasis, links and code (* _ [ ] ` <)"
        yield TextFault(at, wrong, "Take some of them out.")
    if (at := _nth(_RARE, text, RARE)) is not None:
        wrong = f"the text has more than {RARE} pictographs and marks of direction"
        yield TextFault(at, wrong, "Take some of them out.")
    if "\n" in text or _ITEM.match(text):
        yield from _blocks(text)


def _words(text: str) -> Iterator[TextFault]:
    if not (found := _LONG_WORD.search(text) or _LONG_ROW.search(text)):
        return
    mend = "Put spaces into it; write a long address as a link: [its name](https://...)."
    plain = _TARGET.sub(lambda target: f"]({' ' * (len(target[0]) - 3)})", text)
    long = list(_LONG_WORD.finditer(plain))
    for found in (*(word for word in long if len(word[0]) > LONGEST_WORD), *_LONG_ROW.finditer(plain)):
        most = LONGEST_WORD if _LONG_WORD.fullmatch(found[0]) else ROW
        wrong = f"{len(found[0])} signs stand here without a space, more than {most}"
        yield TextFault(found.start(), wrong, mend)
        return
    if len(long) > LONG_WORDS:
        wrong = f"the text has more than {LONG_WORDS} words of over {WORD} signs"
        yield TextFault(long[LONG_WORDS].start(), wrong, mend)


def _blocks(text: str) -> Iterator[TextFault]:
    """Whether quotes and lists stand deeper in each other than is printed, and whether there are too many of them."""
    at = blocks = 0
    for line in text.split("\n"):
        bare = line.lstrip(" \t")
        depth = (len(line) - len(bare)) // 2
        while depth <= INDENT and (item := _ITEM.match(bare)):
            bare, depth, blocks = bare[item.end() :], depth + 1, blocks + 1
        if depth > INDENT and bare:
            yield TextFault(at, f"quotes and lists stand more than {INDENT} deep", "Take out some of the levels.")
            return
        if blocks > BLOCKS:
            yield TextFault(at, f"the text has more than {BLOCKS} list items and quotes", "Make it shorter.")
            return
        at += len(line) + 1


def _nth(wanted: "str | re.Pattern[str]", text: str, most: int) -> int | None:
    """Where in the text the one stands that is too many; None where there are no more than `most`."""
    if len(text) <= most or (isinstance(wanted, str) and text.count(wanted) < most):
        return None
    found = re.finditer(wanted, text)
    return next((match.start() for match in islice(found, most, None)), None)
