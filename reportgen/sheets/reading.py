"""A file that a person writes -> a frozen record, with the place of every value, or the problems why not."""

import re
from collections.abc import Iterator, Sized
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Generic, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from reportgen.records.base import Record
from reportgen.records.bounds import SHEET_BYTES
from reportgen.sheets.files import leads_out, text_of
from reportgen.sheets.problems import Problem, as_an_id, nearest, shown
from reportgen.sheets.tree import Loc, Tree, parse

R = TypeVar("R", bound=Record)


@dataclass(frozen=True)
class Sheet(Generic[R]):
    """A file read into a record. `path` is relative to the academy folder."""

    path: str
    record: R
    tree: Tree

    def problem(self, loc: Loc, wrong: str, mend: str, *, key: bool = False) -> Problem:
        """A problem at the value of `loc` (at its key with `key`), or at the nearest thing around it."""
        line, column = self.tree.key_place(loc) if key else self.tree.place(loc)
        return Problem(self.path, line, column, wrong, mend)


def read_sheet(
    file: Path, path: str, kind: type[R], within: Path | None = None
) -> tuple[Sheet[R] | None, list[Problem]]:
    """Read `file`, told as `path`, into a record of `kind`; it must lie `within` a folder, where one is given. Without
    a record there is at least one problem; with one there can be some too (a key written twice, say), so that the rest
    of the sheet can still be checked."""
    text, problem = read_text(file, path, within)
    if text is None:
        return None, [problem] if problem else []
    return sheet_of(text, path, kind)


def read_text(file: Path, path: str, within: Path | None = None) -> tuple[str | None, Problem | None]:
    """The text of `file`; a file that cannot be opened is a problem too, and so is a link out of the academy, whose
    folder `within` is."""
    if within is not None and leads_out(file, within):
        return None, Problem(path, 1, 1, "the file is a link out of the academy", "Put the file itself there.")
    try:
        if not file.is_file():
            return None, Problem(path, 1, 1, "this is not a file", "Put the sheet itself there.")
        with file.open("rb") as stream:
            raw = stream.read(SHEET_BYTES + 1)
    except OSError as error:
        return None, Problem(
            path, 1, 1, f"the file cannot be read ({error.strerror})", "Look at its name and its rights."
        )
    return text_of(raw, path)


def sheet_of(
    text: str, path: str, kind: type[R], first_line: int = 1, extra: dict[str, Any] | None = None
) -> tuple[Sheet[R] | None, list[Problem]]:
    """A record of `kind` from YAML text; `extra` adds values that stand elsewhere in the file."""
    return sheet_of_tree(parse(text, path, first_line), path, kind, extra)


def sheet_of_tree(
    tree: Tree, path: str, kind: type[R], extra: dict[str, Any] | None = None
) -> tuple[Sheet[R] | None, list[Problem]]:
    """The same from a text that was parsed."""
    problems = [*tree.problems, *tree.too_much]
    if tree.data is None:
        if not problems:
            problems.append(
                Problem(path, tree.first_line, 1, "the file is empty", "Write the sheet, or delete the file.")
            )
        return None, problems
    if not isinstance(tree.data, dict):
        wrong = "the file is not a block of key: value lines"
        return None, [*problems, Problem(path, *tree.place(()), wrong, "Begin each line with a key and a colon.")]
    problems += [_unknown_empty_key(loc, path, tree, kind) for loc in tree.empty if not _is_known(kind, loc)]
    try:
        record = kind.model_validate({**tree.data, **(extra or {})})
    except ValidationError as error:
        return None, [*problems, *_complaints(error, path, tree, kind, {(p.line, p.column) for p in problems})]
    return Sheet(path, record, tree), problems


def _is_known(kind: type[Record], loc: Loc) -> bool:
    return loc[-1] in _keys_at(kind, loc[:-1])


def _unknown_empty_key(loc: Loc, path: str, tree: Tree, kind: type[Record]) -> Problem:
    key = str(loc[-1])
    if key.isdigit():
        mend = "A decimal comma cuts a number in two: write the decimals with a point."
    else:
        mend = nearest(key, _keys_at(kind, loc[:-1]))
    return Problem(path, *tree.key_place(loc), f"the key {shown(key)!r} is not known here and has no value", mend)


