"""What belongs to no student: style and faces of all pages, the instructor's desk."""

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from reportgen.languages.speaking import speaking
from reportgen.pages.faces import FACES, woff2
from reportgen.pages.theme import environment, theme_file
from reportgen.planning.desk import DeskCaution, DeskEntry
from reportgen.records.academy import Academy
from reportgen.sheets.problems import Problem
from reportgen.sheets.readers import spoken


def assets(academy: Academy, root: Path) -> Mapping[str, bytes]:
    """The style and the faces of all pages."""
    faces = {f"faces/{name}.woff2": woff2(name) for name in FACES}
    return {"style.css": theme_file("style.css", academy, root).encode(), **faces}


def desk_page(
    students: Sequence[DeskEntry],
    cautions: Sequence[DeskCaution],
    problems: Sequence[Problem],
    as_of: date,
    academy: Academy,
    root: Path,
    *,
    season: bool = False,
) -> bytes:
    """The instructor's overview; with `season` it leads to the page about the academy as a whole."""
    desk = environment(academy, root).get_template("desk.html")
    with speaking(spoken(academy.language, root)):
        text = desk.render(
            assets="assets/", students=students, cautions=cautions, problems=problems, as_of=as_of, season=season
        )
    return text.encode()
