"""The user guide: the shipped texts, and tables made from the records and the library that it speaks of."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from markupsafe import Markup, escape

from reportgen.languages.speaking import later, say, speaking
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
from reportgen.sheets.readers import Reader, library_for, spoken
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


def blocks(text: str) -> list[str]:
    """The paragraphs, headings, lists and examples of a text, in order; an example keeps its empty lines."""
    found: list[str] = []
    fenced = False
    for line in text.strip().split("\n"):
        if (not line.strip() and not fenced) or not found:
            found.append("")
        if line.strip() or fenced:
            found[-1] += line + "\n"
        fenced ^= line.startswith("```")
    return [block.rstrip("\n") for block in found if block.strip()]


def is_example(block: str) -> bool:
    """Whether a block is what one writes or types, the same in every language."""
    return block.startswith("```")


def guide_messages() -> Iterator[tuple[str, str]]:
    """(where it stands, text) of what the guide says besides its templates, for the catalogues."""
    for page in guide_texts():
        yield from ((f"content/guide/{page.name}", text) for text in (page.title, page.about))
        yield from ((f"content/guide/{page.name}", b) for b in blocks(page.text) if not is_example(b))
    for _, _, _, kinds in FIELDS:
        told: set[str] = set()
        for kind in kinds.values():
            for record in _records(kind, told):
                texts = [record["about"], *(field["says"] for field in record["fields"])]
                yield from ((f"reportgen/records/{record['id']}", text) for text in texts if text)
            yield from (("reportgen/records", text) for text in _descriptions(kind.model_json_schema()))


def _descriptions(schema: Any) -> Iterator[str]:
    """What the fields of a schema say of their values."""
    if isinstance(schema, dict):
        if "properties" not in schema and isinstance(schema.get("description"), str):
            yield schema["description"]
        for value in schema.values():
            yield from _descriptions(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from _descriptions(value)


def guide_pages(academy: Academy, library: Library, root: Path) -> Mapping[str, bytes]:
    """The guide in the academy's language: its contents, each text, and the tables of fields, metrics and drills."""
    language = spoken(academy.language, root)
    with speaking(language):
        return _pages(academy, library_for(Reader(language), library), root)


def _pages(academy: Academy, library: Library, root: Path) -> Mapping[str, bytes]:
    texts = guide_texts()
    titles = [(page.name, say(page.title), say(page.about)) for page in texts]
    called = say("Metrics and drills")
    titles.append(("library", called, say("The words that stand after metric and after drills.")))
    titles += [(name, say(title), say(about)) for name, title, about, _ in FIELDS]
    template = environment(academy, root).get_template("guide.html")

    def page(name: str, title: str, **values: Any) -> bytes:
        shown = {"body": None, "files": None, "library": None, **values}
        made = template.render(assets="../assets/", here=name, titles=titles, title=title, moments=MOMENTS, **shown)
        return made.encode()

    files = {}
    for text in texts:
        told = "\n\n".join(block if is_example(block) else say(block) for block in blocks(text.text))
        files[f"{text.name}.html"] = page(text.name, say(text.title), body=prose(told, heading=1))
    for name, title, _, kinds in FIELDS:
        files[f"{name}.html"] = page(name, say(title), files=_files(kinds))
    files["library.html"] = page("library", called, library=library)
    files["index.html"] = page("index", say("How to work with reportgen"))
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
            "about": _said(part.get("description", "")),
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
        return escape(say(described))
    return _by_type(field, parts)


def _by_type(field: Mapping[str, Any], parts: Mapping[str, Any]) -> Markup:
    kind = field.get("type")
    if kind == "array":
        if "prefixItems" in field:
            return escape(say("two numbers in [ ]"))
        return escape(say("a list: {items}")).format(items=_holds(field["items"], parts))
    if kind == "object":
        keys = field.get("propertyNames", {})
        named = _words(keys["enum"]) if "enum" in keys else escape(say("a name"))
        values = field.get("additionalProperties") or next(iter(field["patternProperties"].values()))
        return escape(say("{names}; after each {value}")).format(names=named, value=_holds(values, parts))
    if kind in ("number", "integer"):
        return escape((say("a whole number") if kind == "integer" else say("a number")) + _limits(field))
    if kind == "boolean":
        return _words(["true", "false"])
    return escape(say("a text, over several lines too") if field.get("maxLength", 0) > 1000 else say("a text"))


def _limits(field: Mapping[str, Any]) -> str:
    low, high = field.get("minimum"), field.get("maximum")
    above, below = field.get("exclusiveMinimum"), field.get("exclusiveMaximum")
    said = []
    if low is not None:
        said.append(say("from {low}", low=f"{low:g}"))
    elif above is not None:
        said.append(say("above {limit}", limit=f"{above:g}"))
    if high is not None:
        said.append(say("up to {limit}", limit=f"{high:g}"))
    elif below is not None:
        said.append(say("below {limit}", limit=f"{below:g}"))
    return "".join(f", {part}" for part in said)


def _words(words: list[str]) -> Markup:
    return Markup(", ").join(Markup("<code>{}</code>").format(word) for word in words)


def _default(field: Mapping[str, Any]) -> str:
    """What counts where the field is left out, where that is a single word or number."""
    value = field.get("default")
    if isinstance(value, bool):
        return str(value).lower()
    return f"{value:g}" if isinstance(value, int | float) else value if isinstance(value, str) else ""
