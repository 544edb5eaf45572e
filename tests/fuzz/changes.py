"""Changes to an academy, as people, programs and disks make them, and the machines on which it is published."""

import io
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

import yaml
from hypothesis import strategies as st
from PIL import Image

from reportgen.terminal import schema_text
from tests.fuzz.cases import (
    CATALOGUE,
    OF_THE_CONTENT,
    STUDENTS,
    THEME,
    Case,
    Entry,
    Folder,
    Link,
    Pipe,
    base,
    shipped_text,
)
from tests.fuzz.sound import sound
from tests.strategies import SLIPS, slipped, yamlish

KINDS = {"student": "student.yaml", "lesson": "lessons/"}
_OF_CONTENT = {"drills": "drill", "metrics": "metric", "bands": "bands", "safety": "safety"}
TEMPLATES = (
    "home.html",
    "lesson.html",
    "drill.html",
    "recap.html",
    "letter.html",
    "style.css",
    "mail.txt",
    "cards.html",
)
TABLE = "students/annika-drosselby/exports/2026-10-07-driver.csv"
DRILL, METRIC, BANDS, PRACTICE = OF_THE_CONTENT
PLACES = ("{}", "drills/{}", "students/{}", "students/miro-tavenhall/{}", "students/miro-tavenhall/lessons/{}",
          "students/miro-tavenhall/stills/{}", "languages/{}", "look/{}")  # fmt: skip
NAMES = ("lost+found", ".DS_Store", "Thumbs.db", "2026-11-20.yaml", "2026-11-24.yml", "con", "Mara L", "mära",
         "x" * 255, "a\nb", "\u202eb", "own.md", "own.yaml", "2026-11-24.yaml~", ".hidden", "-rf", "a.png", "%2e%2e",
         "\udcff")  # fmt: skip
HUGE = 300_000

numbers = st.one_of(
    st.integers(-3, 400), st.floats(), st.sampled_from([10**9, 10**400, -1, 0, 0.0, -0.0, 1e-12, 1e300, 5e-324]),
    st.floats(-100, 100).map(lambda x: round(x, 1)),
)  # fmt: skip
signs = ("*", "_", "**", "`", "[", "](", ")", "!", "<", ">", "&", "|", "a", "\\", "~", "左", "\u200f", "🏌", "\u0301",
         "<b>", "&amp;", "word ", "https://example.org")  # fmt: skip
markdown = st.lists(
    st.sampled_from([*signs, "- ", "1. ", "> ", "#", "\n", "\n\n", "  "]), min_size=1, max_size=12
).map("".join)  # fmt: skip
repeated = st.builds(lambda text, times: (text * times)[:20_000], markdown, st.sampled_from([1, 3, 50, 2_000, 20_000]))
texts = st.one_of(st.text(max_size=30), st.sampled_from(SLIPS), repeated, st.just("x" * HUGE))
odd = st.recursive(
    st.one_of(st.none(), st.booleans(), numbers, texts, st.dates()),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.sampled_from(["metric", "a", "on"]), inner)
    ),
    max_leaves=6,
)
"""What stands where something else should."""

pictures = st.builds(
    lambda mode, size, kind, cut, color: _picture(mode, size, kind, cut, color),
    st.sampled_from(["RGB", "RGBA", "L", "LA", "P", "1", "I;16", "CMYK", "F"]),
    st.sampled_from([(540, 720), (1, 1), (1, 3000), (3000, 1), (200, 5000), (3000, 3000), (7000, 7000)]),
    st.sampled_from(["PNG", "JPEG", "progressive", "GIF", "TIFF", "BMP", "WEBP"]),
    st.sampled_from([None, None, 0, 8, 60, 300, -1, -40]),
    st.integers(0, 255),
)


def _picture(mode: str, size: tuple[int, int], kind: str, cut: int | None, shade: int) -> bytes:
    """A picture of one shade, whole or cut after so many bytes."""
    file = io.BytesIO()
    more = {"progressive": True} if kind == "progressive" else {}
    try:
        Image.new(mode, size, shade).save(file, "JPEG" if kind == "progressive" else kind, **more)
    except (OSError, ValueError, TypeError, KeyError):  # no such kind of this mode
        Image.new("L", size, shade).save(file, "PNG")
    return file.getvalue()[:cut]


