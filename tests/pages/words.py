"""What a reader sees of a page, word by word: nothing folded, drawn or meant for readers of the screen alone. A swing
to step through is looked at, its captions among it."""

from collections.abc import Iterator
from xml.etree.ElementTree import Element

import html5lib

DRILL, DAY = "do", "on-day"
"""The classes of the line that names a drill, and of a day of practice."""
CARE = "care"
"""The class of the cautions that stand before the drills."""


def main_of(page: str) -> Element:
    """The main part of a page."""
    root = html5lib.HTMLParser(namespaceHTMLElements=False).parse(page)
    return next(root.iter("main"))


def seen(element: Element, without: str | None = None, until: str | None = None) -> list[str]:
    """The words that are seen of `element` as it opens, without what is of the class `without`, and only those before
    the first element of the class `until`."""
    words: list[str] = []
    for part in _texts(element, without, until):
        if part is None:
            break
        words += part.split()
    return words


def _texts(element: Element, without: str | None, until: str | None) -> Iterator[str | None]:
    """The texts in their order; None where `until` begins."""
    classes = element.get("class", "").split()
    if not isinstance(element.tag, str) or element.tag.endswith("svg"):
        return
    if {"sr", "swing", without} & set(classes):
        return
    if until in classes:
        yield None
    yield element.text or ""
    folded = element.tag == "details" and "open" not in element.attrib
    for child in element:
        if not folded or child.tag == "summary":
            yield from _texts(child, without, until)
        yield child.tail or ""


def has(element: Element, css_class: str) -> bool:
    """Whether something of that class stands in it."""
    return any(css_class in part.get("class", "").split() for part in element.iter())
