"""Every message of program, themes and content -> the catalogues of content/languages, brought up to date.

    python -m tests.languages.collect

writes `messages.pot` and, into each `<code>.po`, what is new in it, without losing a translation, and compiles it to
`<code>.mo`, which the program reads. `content/languages/` holds what is to be translated anew as messages that are
empty or marked fuzzy.
"""

import io
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import get_args

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

from reportgen.languages.catalogues import compiled
from reportgen.pages.guide_pages import guide_messages
from reportgen.records import words
from reportgen.records.content import DRILL_SECTIONS
from reportgen.records.units import UNITS
from reportgen.saying.translated import texts_of
from reportgen.sheets.library import Library, load_library
from reportgen.sheets.shipped import shipped

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "content" / "languages"
KEYWORDS = {
    "say": None, "later": None, "_": None, "gettext": None,
    "say_count": (1, 2), "ngettext": (1, 2), "say_as": ((1, "c"), 2), "pgettext": ((1, "c"), 2),
}  # fmt: skip
NAMED = (words.Site, words.Mark, words.Stage, words.PractisedKind)
"""Names of sheets that a reader sees; they are read with spaces."""


def library() -> Library:
    """The shipped library, in English."""
    return load_library(shipped("content"), ROOT / "no-academy")[0]


def messages() -> Iterator[tuple[str, str | None, str | tuple[str, str]]]:
    """(where it stands, context, message or its two forms) of everything that is translated."""
    options = {"trimmed": "true", "silent": "false"}
    sources = (
        ("reportgen", "**.py", "python"),
        ("themes", "**.html", "jinja2.ext:babel_extract"),
        ("themes", "**.txt", "jinja2.ext:babel_extract"),
    )
    for folder, pattern, method in sources:
        found = extract_from_dir(
            ROOT / folder, [(pattern, method)], {pattern: options}, keywords=KEYWORDS, comment_tags=()
        )
        for file, _, message, _, context in sorted(found, key=lambda one: (one[0], one[1])):
            yield f"{folder}/{file}", context, message
    for kind in NAMED:
        yield from (("records/words.py", None, name.replace("-", " ")) for name in get_args(kind))
    for unit in UNITS:
        yield "records/units.py", "unit", unit
    for heading in DRILL_SECTIONS:
        yield "content/drills", None, heading
    yield from ((where, None, text) for where, text in guide_messages())
    shared = library()
    for slug in sorted({slug for drill in shared.drills.values() for slug in drill.needs}):
        yield "content/drills", None, slug.replace("-", " ")
    for where, context, text in texts_of(shared):
        yield f"content/{where}", context, text


def template() -> Catalog:
    """All messages, none of them translated."""
    catalog = Catalog(project="reportgen", charset="utf-8", fuzzy=False, header_comment="# Messages of reportgen.")
    catalog.creation_date = catalog.revision_date = datetime(2026, 1, 1, tzinfo=UTC)  # no date: no change without one
    for where, context, message in messages():
        catalog.add(message, locations=[(where, 0)], context=context)
    return catalog


def updated(file: Path) -> Catalog:
    """A catalogue with every message there is, those that are gone left out."""
    with file.open("rb") as read:
        catalog = read_po(read, locale=file.stem)
    catalog.update(template(), no_fuzzy_matching=True)
    catalog.obsolete.clear()
    return catalog


def written(catalog: Catalog) -> bytes:
    """A catalogue as its file holds it."""
    into = io.BytesIO()
    write_po(into, catalog, width=100, omit_header=False, include_lineno=False, sort_by_file=False)
    return into.getvalue()


def main() -> None:
    """Bring all catalogues up to date, and say what each lacks."""
    (FOLDER / "messages.pot").write_bytes(written(template()))
    for file in sorted(FOLDER.glob("*.po")):
        catalog = updated(file)
        file.write_bytes(written(catalog))
        file.with_suffix(".mo").write_bytes(compiled(file, file.stem))
        lacks = [m for m in catalog if m.id and not all(m.string if isinstance(m.string, tuple) else [m.string])]
        sys.stdout.write(f"{file.name}: {len(catalog)} messages, {len(lacks)} not translated\n")


if __name__ == "__main__":
    main()
