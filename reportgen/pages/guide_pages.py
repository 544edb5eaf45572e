"""The user guide: the shipped texts, and tables made from the records and the library that it speaks of."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from markupsafe import Markup, escape

from reportgen.pages.prose import prose
from reportgen.pages.theme import environment, theme_file
from reportgen.records.academy import Academy, Student
from reportgen.records.base import Record
from reportgen.records.content import BandFile, Drill, Metric, SafetyFile
from reportgen.records.describing import meanings, records_of
from reportgen.records.lesson import Lesson
from reportgen.records.practice import PracticeRules
from reportgen.records.words import MOMENTS
from reportgen.sheets.library import Library
from reportgen.sheets.shipped import shipped

SHEETS: Mapping[str, type[Record]] = {
    "academy.yaml": Academy,
    "students/<id>/student.yaml": Student,
    "students/<id>/lessons/<day>.yaml": Lesson,
}
LIBRARY: Mapping[str, type[Record]] = {
    "metrics/<id>.yaml": Metric,
    "bands/<metric>.yaml": BandFile,
    "drills/<id>.md": Drill,
    "safety/<name>.yaml": SafetyFile,
    "practice.yaml": PracticeRules,
}
FIELDS = (
    ("fields", "Every field of your sheets", "What can stand in the files that you write.", SHEETS),
    ("library-fields", "Every field of the library", "What can stand in metrics, ranges and drills of yours.", LIBRARY),
)
_FRONT = re.compile(r"\A---\n(.*?)\n---\n", re.DOTALL)


@dataclass(frozen=True)
class GuidePage:
    """One page of text, as it stands in content/guide/."""

    name: str
    title: str
    about: str
    text: str


def guide_texts() -> list[GuidePage]:
    """The texts of the guide in their order. Raises ValueError where one lacks title, order or about."""
    found = []
    for file in sorted((shipped("content") / "guide").glob("*.md")):
        text = file.read_text(encoding="utf-8")
        head = _FRONT.match(text)
        keys = dict(line.split(": ", 1) for line in head[1].splitlines()) if head else {}
        if head is None or keys.keys() != {"title", "order", "about"}:
            raise ValueError(f"{file.name} does not begin with title, order and about")
        found.append((int(keys["order"]), GuidePage(file.stem, keys["title"], keys["about"], text[head.end() :])))
    return [page for _, page in sorted(found, key=lambda entry: entry[0])]


def guide_pages(academy: Academy, library: Library, root: Path) -> Mapping[str, bytes]:
    """The guide: its contents, each text, and the tables of fields, metrics and drills."""
    texts = guide_texts()
    titles = [(page.name, page.title, page.about) for page in texts]
    titles.append(("library", "Metrics and drills", "The words that stand after metric and after drills."))
    titles += [(name, title, about) for name, title, about, _ in FIELDS]
    template = environment(academy, root).get_template("guide.html")

    def page(name: str, title: str, **values: Any) -> bytes:
        shown = {"body": None, "files": None, "library": None, **values}
        made = template.render(assets="../assets/", here=name, titles=titles, title=title, moments=MOMENTS, **shown)
        return made.encode()

    files = {f"{text.name}.html": page(text.name, text.title, body=prose(text.text, heading=1)) for text in texts}
    for name, title, _, kinds in FIELDS:
        files[f"{name}.html"] = page(name, title, files=_files(kinds))
    files["library.html"] = page("library", "Metrics and drills", library=library)
    files["index.html"] = page("index", "How to work with reportgen")
    files["guide.css"] = theme_file("guide.css", academy, root).encode()
    return files


def _files(kinds: Mapping[str, type[Record]]) -> list[dict[str, Any]]:
    """For each file its records with their fields, each record once, where it comes first."""
    told: set[str] = set()
    return [{"path": path, "records": list(_records(kind, told))} for path, kind in kinds.items()]


def _records(kind: type[Record], told: set[str]) -> Iterator[dict[str, Any]]:
    schema = kind.model_json_schema()
    parts = {kind.__name__: schema, **schema.get("$defs", {})}
    classes = records_of(kind, schema)
    below = _named_by(parts)
    for name in _in_order(kind.__name__, parts):
        if name in told or name not in classes:
            continue
        told.add(name)
        part, says = parts[name], meanings(classes[name])
        yield {
            "id": anchor(name),
            "called": below.get(name, ""),
            "about": part.get("description", ""),
            "fields": [
                {
                    "key": key,
                    "id": f"{anchor(name)}.{key}",
                    "says": says.get(key, ""),
                    "holds": _holds(field, parts),
                    "needed": key in part.get("required", ()),
                    "otherwise": _default(field),
                }
                for key, field in part.get("properties", {}).items()
                if key != "sections"  # the text of a drill, which is no key of its front matter
            ],
        }


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
        return Markup('<a href="#{}">its own keys</a>').format(anchor(name))
    if "anyOf" in field:
        options = [_holds(option, parts) for option in field["anyOf"] if option.get("type") != "null"]
        return Markup(", or ").join(dict.fromkeys(options))
    if "enum" in field:
        return _words(field["enum"])
    if "const" in field:
        return _words([field["const"]])
    if "description" in field:
        return escape(field["description"])
    return _by_type(field, parts)


def _by_type(field: Mapping[str, Any], parts: Mapping[str, Any]) -> Markup:
    kind = field.get("type")
    if kind == "array":
        if "prefixItems" in field:
            return Markup("two numbers in [ ]")
        return Markup("a list: {}").format(_holds(field["items"], parts))
    if kind == "object":
        keys = field.get("propertyNames", {})
        named = _words(keys["enum"]) if "enum" in keys else Markup("a name")
        values = field.get("additionalProperties") or next(iter(field["patternProperties"].values()))
        return Markup("{}; after each {}").format(named, _holds(values, parts))
    if kind in ("number", "integer"):
        return escape(("a whole number" if kind == "integer" else "a number") + _limits(field))
    if kind == "boolean":
        return _words(["true", "false"])
    return Markup("a text, over several lines too") if field.get("maxLength", 0) > 1000 else Markup("a text")


def _limits(field: Mapping[str, Any]) -> str:
    low, high = field.get("minimum"), field.get("maximum")
    above, below = field.get("exclusiveMinimum"), field.get("exclusiveMaximum")
    said = [
        f"from {low:g}" if low is not None else f"above {above:g}" if above is not None else "",
        f"to {high:g}" if high is not None else f"and below {below:g}" if below is not None else "",
    ]
    return ", " + " ".join(filter(None, said)).removeprefix("and ") if any(said) else ""


def _words(words: list[str]) -> Markup:
    return Markup(", ").join(Markup("<code>{}</code>").format(word) for word in words)


def _default(field: Mapping[str, Any]) -> str:
    """What counts where the field is left out, where that is a single word or number."""
    value = field.get("default")
    if isinstance(value, bool):
        return str(value).lower()
    return f"{value:g}" if isinstance(value, int | float) else value if isinstance(value, str) else ""
