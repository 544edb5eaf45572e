"""Values that a JSON Schema of the program calls sound: whatever an editor with that schema would let pass."""

import math
from collections.abc import Mapping
from functools import cache
from typing import Any

from hypothesis import strategies as st

from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped
from tests.strategies import SLIPS

Schema = Mapping[str, Any]

MOST_ITEMS = 5
"""Items of a list mostly; as many as may be are tried of lists apart, lest every case be a long one."""
SLUG = "^[a-z0-9]+(-[a-z0-9]+)*$"
WORDS = (
    "Slow to the top; the lead hip *clears*, then [the arms](https://example.org/a?b=1). L’appui reste là. 左腰が先。"
)


@cache
def _known() -> dict[str, list[str]]:
    """Names that mean something, by the key under which they stand."""
    library, _ = load_library(shipped("content"), shipped("content") / "no-academy")
    ids = {"metric": sorted(library.metrics), "drill": sorted(library.drills), "serves": sorted(library.metrics)}
    days = ["2026-11-24", "2026-11-14", "2026-02-28", "2016-02-29", "2026-12-31", "1930-01-01", "2099-12-31"]
    return ids | dict.fromkeys(("date", "on", "born", "given_on", "withdrawn_on"), days)


def sound(schema: Schema, whole: Schema | None = None, key: str = "") -> st.SearchStrategy[Any]:
    """Values of `schema`; `whole` is the schema in which it stands, `key` the name of the field."""
    whole = whole or schema
    if "$ref" in schema:
        return sound(whole["$defs"][schema["$ref"].rsplit("/", 1)[-1]], whole, key)
    if "const" in schema:
        return st.just(schema["const"])
    if "enum" in schema:
        return st.sampled_from(schema["enum"])
    for either in ("anyOf", "oneOf"):
        if either in schema:
            return st.one_of([sound(one, whole, key) for one in schema[either]])
    return _OF_TYPE[schema.get("type", "string")](schema, whole, key)


def _text(schema: Schema, _: Schema, key: str) -> st.SearchStrategy[str]:
    pattern, longest = schema.get("pattern"), schema.get("maxLength", 60)
    if key in _known():
        return st.sampled_from(_known()[key])
    if pattern == SLUG:
        return st.sampled_from(["own-one", "own-two", "a", "x" * min(longest, 60)])
    if pattern is not None and "\\n" not in pattern:
        return st.from_regex(pattern, fullmatch=True)
    said = st.one_of(st.just(WORDS), st.text(max_size=40), st.sampled_from(SLIPS).map(lambda sign: f"a {sign} b"))
    repeated = st.builds(lambda text, times: (text * times)[:longest], said, st.sampled_from([1, 1, 1, 3, 40, 10_000]))
    return repeated.map(lambda text: text or "x")


def _number(schema: Schema, _: Schema, __: str) -> st.SearchStrategy[float]:
    low = schema.get("minimum", schema.get("exclusiveMinimum", -1e5))
    high = schema.get("maximum", schema.get("exclusiveMaximum", 1e5))
    likely = st.floats(max(low, -60), max(min(high, 90), max(low, -60)))
    return st.one_of(likely, likely.map(round), st.floats(low, high), st.sampled_from([low, high]))


def _whole(schema: Schema, _: Schema, __: str) -> st.SearchStrategy[int]:
    low, high = math.ceil(schema.get("minimum", -1000)), math.floor(schema.get("maximum", 10**7))
    return st.one_of(st.integers(low, high), st.sampled_from([low, high]))


def _list(schema: Schema, whole: Schema, key: str) -> st.SearchStrategy[list[Any]]:
    least, most = schema.get("minItems", 0), schema.get("maxItems", MOST_ITEMS)
    if "prefixItems" in schema:
        return st.tuples(*(sound(one, whole, key) for one in schema["prefixItems"])).map(list)
    items = sound(schema["items"], whole, key)
    few = st.lists(items, min_size=least, max_size=max(least, min(most, MOST_ITEMS)))
    return few if most <= MOST_ITEMS else st.one_of(few, few, few, few, few.map(lambda some: (some * most)[:most]))


def _object(schema: Schema, whole: Schema, key: str) -> st.SearchStrategy[dict[str, Any]]:
    fields = schema.get("properties", {})
    needed = set(schema.get("required", ()))
    known = st.fixed_dictionaries(
        {name: sound(one, whole, name) for name, one in fields.items() if name in needed},
        optional={name: sound(one, whole, name) for name, one in fields.items() if name not in needed},
    )
    free = schema.get("additionalProperties")
    if not isinstance(free, Mapping):
        return known
    names = sound(schema.get("propertyNames", {"type": "string", "pattern": SLUG}), whole, "metric")
    return st.dictionaries(names, sound(free, whole, key), max_size=MOST_ITEMS)


_OF_TYPE = {
    "string": _text,
    "number": _number,
    "integer": _whole,
    "boolean": lambda *_: st.booleans(),
    "null": lambda *_: st.none(),
    "array": _list,
    "object": _object,
}
