"""The published demo as tests look at it: pages parsed as the standard says, texts of recaps, who has which area."""

import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import yaml

ROOT = Path(__file__).parents[2]
ACADEMY = ROOT / "examples" / "academy"
SVG = "{http://www.w3.org/2000/svg}svg"
"""A drawing inside a page."""
TEXTS = {".html", ".css", ".ics"}


@dataclass(frozen=True)
class Page:
    """One HTML page; reading it fails on anything that the HTML standard calls a parse error."""

    path: Path

    @cached_property
    def html(self) -> str:
        return self.path.read_text(encoding="utf-8")

    @cached_property
    def root(self) -> Element:
        return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(self.html)

    @cached_property
    def text(self) -> str:
        return plain(" ".join(self.root.itertext()))

    def all(self, tag: str, css_class: str | None = None) -> list[Element]:
        found = self.root.iter(tag)
        return [e for e in found if css_class is None or css_class in e.get("class", "").split()]


@dataclass(frozen=True)
class Site:
    """The folder of a publish."""

    folder: Path
    pages: tuple[Page, ...]

    @cached_property
    def desk(self) -> Page:
        return next(page for page in self.pages if page.path == self.folder / "desk" / "index.html")

    @cached_property
    def areas(self) -> dict[str, Path]:
        """Each student's folder, by id: where the link on the desk with the student's name leads."""
        links = {plain("".join(a.itertext())): a.get("href") for a in self.desk.all("a")}
        return {
            student: (self.desk.path.parent / str(links[written["name"]])).resolve().parent
            for student, written in students().items()
        }

    def page(self, *parts: str) -> Page:
        path = self.folder.joinpath(*parts)
        return next(page for page in self.pages if page.path == path)

    def in_area(self, student: str) -> list[Page]:
        return [page for page in self.pages if page.path.is_relative_to(self.areas[student])]

    def files(self, below: Path | None = None) -> list[Path]:
        """Every published file, those of the program's own bookkeeping among them."""
        return [file for file in sorted((below or self.folder).rglob("*")) if file.is_file()]


def students() -> dict[str, dict[str, Any]]:
    """student.yaml of every demo student, by id, as plain YAML."""
    folders = sorted((ACADEMY / "students").iterdir())
    return {f.name: yaml.safe_load((f / "student.yaml").read_text(encoding="utf-8")) for f in folders}


@cache
def text_of(file: Path) -> str:
    """What a published file says: the source of pages, drawings and styles; the words and titles of a recap."""
    if file.suffix in TEXTS:
        return file.read_text(encoding="utf-8")
    if file.suffix == ".pdf":
        return pdf_text(file) + _tool("pdfinfo", str(file))
    return ""


@cache
def pdf_text(file: Path) -> str:
    return _tool("pdftotext", str(file), "-")


def _tool(*command: str) -> str:
    return subprocess.run(command, check=True, capture_output=True, text=True, encoding="utf-8").stdout


def plain(text: str) -> str:
    """A text with every run of white space as one space."""
    return " ".join(text.split())


def addresses(page: Page) -> Iterator[tuple[str, str]]:
    """Everything on a page that a browser may follow or load: (tag, address)."""
    for element in page.root.iter():
        if not isinstance(element.tag, str):
            continue
        for name in ("href", "src", "poster", "data", "action", "formaction", "background"):
            if name in element.attrib:
                yield element.tag, element.attrib[name]
        for candidate in element.get("srcset", "").split(","):
            if candidate.strip():
                yield element.tag, candidate.split()[0]
        for address in urls(element.get("style", "")):
            yield element.tag, address
    for style in page.all("style"):
        for address in urls("".join(style.itertext())):
            yield "style", address


def urls(css: str) -> list[str]:
    """The addresses in url(...) and @import of a style."""
    return [a.strip("\"' ") for a in re.findall(r"url\(([^)]*)\)", css) + re.findall(r"@import\s+([\"'][^\"']+)", css)]
