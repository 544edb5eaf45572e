"""The texts of the user guide as they are shipped, in the blocks that are translated one by one."""

import re
from dataclasses import dataclass

from reportgen.sheets.shipped import shipped

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
    """Whether a block is what one writes or types, the same in every language; the name of a drawing is such a one."""
    return block.startswith("```") or drawing_in(block) is not None


def drawing_in(block: str) -> str | None:
    """The name of the drawing that stands where a block is, written as {drawing: name}; None where it is another."""
    found = re.fullmatch(r"\{drawing: ([a-z-]+)\}", block)
    return found[1] if found else None
