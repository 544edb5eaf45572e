"""A text of a student's folder without the ids of other students."""

import re
from collections.abc import Sequence
from typing import Any

from reportgen.sheets.tree import Loc, parse

SOMEBODY = "another-student"
"""What stands in the place of another student's id."""


def without_others(raw: bytes, others: Sequence[str]) -> bytes:
    """The text with SOMEBODY in the place of each id of `others`: where a sheet names whom it compares with or shares
    with, in paths, and, where the id has a hyphen and so can be no other word, everywhere. What is no text stays."""
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError:
        return raw
    text = _without_named(text, set(others))
    for other in sorted(others, key=len, reverse=True):
        around = r"(?<=/){}(?=/)" if "-" not in other else r"(?<![a-z0-9-]){}(?![a-z0-9-])"
        text = re.sub(around.format(re.escape(other)), SOMEBODY, text)
    return text.encode()


def _without_named(text: str, others: set[str]) -> str:
    """The text without the ids under `shares_with` and `compare`, put out at the places that the parser gives."""
    tree = parse(text, "")
    written = tree.data if isinstance(tree.data, dict) else {}
    compare, shares = written.get("compare"), written.get("shares_with")
    named: list[tuple[Loc, Any]] = []
    if isinstance(compare, dict):
        named.append((("compare", "student"), compare.get("student")))
    if isinstance(shares, list):
        named += [(("shares_with", number), other) for number, other in enumerate(shares)]
    lines = text.split("\n")
    for loc, other in reversed(named):  # from the end, so that places in a line stay true
        line, column = (number - 1 for number in tree.place(loc))
        if other in others and lines[line].find(other, column) in (column, column + 1):
            head, tail = lines[line][:column], lines[line][column:]
            lines[line] = head + tail.replace(other, SOMEBODY, 1)
    return "\n".join(lines)
