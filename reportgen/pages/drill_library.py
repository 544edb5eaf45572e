"""The drill library for members: an index to search, a page for each drill, and all of them as cards to print."""

from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path

from reportgen.languages.speaking import speaking
from reportgen.pages.cards import cards_pdf
from reportgen.pages.purposes import by_purpose, served_by
from reportgen.pages.sealed import hash_of
from reportgen.pages.theme import environment, theme_file
from reportgen.records.academy import Academy
from reportgen.records.content import Drill
from reportgen.records.wording import moment_name, slug_name
from reportgen.sheets.library import Library
from reportgen.sheets.readers import library_for, reader_of


def library_pages(academy: Academy, library: Library, root: Path) -> Mapping[str, bytes]:
    """Every file of the library, in the academy's language: path inside its folder -> bytes."""
    reader = reader_of(None, academy, root)
    with speaking(reader.language):
        return _pages(academy, library_for(reader, library), root)


def _pages(academy: Academy, library: Library, root: Path) -> Mapping[str, bytes]:
    pages = environment(academy, root)
    drills = sorted(library.drills.values(), key=lambda d: d.title)
    script = theme_file("library.js", academy, root)
    index = pages.get_template("library.html").render(
        assets="../assets/",
        drills=drills,
        groups=by_purpose(library.drills, library.metrics),
        words={drill.id: search_words(drill, library) for drill in drills},
        marks={drill.id: sha256(drill.model_dump_json().encode()).hexdigest()[:12] for drill in drills},
        script=script,
        policy=f"default-src 'none'; script-src {hash_of(script)}; style-src 'self'; font-src 'self'; base-uri 'none'; "
        "form-action 'none'",
    )
    files = {"index.html": index.encode(), "cards.pdf": cards_pdf(drills, academy, root)}
    for drill in drills:
        text = pages.get_template("drill.html").render(
            frame="library-frame.html",
            assets="../assets/",
            drill=drill,
            given=None,
            serves=served_by(drill, library.metrics),
        )
        files[f"{drill.id}.html"] = text.encode()
    return files


def search_words(drill: Drill, library: Library) -> str:
    """All that a drill is found by, in small letters: title, aim, what it serves and when, equipment, what it loads."""
    moments = [moment_name(library.metrics[serves.metric].checkpoint) for serves in drill.serves]
    slugs = [slug_name(slug) for slug in (*drill.equipment, *drill.loads)]
    parts = [drill.title, drill.aim, *served_by(drill, library.metrics), *moments, *slugs]
    return " ".join(" ".join(parts).lower().split())
