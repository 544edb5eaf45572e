"""The tables of the user guide about fields, made from the records that read them."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

from markupsafe import Markup, escape

from reportgen.languages.speaking import later, say
from reportgen.records.academy import Academy, Student
from reportgen.records.base import Record
from reportgen.records.bounds import LINE, NAME, WORDS
from reportgen.records.causes import CauseFile
from reportgen.records.content import BandFile, CountKind, Drill, Metric
from reportgen.records.describing import records_of
from reportgen.records.lesson import Lesson
from reportgen.records.practice import PracticeRules
from reportgen.records.rounds import Round
from reportgen.records.safety import SafetyFile
from reportgen.records.setup import SetupKind
from reportgen.sheets.field_texts import OF_ALL, texts_of_record

SHEETS: Mapping[str, type[Record]] = {
    "academy.yaml": Academy,
    "students/<id>/student.yaml": Student,
    "students/<id>/lessons/<day>.yaml": Lesson,
    "rounds/<day>.yaml": Round,
}
LIBRARY: Mapping[str, type[Record]] = {
    "metrics/<id>.yaml": Metric,
    "bands/<metric>.yaml": BandFile,
    "drills/<id>.md": Drill,
    "safety/<name>.yaml": SafetyFile,
    "counts/<name>.yaml": CountKind,
    "causes/<name>.yaml": CauseFile,
    "setup/<name>.yaml": SetupKind,
    "practice.yaml": PracticeRules,
}
FIELDS = (
    (
        "fields",
        later("Every field of your sheets"),
        later("What can stand in the files that you write."),
        SHEETS,
    ),
    (
        "library-fields",
        later("Every field of the library"),
        later("What can stand in metrics, ranges and drills of yours."),
        LIBRARY,
    ),
)


def files_of(kinds: Mapping[str, type[Record]]) -> list[dict[str, Any]]:
    """For each file its records with their fields, each record once, where it comes first."""
    told: set[str] = set()
    return [{"path": path, "records": list(fields_of(kind, told))} for path, kind in kinds.items()]


def fields_of(kind: type[Record], told: set[str]) -> Iterator[dict[str, Any]]:
    """A kind of record and the records below it, each with its fields as the guide's template takes them; those that
    are `told` already are left out, and the others are added to them."""
    schema = kind.model_json_schema()
    parts = {kind.__name__: schema, **schema.get("$defs", {})}
    classes = records_of(kind, schema)
    below = _named_by(parts)
    for name in _in_order(kind.__name__, parts):
        if name in told or name not in classes:
            continue
        told.add(name)
        part, says = parts[name], texts_of_record(classes[name])
        yield {
            "id": anchor(name),
            "called": below.get(name, ""),
            "about": _said(says.get(OF_ALL, "")),
            "fields": [
                {
                    "key": key,
                    "id": f"{anchor(name)}.{key}",
                    "says": _said(says.get(key, "")),
                    "holds": _holds(field, parts),
                    "needed": key in part.get("required", ()),
                    "otherwise": _default(field),
                }
                for key, field in part.get("properties", {}).items()
                if key != "sections"  # the text of a drill, which is no key of its front matter
            ],
        }


def field_messages(kind: type[Record], told: set[str]) -> Iterator[tuple[str, str]]:
    """(record, text) of what is said of a kind of record, of those below it and of their fields, as it is written;
    those that are `told` already are left out, and the others are added to them."""
    schema = kind.model_json_schema()
    for name, of in records_of(kind, schema).items():
        if name not in told:
            told.add(name)
            said = texts_of_record(of)
            yield from ((anchor(name), text) for key, text in said.items() if key != "sections")


def descriptions(schema: Any) -> Iterator[str]:
    """What the fields of a schema say of their values."""
    if isinstance(schema, dict):
        if "properties" not in schema and isinstance(schema.get("description"), str):
            yield schema["description"]
        for value in schema.values():
            yield from descriptions(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from descriptions(value)


def _said(text: str) -> str:
    return say(text) if text else ""


def anchor(record: str) -> str:
    """The place of a record on its page: `TypedReading` stands at `typed-reading`."""
    return re.sub(r"(?<!^)(?=[A-Z])", "-", record).lower()


def _references(schema: Any) -> Iterator[str]:
    """The names of the records that a part of a schema speaks of, in the order in which it does."""
    if isinstance(schema, dict):
        if "$ref" in schema:
            yield schema["$ref"].rsplit("/", 1)[1]
        for key, value in schema.items():
            if key != "$defs":
                yield from _references(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from _references(value)


def _in_order(first: str, parts: Mapping[str, Any]) -> list[str]:
    """The records as a reader meets them: each before those that it holds."""
    found, waiting = [first], [first]
    while waiting:
        inner = [name for name in dict.fromkeys(_references(parts[waiting.pop(0)])) if name not in found]
        found += inner
        waiting = inner + waiting
    return found


def _named_by(parts: Mapping[str, Any]) -> dict[str, str]:
    """The key under which each record is written first."""
    found: dict[str, str] = {}
    for part in parts.values():
        for key, field in part.get("properties", {}).items():
            for name in _references(field):
                found.setdefault(name, key)
    return found


def _holds(field: Mapping[str, Any], parts: Mapping[str, Any]) -> Markup:
    """What is written after a field's colon, in words."""
    if "$ref" in field:
        name = field["$ref"].rsplit("/", 1)[1]
        return Markup('<a href="#{}">{}</a>').format(anchor(name), say("its own keys"))
    if "anyOf" in field:
        options = [_holds(option, parts) for option in field["anyOf"] if option.get("type") != "null"]
        return Markup(", ").join(dict.fromkeys(options))
    if "enum" in field:
        return _words(field["enum"])
    if "const" in field:
        return _words([field["const"]])
    described = field.get("description")  # inside say() some collectors of messages take the key for one
    if described is not None:
        return escape(say(described) + _length(field))
    return _by_type(field, parts)


