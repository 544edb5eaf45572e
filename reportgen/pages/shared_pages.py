"""The pages that belong to no student: style and faces, the drill library, the instructor's desk."""

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from reportgen.pages.faces import FACES, woff2
from reportgen.pages.purposes import by_purpose, served_by
from reportgen.pages.theme import environment, theme_file
from reportgen.planning.desk import DeskCaution, DeskEntry
from reportgen.records.academy import Academy
from reportgen.sheets.library import Library
from reportgen.sheets.problems import Problem


def assets(academy: Academy, root: Path) -> Mapping[str, bytes]:
    """The style and the faces of all pages."""
    faces = {f"faces/{name}.woff2": woff2(name) for name in FACES}
    return {"style.css": theme_file("style.css", academy, root).encode(), **faces}


def library_pages(academy: Academy, library: Library, root: Path) -> Mapping[str, bytes]:
    """The drill library: its index and a page for each drill."""
    pages = environment(academy, root)
    drills = sorted(library.drills.values(), key=lambda d: d.title)
    groups = by_purpose(library.drills, library.metrics)
    index = pages.get_template("library.html").render(assets="../assets/", drills=drills, groups=groups)
    files = {"index.html": index.encode()}
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


def desk_page(
    students: Sequence[DeskEntry],
    cautions: Sequence[DeskCaution],
    problems: Sequence[Problem],
    as_of: date,
    academy: Academy,
    root: Path,
) -> bytes:
    """The instructor's overview."""
    text = (
        environment(academy, root)
        .get_template("desk.html")
        .render(assets="assets/", students=students, cautions=cautions, problems=problems, as_of=as_of)
    )
    return text.encode()
