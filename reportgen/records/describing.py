"""What the fields of records mean, in their JSON Schemas.

Those of a judged lesson are told by the text that stands below each field in the source. The record library can read
these texts itself, but only while it makes the records, at each start of the program: that takes 0.1 s, a fifth of what
`reportgen check` may take. Here they are read when somebody asks for them.
"""

import ast
import inspect
from collections.abc import Callable, Mapping
from functools import cache
from textwrap import dedent
from typing import Any, Literal, get_args

from reportgen.records.base import Record

Mode = Literal["validation", "serialization"]


@cache
def meanings(kind: type[Record]) -> Mapping[str, str]:
    """What each field of a record means, by the key that a person writes; a field without a text is left out."""
    body = ast.parse(dedent(inspect.getsource(kind))).body[0]
    if not isinstance(body, ast.ClassDef):
        raise TypeError(f"{kind.__name__} is no class")
    found = {}
    for field, below in zip(body.body, body.body[1:], strict=False):
        if (
            isinstance(field, ast.AnnAssign)
            and isinstance(field.target, ast.Name)
            and isinstance(below, ast.Expr)
            and isinstance(below.value, ast.Constant)
        ):
            info = kind.model_fields[field.target.id]
            found[info.alias or field.target.id] = " ".join(str(below.value.value).split())
    return found


def records_of(kind: type[Record], schema: Mapping[str, Any]) -> dict[str, type[Record]]:
    """The record behind each name of a schema: that of `kind` itself, and of every record inside it."""
    by_name = {record.__name__: record for record in _inside(kind, {kind})}
    return {name: by_name[name] for name in (kind.__name__, *schema.get("$defs", {})) if name in by_name}


def described_schema(
    kind: type[Record], texts: Callable[[type[Record]], Mapping[str, str]], mode: Mode = "validation"
) -> dict[str, Any]:
    """The JSON Schema of a record, with what its fields mean by `texts`, and under "_" what it is itself. What a field
    holds stays behind in brackets, as in `The day of the lesson. (a day, as 2026-03-05)`."""
    schema = kind.model_json_schema(mode=mode)
    for name, record in records_of(kind, schema).items():
        part = schema["$defs"][name] if name in schema.get("$defs", {}) else schema
        told = texts(record)
        if "_" in told:
            part["description"] = told["_"]
        for key, field in part.get("properties", {}).items():
            if text := told.get(key):
                holds = field.get("description")
                field["description"] = f"{text} ({holds})" if holds else text
    return schema


def _inside(kind: type[Record], found: set[type[Record]]) -> set[type[Record]]:
    """`found` with the records that the fields of `kind` are made of, at any depth."""
    waiting: list[Any] = [field.annotation for field in kind.model_fields.values()]
    while waiting:
        part = waiting.pop()
        if isinstance(part, type) and issubclass(part, Record) and part not in found:
            found.add(part)
            _inside(part, found)
        waiting += get_args(part)
    return found
