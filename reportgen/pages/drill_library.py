"""The drill library for members: an index to search, a page for each drill, and all of them as cards to print."""

import hmac
from collections.abc import Mapping
from dataclasses import replace

from reportgen.languages.speaking import speaking
from reportgen.pages.cards import cards_pdf
from reportgen.pages.drill_pictures import figure_files, shown_figures
from reportgen.pages.purposes import by_purpose, served_by
from reportgen.pages.sealed import hash_of
from reportgen.pages.theme import environment, theme_file
from reportgen.pages.videos import video_files, with_video
from reportgen.records.academy import Academy
from reportgen.records.content import Drill
from reportgen.saying.drill_tests import how_to_test
from reportgen.saying.readers import library_for, reader_of
from reportgen.saying.skipping import leave_out_if
from reportgen.saying.wording import moment_name, slug_name
from reportgen.sheets.academy_folder import SoundAcademy
from reportgen.sheets.library import Library

CARDS = "cards.pdf"
"""The name of the cards, to which the index leads."""


def library_pages(home: SoundAcademy) -> Mapping[str, bytes]:
    """The pages of the library and its videos, in the academy's language: path inside its folder -> bytes."""
    reader = reader_of(None, home)
    with speaking(reader.language):
        return _pages(replace(home, library=library_for(reader, home.library)))


def library_cards(home: SoundAcademy) -> bytes:
    """All drills as cards to print, in the academy's language. Raises MachineError where nothing can be printed."""
    reader = reader_of(None, home)
    with speaking(reader.language):
        library = library_for(reader, home.library)
        drills = _by_title(library)
        return cards_pdf(drills, home, {drill.id: shown_figures(drill, "right", library) for drill in drills})


def _by_title(library: Library) -> list[Drill]:
    return sorted(library.drills.values(), key=lambda d: d.title)


def _pages(home: SoundAcademy) -> Mapping[str, bytes]:
    pages, library = environment(home), home.library
    drills = _by_title(library)
    script = theme_file("library.js", home)
    index = pages.get_template("library.html").render(
        assets="../assets/",
        drills=drills,
        groups=by_purpose(library),
        words={drill.id: search_words(drill, library) for drill in drills},
        marks={drill.id: _mark(drill, home.academy) for drill in drills},
        script=script,
        policy=f"default-src 'none'; script-src {hash_of(script)}; style-src 'self'; font-src 'self'; base-uri 'none'; "
        "form-action 'none'",
    )
    files = {"index.html": index.encode(), **video_files(library)}
    for drill in drills:
        figures = shown_figures(drill, "right", library)
        text = pages.get_template("drill.html").render(
            frame="library-frame.html",
            assets="../assets/",
            drill=with_video(drill, library, ""),
            given=None,
            test=drill.test and how_to_test(drill.test),
            tested=None,
            figures=figures,
            serves=served_by(drill, library),
            leave_out=leave_out_if(drill),
        )
        files |= {f"{drill.id}.html": text.encode(), **figure_files(figures)}
    return files


def _mark(drill: Drill, academy: Academy) -> str:
    """By which a reader's browser knows a drill again as it is now. It keeps the mark, from which nobody can tell the
    drill: the shipped ones are known to everybody, the academy's secret is not."""
    told = f"drill:{drill.model_dump_json()}".encode()
    return hmac.digest(academy.secret.encode(), told, "sha256").hex()[:12]


def search_words(drill: Drill, library: Library) -> str:
    """All that a drill is found by, in small letters: title, aim, what it serves and when, equipment, what it loads."""
    moments = [moment_name(library.metrics[serves.metric].checkpoint) for serves in drill.serves]
    slugs = [slug_name(slug) for slug in (*drill.needs, *drill.loads)]
    parts = [drill.title, drill.aim, *served_by(drill, library), *moments, *slugs]
    return " ".join(" ".join(parts).lower().split())