def _complaints(
    error: ValidationError, path: str, tree: Tree, kind: type[Record], told: set[tuple[int, int]]
) -> Iterator[Problem]:
    """What the record's check complains of. One fault is told once: not a value that is told already, nor a list as too
    short because one of its items is wrong, nor a key as missing that is only misspelt."""
    errors = error.errors(include_url=False)
    around = {details["loc"][:depth] for details in errors for depth in range(len(details["loc"]))}
    misspelt = {(*d["loc"][:-1], _meant(d["loc"], kind)) for d in errors if d["type"] == "extra_forbidden"}
    for details in errors:
        problem = _problem(details, path, tree, kind)
        if details["type"] in ("too_short", "too_long") and details["loc"] in around:
            continue
        if details["type"] == "missing" and details["loc"] in misspelt:
            continue
        if details["type"] in ("missing", "extra_forbidden") or (problem.line, problem.column) not in told:
            yield problem


def _meant(loc: Loc, kind: type[Record]) -> str | None:
    close = nearest(str(loc[-1]), _keys_at(kind, loc[:-1]), "")
    return close.removeprefix("Did you mean ").removesuffix("?") or None


def _problem(details: ErrorDetails, path: str, tree: Tree, kind: type[Record]) -> Problem:
    loc = _as_written(tuple(part for part in details["loc"] if part != "[key]"), tree.data)
    wrong, mend = _told(details, loc, kind)
    if details["type"] == "value_error":  # what lacks a value cannot agree with the rest
        loc = next((empty for empty in tree.empty if empty[:-1] == loc), loc)
    if loc in tree.empty:
        wrong, mend = f"{_named(loc)} has no value", f"Write it after {loc[-1]}:."
    at_key = details["type"] in ("extra_forbidden", "missing") or "[key]" in details["loc"]
    line, column = tree.key_place(loc) if at_key and loc in tree.keys else tree.place(loc)
    return Problem(path, line, column, wrong, mend)


def _as_written(loc: Loc, data: Any) -> Loc:
    """Without the keys of a record where the sheet has its short form, a list."""
    found, at = [], data
    for part in loc:
        if isinstance(at, list) and isinstance(part, str):
            continue
        found.append(part)
        if isinstance(at, dict):
            at = at.get(part)
        elif isinstance(at, list) and isinstance(part, int):
            at = at[part] if part < len(at) else None
        else:
            at = None
    return tuple(found)


def _told(details: ErrorDetails, loc: Loc, kind: type[Record]) -> tuple[str, str]:
    """(what is wrong, how to mend it) of one complaint of the record's check."""
    what = details["type"]
    ctx: dict[str, Any] = details.get("ctx") or {}
    written = details.get("input")
    says = f"; it says {shown(written)!r}" if isinstance(written, str) and len(written) <= 60 else ""
    name = _named(loc)
    if written is None and loc and isinstance(loc[-1], int):
        return f"{name} is empty", "Write it, or take out its hyphen or comma."
    if what == "missing":
        return f"{name} is missing", "Give it too." if isinstance(loc[-1], int) else f"Add {loc[-1]}: and its value."
    if what == "extra_forbidden" and (gone := _gone(kind, loc)):
        return f"the key {loc[-1]} is not read any more", gone
    if what == "extra_forbidden":
        known = set(_keys_at(kind, loc[:-1]))
        return f"the key {shown(str(loc[-1]))!r} is not known here", nearest(str(loc[-1]), known)
    if what == "literal_error":
        expected = [word.strip("' ") for word in ctx["expected"].replace(" or ", ", ").split(", ")]
        return f"{name} is not one of the words for it{says}", nearest(str(written), expected)
    if what.startswith(("float_", "int_")):
        number = "a whole number" if what.startswith("int") else "a number"
        return f"{name} is not {number}{says}", _mend_of_a_number(str(written), number)
    if what in ("bool_parsing", "bool_type"):
        return f"{name} is neither true nor false{says}", "Write true or false."
    if what in ("finite_number",):
        return f"{name} is not a number to reckon with{says}", "Write a number."
    if what == "value_error":
        wrong, mend = (*ctx["error"].args, "Correct it there.")[:2]
        return f"{name} {wrong}{says}", mend
    if what == "string_pattern_mismatch":
        meant = _description_at(kind, loc)
        if meant is not None and meant.startswith("an id ") and (id_ := as_an_id(str(written))):
            meant = f"{id_}: {meant}"
        return (
            f"{name} is not written as it should be{says}",
            f"Write {meant}." if meant else f"It must match {ctx['pattern']}.",
        )
    if what in ("model_type", "dict_type", "model_attributes_type"):
        return f"{name} is not a block of key: value pairs{says}", "Write its keys below it, or in { }."
    if what in ("tuple_type", "list_type"):
        return f"{name} is not a list{says}", "Begin each item with a hyphen and a space, or put them in [ ]."
    if what == "string_type":
        return f"{name} is not a text", "Write a text."
    return _out_of_bounds(details, name, says) or (
        f"{name}: {details['msg'][:1].lower()}{details['msg'][1:]}{says}",
        "Correct it there.",
    )


