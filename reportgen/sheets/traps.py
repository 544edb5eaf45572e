"""What goes wrong in YAML, told by name: values that readers take for something else, and text that is no YAML."""

import re
from collections.abc import Iterator
from decimal import Decimal

import yaml

from reportgen.sheets.problems import Problem

_SEXAGESIMAL = re.compile(r"^[-+]?\d[\d_]*(:[0-5]?\d)+(\.\d*)?$")
_LEADING_ZERO = re.compile(r"^[-+]?0\d+(\.\d*)?$")
_OTHER_BASE = re.compile(r"^[-+]?0[xXoObB][0-9a-fA-F_]+$")
_EXPONENT = re.compile(r"^[-+]?(\d+\.?\d*|\.\d+)[eE][-+]?\d+$")
_UNDERSCORES = re.compile(r"^[-+]?\d[\d_]*_[\d_]*(\.\d*)?$")
_ODD = re.compile("|".join(p.pattern for p in (_SEXAGESIMAL, _LEADING_ZERO, _OTHER_BASE, _EXPONENT, _UNDERSCORES)))

_LONGEST = 40
"""No number that a person writes is longer, and no longer text is worth a look."""
_FIRST_SIGNS = frozenset("0123456789+-.yYnNoO")
"""A text that begins with another sign is no trap: most texts are passed over at their first."""


def trap_in(plain: str) -> tuple[str, str] | None:
    """What YAML readers make of an unquoted text that looks like something else: (what is wrong, how to mend it).

    >>> trap_in("no")[0]
    "YAML reads no as false"
    >>> trap_in("7-iron") is None
    True
    """
    if len(plain) > _LONGEST or plain[:1] not in _FIRST_SIGNS:
        return None
    if plain.lower() in ("yes", "no", "on", "off"):
        truth = "true" if plain.lower() in ("yes", "on") else "false"
        return f"YAML reads {plain} as {truth}", f'Write {truth}, or "{plain}" in quotes if you mean the word.'
    if not _ODD.match(plain):
        return None
    if _SEXAGESIMAL.match(plain):
        return (
            f"YAML reads {plain} as a number of base 60",
            f'Write it in one unit (90 min), or "{plain}" in quotes if you mean a time of day or a text.',
        )
    if _LEADING_ZERO.match(plain) or _OTHER_BASE.match(plain):
        bare = plain.lstrip("+-").lstrip("0") or "0"
        minus = "-" if plain.startswith("-") else ""
        mend = f"Write {minus}{bare}, or" if bare.replace(".", "").isdigit() else "Write a decimal number, or"
        return (
            f"YAML readers differ on {plain}: some take the leading zero for another base",
            f'{mend} "{plain}" in quotes if you mean a text.',
        )
    if _EXPONENT.match(plain):
        number = _written_out(plain)
        return f"YAML reads {plain} as text, not as a number", f'Write {number}, or "{plain}" in quotes for a text.'
    return f"YAML readers differ on {plain}", f"Write {plain.replace('_', '')}."


def _written_out(plain: str) -> str:
    """`1e3` as 1000, `2.5e-3` as 0.0025."""
    number = Decimal(plain)
    if abs(number.adjusted()) > 15:
        return "it out"
    digits = f"{number:f}"
    return digits.rstrip("0").rstrip(".") if "." in digits else digits


_UNREADABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What YAML 1.1 does not let stand in a text."""
_MISSING_SPACE = re.compile(r"^\s*(?:- )?[\w-]+:[^\s:/]")


def syntax_problem(error: yaml.YAMLError, text: str, path: str, offset: int) -> Problem:
    """The problem behind a parser's complaint, at its line plus `offset`; the usual slips are named."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    if isinstance(error, yaml.reader.ReaderError) and (sign := _UNREADABLE.search(text)):
        before = text[: sign.start()].splitlines() or [""]
        if text[: sign.start()].endswith(("\n", "\r")):
            before.append("")
        wrong = f"the sign U+{ord(sign[0]):04X} cannot stand in YAML"
        return Problem(path, len(before) + offset, len(before[-1]) + 1, wrong, "Delete it and type the line again.")
    lines = text.splitlines()
    at = min(mark.line, max(len(lines) - 1, 0)) if mark is not None else 0
    column = mark.column + 1 if mark is not None else 1
    told = str(getattr(error, "problem", None) or getattr(error, "reason", None) or "it cannot be read")
    for back in (at, at - 1):
        if 0 <= back < len(lines):
            written = lines[back]
            indent = written[: len(written) - len(written.lstrip())]
            if "\t" in indent:
                return Problem(
                    path,
                    back + 1 + offset,
                    indent.index("\t") + 1,
                    "a tab stands in front of the text",
                    "Indent with spaces.",
                )
            if _MISSING_SPACE.match(written) and "\n" not in written and '"' not in written:
                return Problem(
                    path,
                    back + 1 + offset,
                    written.index(":") + 2,
                    "a space is missing after the colon",
                    "Write key: value.",
                )
    for place, wrong, mend in _named_slips(error, told, lines, at, column):
        return Problem(path, place[0] + 1 + offset, place[1], wrong, mend)
    if "mapping values are not allowed" in told and lines[at].count(":") == 1:
        wrong = "this line stands further in than the one above it"
        return Problem(path, at + 1 + offset, column, wrong, "Give it the indentation of the keys around it.")
    if "mapping values are not allowed" in told:
        return Problem(
            path, at + 1 + offset, column, "a second colon stands in this line", "Put the text that holds it in quotes."
        )
    return Problem(
        path, at + 1 + offset, column, f"this is not YAML: {told}",
        "Look at this line and the one above it: a colon, a quote, a bracket or the indentation is off.",
    )  # fmt: skip


def _named_slips(
    error: yaml.YAMLError, told: str, lines: list[str], at: int, column: int
) -> Iterator[tuple[tuple[int, int], str, str]]:
    """((line from 0, column from 1), what is wrong, how to mend it) of a slip that has a plain name."""
    line = lines[at] if at < len(lines) else ""
    here = line[column - 1 : column]
    context = str(getattr(error, "context", None) or "")
    opened = getattr(error, "context_mark", None)
    begun = (opened.line, opened.column + 1) if opened is not None else (at, column)
    if "cannot start any token" in told and here in ("%", "@", "`"):
        yield (at, column), f"a text cannot begin with {here}", f'Put it in quotes: "{here}".'
    elif "alphabetic or numeric" in told and context.endswith(("alias", "anchor")):
        sign = lines[begun[0]][begun[1] - 1]
        yield begun, f"a text cannot begin with {sign}", f'Put it in quotes: "{sign}".'
    elif "directive" in context:
        yield begun, "a line cannot begin with %", "Put the text that holds it in quotes, or begin the line with a key."
    elif "quoted scalar" in context and "end of stream" in told:
        yield begun, "the quote that opens here is not closed", "Close it, or take it out."
    elif "flow" in context and re.search("expected ',' or", told):
        inside = (at, column) if line.strip() and (at, column) > begun and at == begun[0] else begun
        wrong = "the bracket that opens here is not closed" if inside == begun else "a comma or a closing bracket lacks"
        yield inside, wrong, "Close the bracket, and put a comma between its items."
    elif "flow" in context and "node content" in told and here == ",":
        yield (at, column), "nothing stands before this comma", "Write the item, or take out the comma."
    elif "expected key" in told and line[: column - 1].rstrip().endswith(('"', "'", "]", "}")):
        yield (at, column), "the text goes on after a closing quote or bracket", "Put the whole text in quotes."
    for back in (at, at - 1):
        space = lines[back].find("\u00a0") if 0 <= back < len(lines) else -1
        if space >= 0:
            yield (back, space + 1), "a no-break space stands here", "Type an ordinary space in its place."
