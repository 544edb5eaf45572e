"""What goes wrong in YAML, told by name: values that readers take for something else, and text that is no YAML."""

import re

import yaml

from reportgen.sheets.problems import Problem

_SEXAGESIMAL = re.compile(r"^[-+]?\d[\d_]*(:[0-5]?\d)+(\.\d*)?$")
_LEADING_ZERO = re.compile(r"^[-+]?0\d+(\.\d*)?$")
_OTHER_BASE = re.compile(r"^[-+]?0[xXoObB][0-9a-fA-F_]+$")
_EXPONENT = re.compile(r"^[-+]?(\d+\.?\d*|\.\d+)[eE][-+]?\d+$")
_UNDERSCORES = re.compile(r"^[-+]?\d[\d_]*_[\d_]*(\.\d*)?$")


def trap_in(plain: str) -> tuple[str, str] | None:
    """What YAML readers make of an unquoted text that looks like something else: (what is wrong, how to mend it).

    >>> trap_in("no")[0]
    "YAML reads no as false"
    >>> trap_in("7-iron") is None
    True
    """
    if plain.lower() in ("yes", "no", "on", "off"):
        truth = "true" if plain.lower() in ("yes", "on") else "false"
        return f"YAML reads {plain} as {truth}", f'Write {truth}, or "{plain}" in quotes if you mean the word.'
    if _SEXAGESIMAL.match(plain):
        return (
            f"YAML reads {plain} as a number of base 60",
            f'Write it in one unit (90 min), or "{plain}" in quotes if you mean a text.',
        )
    if _LEADING_ZERO.match(plain) or _OTHER_BASE.match(plain):
        bare = plain.lstrip("+-").lstrip("0") or "0"
        mend = f"Write {bare}, or" if bare.replace(".", "").isdigit() else "Write a decimal number, or"
        return (
            f"YAML readers differ on {plain}: some take the leading zero for another base",
            f'{mend} "{plain}" in quotes if you mean a text.',
        )
    if _EXPONENT.match(plain):
        number = f"{float(plain):f}".rstrip("0").rstrip(".") if abs(float(plain)) < 1e15 else "it out"
        return f"YAML reads {plain} as text, not as a number", f'Write {number}, or "{plain}" in quotes for a text.'
    if _UNDERSCORES.match(plain):
        return f"YAML readers differ on {plain}", f"Write {plain.replace('_', '')}."
    return None


_MISSING_SPACE = re.compile(r"^\s*(?:- )?[\w-]+:[^\s:/]")


def syntax_problem(error: yaml.YAMLError, text: str, path: str, offset: int) -> Problem:
    """The problem behind a parser's complaint, at its line plus `offset`; the usual slips are named."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
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
    if "cannot start any token" in told and at < len(lines) and lines[at][column - 1 : column] in ("%", "@", "`"):
        sign = lines[at][column - 1]
        return Problem(
            path, at + 1 + offset, column, f"a text cannot begin with {sign}", f'Put it in quotes: "{sign}".'
        )
    if "mapping values are not allowed" in told:
        return Problem(
            path, at + 1 + offset, column, "a second colon stands in this line", "Put the text that holds it in quotes."
        )
    if "control characters" in told or "special characters" in told:
        return Problem(
            path,
            at + 1 + offset,
            column,
            "a character that cannot stand in YAML is here",
            "Delete it and type the line again.",
        )
    return Problem(
        path, at + 1 + offset, column, f"this is not YAML: {told}",
        "Look at this line and the one above it: a colon, a quote, a bracket or the indentation is off.",
    )  # fmt: skip
