"""The user guide: the shipped texts, and tables made from the records and the library that it speaks of."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import groupby
from typing import Any

from markupsafe import Markup

from reportgen.drawing.stand import stand
from reportgen.languages.speaking import say, speaking
from reportgen.pages.guide_fields import FIELDS, descriptions, field_messages, files_of
from reportgen.pages.guide_texts import blocks, drawing_in, guide_texts, is_example
from reportgen.pages.prose import prose
from reportgen.pages.theme import environment, theme_file
from reportgen.records.words import MOMENTS
from reportgen.saying.readers import Reader, language_called, library_for
from reportgen.sheets.academy_folder import SoundAcademy

_DRAWINGS = {"stand": stand}
"""The drawings that a text of the guide can name."""


def guide_messages() -> Iterator[tuple[str, str]]:
    """(where it stands, text) of what the guide says besides its templates, for the catalogues."""
    for page in guide_texts():
        yield from ((f"content/guide/{page.name}", text) for text in (page.title, page.about))
        yield from ((f"content/guide/{page.name}", b) for b in blocks(page.text) if not is_example(b))
    for _, _, _, kinds in FIELDS:
        told: set[str] = set()
        for kind in kinds.values():
            yield from ((f"content/fields/{record}", text) for record, text in field_messages(kind, told))
            yield from (("reportgen/records", text) for text in descriptions(kind.model_json_schema()))


def guide_pages(home: SoundAcademy) -> Mapping[str, bytes]:
    """The guide in the academy's language: its contents, each text, and the tables of fields, metrics and drills."""
    language = language_called(home.academy.language, home.root)
    with speaking(language):
        return _pages(replace(home, library=library_for(Reader(language), home.library)))


def _pages(home: SoundAcademy) -> Mapping[str, bytes]:
    texts = guide_texts()
    titles = [(page.name, say(page.title), say(page.about)) for page in texts]
    called = say("Metrics and drills")
    titles.append(("library", called, say("The words that stand after metric and after drills.")))
    titles += [(name, say(title), say(about)) for name, title, about, _ in FIELDS]
    template, library = environment(home).get_template("guide.html"), home.library

    def page(name: str, title: str, **values: Any) -> bytes:
        shown = {"body": None, "files": None, "library": None, **values}
        made = template.render(assets="../assets/", here=name, titles=titles, title=title, moments=MOMENTS, **shown)
        return made.encode()

    files = {}
    for text in texts:
        files[f"{text.name}.html"] = page(text.name, say(text.title), body=_body(text.text))
    for name, title, _, kinds in FIELDS:
        files[f"{name}.html"] = page(name, say(title), files=files_of(kinds))
    files["library.html"] = page("library", called, library={"metrics": library.metrics, "drills": library.drills})
    files["index.html"] = page("index", say("How to work with reportgen"))
    files["guide.css"] = theme_file("guide.css", home).encode()
    return files


def _body(text: str) -> Markup:
    """A text of the guide as HTML, its drawings in their places."""
    parts: list[Markup] = []
    for name, together in groupby(blocks(text), drawing_in):
        if name is not None:
            svg = Markup(_DRAWINGS[name]().svg)  # noqa: S704  drawn here
            parts.append(Markup('<figure class="chart wide">{}</figure>\n').format(svg))
        else:
            told = "\n\n".join(block if is_example(block) else say(block) for block in together)
            parts.append(prose(told, heading=1))
    return Markup("").join(parts)