def _by_type(field: Mapping[str, Any], parts: Mapping[str, Any]) -> Markup:
    kind = field.get("type")
    if kind == "array":
        if "prefixItems" in field:
            return escape(say("two numbers in [ ]"))
        return _list(field, parts)
    if kind == "object":
        keys = field.get("propertyNames", {})
        named = _words(keys["enum"]) if "enum" in keys else escape(say("a name"))
        values = field.get("additionalProperties") or next(iter(field["patternProperties"].values()))
        return escape(say("{names}; after each {value}")).format(names=named, value=_holds(values, parts))
    if kind in ("number", "integer"):
        return escape((say("a whole number") if kind == "integer" else say("a number")) + _limits(field))
    if kind == "boolean":
        return _words(["true", "false"])
    several = field.get("maxLength", 0) > LINE
    return escape((say("a text, over several lines too") if several else say("a text")) + _length(field))


def _list(field: Mapping[str, Any], parts: Mapping[str, Any]) -> Markup:
    items = _holds(field["items"], parts)
    if field["maxItems"] == WORDS:  # more than there are words, so it bounds nothing that anybody writes
        return escape(say("a list: {items}")).format(items=items)
    return escape(say("a list of up to {most}: {items}")).format(most=field["maxItems"], items=items)


def _length(field: Mapping[str, Any]) -> str:
    """How long a text may be, where that is not seen on its form."""
    most = field.get("maxLength", 0)
    return ", " + say("up to {most} characters", most=most) if most > NAME else ""


def _limits(field: Mapping[str, Any]) -> str:
    low, high = field.get("minimum"), field.get("maximum")
    above, below = field.get("exclusiveMinimum"), field.get("exclusiveMaximum")
    said = []
    if low is not None:
        said.append(say("from {low}", low=f"{low:.12g}"))
    elif above is not None:
        said.append(say("above {limit}", limit=f"{above:.12g}"))
    if high is not None:
        said.append(say("up to {limit}", limit=f"{high:.12g}"))
    elif below is not None:
        said.append(say("below {limit}", limit=f"{below:.12g}"))
    return "".join(f", {part}" for part in said)


def _words(words: list[str]) -> Markup:
    return Markup(", ").join(Markup("<code>{}</code>").format(word) for word in words)


def _default(field: Mapping[str, Any]) -> str:
    """What counts where the field is left out, where that is a single word or number."""
    value = field.get("default")
    if isinstance(value, bool):
        return str(value).lower()
    return f"{value:g}" if isinstance(value, int | float) else value if isinstance(value, str) else ""
