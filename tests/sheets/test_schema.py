"""The JSON Schemas that editors use: every field that a person writes is in them, and sound sheets validate."""

import json
from typing import get_args

import pytest
import yaml
from jsonschema import Draft202012Validator

from reportgen.records.academy import Academy, Student
from reportgen.records.amounts import Dose, Quantity
from reportgen.records.base import Record
from reportgen.records.content import BandFile, Drill, Metric
from reportgen.records.lesson import Lesson
from reportgen.records.mobility import HipMobility
from reportgen.records.safety import SafetyFile
from reportgen.sheets.shipped import shipped
from reportgen.terminal import schema_text
from tests.sheets.academies import DEMO

KINDS = {
    "academy": Academy,
    "student": Student,
    "lesson": Lesson,
    "metric": Metric,
    "bands": BandFile,
    "drill": Drill,
    "safety": SafetyFile,
}
WRITTEN_AS_TEXT = {Quantity, Dose, HipMobility}
"""Records that a person writes as one short text, as in 1.00 m."""


class _AsWritten(yaml.SafeLoader):
    """YAML as editors read it, but for dates, which stay text."""


_AsWritten.yaml_implicit_resolvers = {
    sign: [(tag, pattern) for tag, pattern in known if tag != "tag:yaml.org,2002:timestamp"]
    for sign, known in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def records_in(annotation):
    """The records that a field can hold, however deep in lists and unions."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        yield annotation
    for inner in get_args(annotation):
        yield from records_in(inner)


def all_records(record, seen=()):
    """A record and all records inside it that are written as blocks of keys."""
    if record in seen or record in WRITTEN_AS_TEXT:
        return seen
    seen = (*seen, record)
    for field in record.model_fields.values():
        for inner in records_in(field.annotation):
            seen = all_records(inner, seen)
    return seen


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_that_a_person_writes_is_in_the_schema(kind):
    schema = json.loads(schema_text(kind))
    parts = {**schema.get("$defs", {}), KINDS[kind].__name__: schema}
    for record in all_records(KINDS[kind]):
        part = parts[record.__name__] if "properties" in parts[record.__name__] else schema["$defs"][record.__name__]
        assert part["additionalProperties"] is False
        assert set(part["properties"]) == {field.alias or name for name, field in record.model_fields.items()}
        needed = {field.alias or name for name, field in record.model_fields.items() if field.is_required()}
        assert set(part.get("required", [])) == needed


def files_of(kind):
    content = shipped("content")
    return {
        "academy": [DEMO / "academy.yaml"],
        "student": DEMO.glob("students/*/student.yaml"),
        "lesson": DEMO.glob("students/*/lessons/*.yaml"),
        "metric": content.glob("metrics/*.yaml"),
        "bands": content.glob("bands/*.yaml"),
        "drill": content.glob("drills/*.md"),
        "safety": content.glob("safety/*.yaml"),
    }[kind]


def written(file):
    text = file.read_text(encoding="utf-8")
    return yaml.load(text.split("---\n")[1] if file.suffix == ".md" else text, _AsWritten)


@pytest.mark.parametrize("kind", KINDS)
def test_the_demo_and_the_library_validate(kind):
    validator = Draft202012Validator(json.loads(schema_text(kind)))
    files = list(files_of(kind))
    assert files
    told = [f"{file.name}: {error.message}" for file in files for error in validator.iter_errors(written(file))]
    assert told == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("clubb",), "7-iron"),
        (("club",), "7 iron"),
        (("readings", 0, "how"), "guess"),
        (("readings", 0, "vlaue"), 3),
        (("stills", 0, "marks", "leed-hip"), [1, 2]),
        (("stills", 0, "marks", "lead-hip"), [1, 2, 3]),
        (("comfort",), [{"site": "low-back", "score": 11, "when": "after"}]),
    ],
)
def test_the_schema_refuses_what_check_refuses(path, value):
    sheet = written(DEMO / "students/duarte-pemberlow/lessons/2026-11-19.yaml")
    inner = sheet
    for part in path[:-1]:
        inner = inner[part]
    inner[path[-1]] = value
    assert not Draft202012Validator(json.loads(schema_text("lesson"))).is_valid(sheet)


@pytest.mark.parametrize(
    ("stills", "sound"),
    [
        ({"turn": {"of": "hips", "toward": "open"}, "rate": 500}, True),
        ({"turn": {"of": "hips", "toward": "open"}, "flexion": {"of": "lead-knee"}}, False),
        ({"rate": 500}, False),
        ({"turn": {"of": "hips", "toward": "up"}}, False),
    ],
    ids=["one quantity", "two quantities", "no quantity", "a word of another quantity"],
)
def test_an_editor_knows_the_grammar_of_a_formula(stills, sound):
    (file,) = [file for file in files_of("metric") if file.stem == "pelvis-open-impact"]
    metric = yaml.load(file.read_text(encoding="utf-8"), _AsWritten)
    schema = json.loads(schema_text("metric"))
    assert Draft202012Validator(schema).is_valid({**metric, "stills": stills}) is sound
