"""Everything that a person can write has a bound, and its JSON Schema says so: a new field without one fails here."""

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reportgen.records.academy import Academy, Student
from reportgen.records.base import Record
from reportgen.records.bounds import LETTER, MOST, SPANS, limits_in
from reportgen.records.content import BandFile, Drill, Metric
from reportgen.records.lesson import Lesson
from reportgen.records.practice import PracticeRules
from reportgen.records.safety import SafetyFile
from reportgen.records.units import UNITS
from reportgen.terminal import schema_text

WRITTEN: list[type[Record]] = [Academy, Student, Lesson, Metric, BandFile, Drill, SafetyFile, PracticeRules]


def unbounded(schema: Any, at: str) -> Iterator[str]:
    """Where in a part of a JSON Schema a text, a number, a list or a block of named values can grow without end."""
    if not isinstance(schema, dict):
        return
    if "enum" in schema or "const" in schema or "$ref" in schema:
        return
    kind = schema.get("type")
    if kind == "string" and "maxLength" not in schema and not _has_a_longest(schema.get("pattern", "(?s).*")):
        yield f"{at}: a text of any length"
    if kind in ("number", "integer") and not (_limit(schema, "inimum") and _limit(schema, "aximum")):
        yield f"{at}: a number of any size"
    if kind == "array":
        if "maxItems" not in schema:
            yield f"{at}: a list of any length"
        for number, item in enumerate([schema.get("items"), *schema.get("prefixItems", ())]):
            yield from unbounded(item, f"{at}[{number}]")
    if kind == "object" and "properties" not in schema:
        if "maxProperties" not in schema and "enum" not in schema.get("propertyNames", {}):
            yield f"{at}: names without number"
        values = [schema.get("additionalProperties"), *schema.get("patternProperties", {}).values()]
        for value in values:
            yield from unbounded(value, f"{at}.*")
    for option in schema.get("anyOf", ()):
        yield from unbounded(option, at)
    for key, field in schema.get("properties", {}).items():
        yield from unbounded(field, f"{at}.{key}")


def _has_a_longest(pattern: str) -> bool:
    return re._parser.parse(pattern).getwidth()[1] <= LETTER  # type: ignore[attr-defined]


def _limit(schema: dict[str, Any], name: str) -> bool:
    return f"m{name}" in schema or f"exclusiveM{name}" in schema


@pytest.mark.parametrize("kind", WRITTEN, ids=lambda kind: kind.__name__)
def test_every_field_that_a_person_writes_has_a_bound(kind: type[Record]) -> None:
    schema = kind.model_json_schema()
    parts = {kind.__name__: schema, **schema.get("$defs", {})}
    assert [told for name, part in parts.items() for told in unbounded(part, name)] == []


@pytest.mark.parametrize(
    "schema",
    [
        {"type": "string"},
        {"type": "string", "pattern": "^[a-z]+$"},
        {"type": "number", "minimum": 0},
        {"type": "integer", "maximum": 0},
        {"type": "array", "items": {"enum": ["a"]}},
        {"type": "array", "maxItems": 3, "items": {"type": "string"}},
        {"type": "object", "additionalProperties": {"enum": ["a"]}},
        {"anyOf": [{"type": "null"}, {"type": "string"}]},
    ],
    ids=str,
)
def test_what_has_no_bound_is_found(schema: dict[str, Any]) -> None:
    assert list(unbounded(schema, "it"))


@pytest.mark.parametrize("unit", UNITS)
def test_no_number_in_any_unit_is_beyond_the_bound_of_all_numbers(unit: str) -> None:
    low, high = limits_in(unit).within(unit)
    assert -MOST <= low < high <= MOST


def test_every_dimension_has_its_limits() -> None:
    assert SPANS.keys() == {unit.dimension for unit in UNITS.values()}


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize(("times", "valid"), [(0.999, True), (1.001, False)])
def test_the_schema_gives_each_number_the_bounds_of_its_unit(unit: str, times: float, valid: bool) -> None:
    high = limits_in(unit).within(unit)[1] * times
    reading = {"metric": "any", "unit": unit, "how": "sensor"}
    target = {"metric": "any", "unit": unit, "reason": "Yours."}
    lesson = {"student": "mara-l", "date": "2026-03-05", "club": "7-iron"}
    student = {"name": "Mara Lind", "born": "1990-05-17", "plays": "right"}
    of_lessons, of_students = (Draft202012Validator(json.loads(schema_text(kind))) for kind in ("lesson", "student"))
    for written in ({"value": high}, {"trials": [high, high]}, {"value": high / 2, "u": high}):
        assert of_lessons.is_valid({**lesson, "readings": [{**reading, **written}]}) is valid
    assert of_students.is_valid({**student, "targets": [{**target, "high": high}]}) is valid