_BOUNDS = {
    "greater_than": ("above", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("below", "lt"),
    "less_than_equal": ("at most", "le"),
}


def _out_of_bounds(details: ErrorDetails, name: str, says: str) -> tuple[str, str] | None:
    """What is wrong with a list, a text or a number that is too long, short, high or low; None for anything else."""
    what, ctx, written = details["type"], details.get("ctx") or {}, details.get("input")
    if what in ("too_short", "too_long"):
        count = ctx.get("min_length") if what == "too_short" else ctx.get("max_length")
        there = len(written) if isinstance(written, Sized) else 0
        mend = f"At {'least' if what == 'too_short' else 'most'} {count}."
        return f"{name} has {there} item{'s' if there != 1 else ''}", mend
    if what in ("string_too_short", "string_too_long"):
        bound = f"at least {ctx['min_length']}" if "min_length" in ctx else f"at most {ctx['max_length']}"
        return f"{name} is too {what.rsplit('_', 1)[1]}", f"Write {bound} characters."
    if what in _BOUNDS:
        side, limit = _BOUNDS[what]
        return f"{name} is out of its limits{says}", f"Write a number {side} {ctx[limit]:.12g}."
    return None


def _mend_of_a_number(written: str, number: str) -> str:
    if re.match(r"^[-+]?\d+,\d+$", written):
        return "Write the decimals with a point."
    if re.match(r"^[-+]?\d+(\.\d+)? ?[^\d\s.,]", written):
        return "Write the number alone, without its unit."
    return f"Write {number}."


def _named(loc: Loc) -> str:
    """`readings, item 2: value` as a person would point at it."""
    words = [f"item {part + 1}" if isinstance(part, int) else shown(str(part)) for part in loc]
    if not words:
        return "the sheet"
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + ": " + words[-1]


@cache
def _schema(kind: type[Record]) -> dict[str, Any]:
    return kind.model_json_schema(by_alias=True)


def _schema_at(kind: type[Record], loc: Loc) -> dict[str, Any]:
    """The part of a record's JSON Schema that describes the value at `loc`; {} where there is none."""
    whole = _schema(kind)
    here = whole
    for part in loc:
        options = _options(here, whole)
        if isinstance(part, int):
            inner = [o.get("items") or (o.get("prefixItems") or [None])[0] for o in options]
        else:
            inner = [o.get("properties", {}).get(part) or o.get("additionalProperties") for o in options]
        here = next((i for i in inner if isinstance(i, dict)), {})
    return here


def _options(schema: dict[str, Any], whole: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The schema itself with its reference followed, and each of its alternatives."""
    if "$ref" in schema:
        schema = whole["$defs"][schema["$ref"].rsplit("/", 1)[1]]
    yield schema
    for option in schema.get("anyOf", []):
        yield from _options(option, whole)


def _gone(kind: type[Record], loc: Loc) -> str | None:
    """What to do about a key of an earlier edition, in the record itself or in one that a field of it holds."""
    if len(loc) == 2 and loc[0] in kind.model_fields:
        inside = kind.model_fields[str(loc[0])].annotation
        kind = inside if isinstance(inside, type) and issubclass(inside, Record) else kind
    return kind.GONE.get(str(loc[-1]))


def _keys_at(kind: type[Record], loc: Loc) -> list[str]:
    return [key for option in _options(_schema_at(kind, loc), _schema(kind)) for key in option.get("properties", {})]


def _description_at(kind: type[Record], loc: Loc) -> str | None:
    options = _options(_schema_at(kind, loc), _schema(kind))
    return next((str(o["description"]) for o in options if "description" in o and "properties" not in o), None)
