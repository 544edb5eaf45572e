"""One value of a sheet changed, everything else left as its writer left it: remarks, order, quotes, empty lines.

Scalars are kept as the signs that stand there (`1.50`, `no`, `17:00`), since the schema alone says what they mean.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from io import StringIO
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import ScalarNode
from ruamel.yaml.representer import RoundTripRepresenter
from ruamel.yaml.resolver import VersionedResolver
from ruamel.yaml.scalarstring import DoubleQuotedScalarString, LiteralScalarString

from reportgen.errors import ReportgenError
from reportgen.sheets.tree import Loc

Written = str | int | float | bool | None | Sequence["Written"] | Mapping[str, "Written"]
"""What a page sends; None takes out what is there."""
Key = str | int | None


class UnreadableSheetError(ReportgenError):
    """The text is no YAML by now, so no value of it can be found; an editor is to mend it first."""


_PLAIN = re.compile(
    r"-?[0-9]+(\.[0-9]+)?|[0-9]{4}-[0-9]{2}-[0-9]{2}|[0-9]+-[A-Za-z]+|[A-Za-z][A-Za-z0-9-]*( [A-Za-z0-9-]+)*"
)
"""What needs no quotes: numbers, days, words."""
_ENDS_A_LINE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff]")
"""Signs that no block of text can hold: some end a line for a reader of YAML."""
_NOT_A_TEXT = {"y", "n", "yes", "no", "on", "off", "true", "false", "null"}
_NULL = "tag:yaml.org,2002:null"
_NOTHING = "\ue000"
"""Stands for an empty value while a sheet is dumped, where the library would write null; no sheet can hold it."""


class _AsWritten(VersionedResolver):
    """Takes every plain scalar for the text that it is, and none at all for nothing."""

    versioned_resolver = {"": [(_NULL, re.compile("^$"))]}  # noqa: RUF012  as in the library


class _NothingIsNothing(RoundTripRepresenter):
    """Writes nothing where nothing was written."""

    def represent_none(self, data: Any) -> ScalarNode:
        return self.represent_scalar("tag:yaml.org,2002:str", _NOTHING)


_NothingIsNothing.add_representer(type(None), _NothingIsNothing.represent_none)


def changed(text: str, loc: Loc, value: Written) -> str:
    """The sheet with `value` at `loc`, a path of keys and numbers of items. The item one beyond the last is added; a
    value of None takes the key or the item out, and what has become empty around it.

    Lines of other keys stay byte for byte. Raises UnreadableSheetError where the text is no sheet, KeyError where `loc`
    leads through something that is not there.
    """
    yaml = _round_trip()
    try:
        sheet = yaml.load(text)
    except (YAMLError, ValueError) as error:
        raise UnreadableSheetError("The sheet is not readable as it stands. Mend it in an editor first.") from error
    if sheet is None:
        sheet = CommentedMap()
    if not isinstance(sheet, CommentedMap) or not loc:
        raise UnreadableSheetError("The sheet is not a block of key: value lines. Mend it in an editor first.")
    before = _blocks(text, sheet)
    _put(sheet, loc, value)
    after = _dumped(yaml, sheet)
    if loc[0] not in before and loc[0] in sheet:  # alone: remarks at the end of the sheet would follow it
        after |= _dumped(yaml, CommentedMap({loc[0]: sheet[loc[0]]}))
    return "".join(_put_together(before, after, loc[0]))


def _dumped(yaml: YAML, sheet: CommentedMap) -> dict[Key, "_Block"]:
    out = StringIO()
    yaml.dump(sheet, out)
    text = out.getvalue().replace(_NOTHING, "")
    return _blocks(text, yaml.load(text) or CommentedMap())


@dataclass(frozen=True)
class _Block:
    """The lines of one key of a sheet, and the empty ones and remarks at the left margin that follow them."""

    lines: str
    below: str


def _put_together(before: Mapping[Key, _Block], after: Mapping[Key, _Block], key: Key) -> Iterator[str]:
    """The text from the lines that stood there, with those of `key` as they are now."""
    for name in {**before, **after}:
        block = after.get(name) if name == key else before.get(name)
        below = before[name].below if name in before else ""
        yield from (_ended(part) for part in (block.lines if block else "", below) if part)


def _ended(lines: str) -> str:
    return lines if lines.endswith("\n") else f"{lines}\n"


def _round_trip() -> YAML:
    yaml = YAML(typ="rt")
    yaml.Resolver = _AsWritten
    yaml.Representer = _NothingIsNothing
    yaml.preserve_quotes = True
    yaml.width = 1_000_000
    yaml.indent(mapping=2, sequence=4, offset=2)
    return yaml


def _blocks(text: str, sheet: CommentedMap) -> dict[Key, _Block]:
    """Each key of a sheet with its lines, and under None what stands before the first."""
    lines = text.splitlines(keepends=True)
    starts: list[tuple[int, Key]] = [(0, None)]
    starts += sorted((sheet.lc.key(key)[0], key) for key in sheet)
    found = {}
    for (start, key), (following, _) in zip(starts, [*starts[1:], (len(lines), None)], strict=True):
        end = following
        while end > start and (not lines[end - 1].strip() or lines[end - 1].startswith("#")):
            end -= 1
        found[key] = _Block("".join(lines[start:end]), "".join(lines[end:following]))
    return found


def _put(sheet: CommentedMap, loc: Loc, value: Written) -> None:
    *path, last = loc
    holds: list[tuple[Any, Any]] = []
    at: Any = sheet
    for key, following in zip(path, loc[1:], strict=True):
        holds.append((at, key))
        inner = _inside(at, key)
        if inner is None and value is None:
            return
        if not isinstance(inner, (CommentedMap, CommentedSeq)):
            inner = CommentedSeq() if isinstance(following, int) else CommentedMap()
            _over_lines(at)
            _set(at, key, inner)
        at = inner
    if value is not None:
        if isinstance(value, Mapping) and last not in at:
            _over_lines(at)
        _set(at, last, _as_yaml(value))
        return
    _take_out(at, last)
    for around, key in reversed(holds):
        if len(around[key]) == 0:
            _take_out(around, key)


def _over_lines(at: Any) -> None:
    """A row of one line, in which something begins that has keys of its own, goes on over several lines."""
    if isinstance(at, CommentedMap):
        at.fa.set_block_style()


def _inside(at: Any, key: Any) -> Any:
    if isinstance(at, CommentedSeq):
        if not isinstance(key, int) or not 0 <= key <= len(at):
            raise KeyError(key)
        return at[key] if key < len(at) else None
    return at.get(key)


def _set(at: Any, key: Any, value: Any) -> None:
    if not isinstance(at, CommentedSeq):
        at[key] = value
    elif key == len(at):
        at.append(value)
    elif 0 <= key < len(at):
        at[key] = value
    else:
        raise KeyError(key)


def _take_out(at: Any, key: Any) -> None:
    if isinstance(at, CommentedSeq):
        if not 0 <= key < len(at):
            raise KeyError(key)
        del at[key]
    else:
        at.pop(key, None)


def _as_yaml(value: Written) -> Any:
    """A value as it is written into a sheet: rows in one line each, long texts as blocks, numbers as their signs."""
    if isinstance(value, str):
        if "\n" in value and not _ENDS_A_LINE.search(value):
            return LiteralScalarString("\n".join(line.rstrip() for line in value.strip("\n").split("\n")) + "\n")
        return (
            value if _PLAIN.fullmatch(value) and value.lower() not in _NOT_A_TEXT else DoubleQuotedScalarString(value)
        )
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return f"{value:g}" if isinstance(value, float) else str(value)
    if isinstance(value, Mapping):
        row = CommentedMap({key: _as_yaml(inner) for key, inner in value.items() if inner is not None})
        row.fa.set_flow_style()
        return row
    rows = CommentedSeq([_as_yaml(inner) for inner in value or ()])
    if not any(isinstance(row, CommentedMap) for row in rows):
        rows.fa.set_flow_style()
    return rows