class _Written(yaml.SafeDumper):
    """YAML with each value as it is: no anchors for what stands there twice."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def dumped(data: object) -> bytes:
    """A value as YAML."""
    return yaml.dump(data, Dumper=_Written, allow_unicode=True, sort_keys=False, width=110).encode("utf-8", "replace")


@cache
def _schema(kind: str) -> Mapping[str, Any]:
    """The schema of a kind of file, read once."""
    return yaml.load(schema_text(kind), yaml.CSafeLoader)


def _kind_of(path: str) -> str:
    if path == "academy.yaml" or path == PRACTICE:
        return path.removesuffix(".yaml")
    return next(
        (kind for kind, name in KINDS.items() if f"/{name}" in path), _OF_CONTENT.get(path.split("/")[0], "student")
    )


@st.composite
def moved_about(draw: st.DrawFn, data: Any) -> Any:
    """The value with one place in it changed: odd, gone, doubled, many times there, under another key."""
    if not isinstance(data, (dict, list)) or not data or draw(st.integers(0, 3)) == 0:
        return draw(odd)
    keys = list(data) if isinstance(data, dict) else list(range(len(data)))
    key = draw(st.sampled_from(keys))
    changed = data.copy()
    how = draw(st.sampled_from(("deeper", "deeper", "deeper", "gone", "renamed", "many", "number", "other")))
    if how == "gone":
        del changed[key]
    elif how == "renamed" and isinstance(changed, dict):
        changed[draw(st.sampled_from([*keys, "date", "metric", 5, None]))] = changed.pop(key)
    elif how == "many" and isinstance(changed, list):
        changed = changed * draw(st.sampled_from([2, 15, 500]))
    elif how == "number" and isinstance(changed[key], (int, float)):
        changed[key] = changed[key] * draw(st.sampled_from([-1, 0, 1e-6, 10, 1000, 1e9, 1.1])) + draw(
            st.sampled_from([0, 1])
        )
    elif how == "other":
        changed[key] = changed[draw(st.sampled_from(keys))]
    else:
        changed[key] = draw(moved_about(changed[key]))
    return changed


@st.composite
def sheet(draw: st.DrawFn, files: Mapping[str, Entry]) -> Mapping[str, Entry]:
    """A file of YAML: with slips, one place changed, or made anew from its schema."""
    paths = [path for path, entry in files.items() if path.endswith(".yaml") and isinstance(entry, bytes)]
    path = draw(st.sampled_from([*paths, *OF_THE_CONTENT]))
    entry = files.get(path, b"")
    text = entry.decode("utf-8", "replace") if entry and isinstance(entry, bytes) else shipped_text(path)
    if path == DRILL:
        _, front, rest = text.split("---\n", 2) if text.count("---\n") > 1 else ("", text, "")
        return {path: b"---\n" + draw(_yaml(front, "drill")) + f"---\n{draw(st.just(rest) | repeated)}".encode()}
    return {path: draw(_yaml(text, _kind_of(path)))}


@st.composite
def _yaml(draw: st.DrawFn, text: str, kind: str) -> bytes:
    how = draw(st.sampled_from(("slips", "changed", "changed", "anew", "anew", "bytes")))
    try:
        data = yaml.load(text, yaml.CSafeLoader)
    except (yaml.YAMLError, ValueError):
        return draw(yamlish).encode("utf-8", "surrogatepass")
    if how == "slips":
        return draw(slipped([text])).encode("utf-8", "surrogatepass")
    if how == "bytes":
        raw = text.encode()
        at = draw(st.integers(0, len(raw)))
        return raw[:at] + draw(st.binary(max_size=4)) + raw[at + draw(st.integers(0, 4)) :]
    if how == "anew" and kind not in ("practice", "safety"):
        fresh = draw(sound(_schema(kind)))
        kept = data if isinstance(data, dict) else {}
        needed = {name: kept[name] for name in _KEPT & kept.keys()}
        return dumped(kept | fresh | needed if draw(st.booleans()) else fresh | needed)
    return dumped(draw(moved_about(data)))


_KEPT = {"student", "date", "club", "name", "born", "plays", "secret", "instructor", "id", "private", "theme", "metric"}
"""Fields that stay as they are in a sheet made anew, so that not every such sheet is refused for one of them."""


@st.composite
def still(draw: st.DrawFn, files: Mapping[str, Entry]) -> Mapping[str, Entry]:
    """A picture in the place of another."""
    paths = [path for path in files if "/stills/" in path]
    return {draw(st.sampled_from(paths)): draw(pictures)} if paths else {}


@st.composite
def table(draw: st.DrawFn, files: Mapping[str, Entry]) -> Mapping[str, Entry]:
    """A table with slips, in another encoding, with odd cells."""
    text = base()[TABLE].decode("utf-8")
    how = draw(st.sampled_from(("slips", "coded", "cells", "binary")))
    if how == "coded":
        return {
            TABLE: text.encode(draw(st.sampled_from(["utf-16", "utf-8-sig", "cp1252", "utf-32", "cp500"])), "replace")
        }
    if how == "binary":
        return {TABLE: draw(st.binary(max_size=300))}
    if how == "cells":
        cell = draw(st.one_of(numbers.map(str), texts))
        return {
            TABLE: text.replace(draw(st.sampled_from(["94,0", "Mean", "Swing", ";", "\n"])), cell).encode(
                "utf-8", "replace"
            )
        }
    return {TABLE: draw(slipped([text])).encode("utf-8", "surrogatepass")}


@st.composite
def catalogue(draw: st.DrawFn, files: Mapping[str, Entry]) -> Mapping[str, Entry]:
    """A catalogue of the academy's own, and somebody who reads in its language."""
    path = "students/petra-lumsgate/student.yaml"
    told = {path: base()[path] + b"\nlanguage: pt\n"}
    name = draw(st.sampled_from([CATALOGUE, CATALOGUE, "languages/xx-YY.po", "languages/.po"]))
    return told | {name: draw(slipped([shipped_text(CATALOGUE)])).encode("utf-8", "surrogatepass")}


@st.composite
def theme(draw: st.DrawFn, files: Mapping[str, Entry]) -> Mapping[str, Entry]:
    """A theme of the academy's own, with slips in one template."""
    name = f"{THEME}/{draw(st.sampled_from(TEMPLATES))}"
    text = draw(slipped([shipped_text(name)]))
    if draw(st.booleans()):
        names = st.sampled_from(
            ["academy", "student", "lesson", "page", "loop", "self", "range(99999999)", "''", "none"]
        )
        more = st.sampled_from(
            ["", "|e", ".x", "[0]", "*9999999", "|safe", "|list", "()", ".__class__", "|center(99999999)"]
        )
        text += "{{ " + draw(names) + draw(more) + " }}"
    return {
        "academy.yaml": base()["academy.yaml"] + f"\ntheme: ./{THEME}\n".encode(),
        name: text.encode("utf-8", "replace"),
    }


@st.composite
def entry(draw: st.DrawFn, files: Mapping[str, Entry]) -> Mapping[str, Entry | None]:
    """Something that lies where it does not belong, or is no longer where it was."""
    place = draw(st.sampled_from(PLACES)).format(draw(st.sampled_from(NAMES)))
    there = draw(st.sampled_from(sorted(files)))
    links = st.sampled_from(
        ["/etc/passwd", ".", "..", "nowhere", "/dev/zero", "/proc/self/mem", "../" * 20, "academy.yaml"]
    )
    what = draw(st.one_of(
        st.just(Folder()), st.just(Pipe()), links.map(Link), st.binary(max_size=60), st.just(b"\0" * HUGE),
        st.sampled_from(sorted(base())).map(lambda path: base()[path]),
    ))  # fmt: skip
    how = draw(st.sampled_from(("more", "more", "instead", "gone", "student gone")))
    if how == "gone":
        return {there: None}
    if how == "student gone":
        student = draw(st.sampled_from(sorted(STUDENTS)))
        return {path: None for path in files if path.startswith(f"students/{student}/")}
    return {place if how == "more" else there: what}


environments = st.one_of(
    st.just({}), st.just({}), st.just({}),
    st.fixed_dictionaries({}, optional={
        "TZ": st.sampled_from([":/etc/passwd", "UTC+26", "", "Nowhere/Here", "x" * 5000, "EST5EDT", "<+14>-14", ":"]),
        "SOURCE_DATE_EPOCH": st.sampled_from(["0", "-1", "253402300799", "9" * 30, "", "today", "1e9", "1795608000.5"]),
        "LANG": st.sampled_from(["C", "tr_TR.UTF-8", "xx", "", "de_DE@euro"]),
        "LC_ALL": st.sampled_from(["C", "POSIX", "zz_ZZ.UTF-9"]),
        "PYTHONIOENCODING": st.sampled_from(["ascii", "latin-1", "nonsense"]),
        "COLUMNS": st.sampled_from(["1", "0", "-5", "x", "100000"]), "TERM": st.sampled_from(["dumb", "", "nosuch"]),
        "HOME": st.sampled_from(["/nowhere", ""]), "TMPDIR": st.just("/nowhere"), "NO_COLOR": st.just("1"),
        "MPLCONFIGDIR": st.just("/nowhere"), "FONTCONFIG_FILE": st.just("/nowhere"),
        "XDG_CACHE_HOME": st.just("/dev/null"),
    }),
)  # fmt: skip
"""Variables that a shell, a scheduler or a slip may set."""

CHANGES: tuple[Callable[[Mapping[str, Entry]], st.SearchStrategy[Mapping[str, Entry | None]]], ...] = (
    sheet, sheet, sheet, sheet, sheet, sheet, still, table, catalogue, theme, entry, entry
)  # fmt: skip


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """An academy with one to four changes, on some machine."""
    changed: dict[str, Entry | None] = {}
    for _ in range(draw(st.sampled_from([1, 1, 2, 3, 4]))):
        files = {path: entry for path, entry in {**base(), **changed}.items() if entry is not None}
        if files:
            changed |= draw(draw(st.sampled_from(CHANGES))(files))
    return Case(changed, draw(environments))
