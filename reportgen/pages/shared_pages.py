"""What belongs to no student: style and faces of all pages, the instructor's desk."""

from collections.abc import Mapping, Sequence
from datetime import date

from reportgen.languages.speaking import speaking
from reportgen.pages.faces import FACES, woff2
from reportgen.pages.theme import environment, theme_file
from reportgen.saying.desk import ToldCautions, ToldEntry
from reportgen.saying.readers import language_called
from reportgen.sheets.academy_folder import Home
from reportgen.sheets.problems import Problem


def assets(home: Home) -> Mapping[str, bytes]:
    """The style and the faces of all pages."""
    faces = {f"faces/{name}.woff2": woff2(name) for name in FACES}
    return {"style.css": theme_file("style.css", home).encode(), **faces}


def blank_page(home: Home) -> bytes:
    """What stands where a host would otherwise list the names of what it keeps."""
    with speaking(language_called(home.academy.language, home.root)):
        return environment(home).get_template("blank.html").render().encode()


def desk_page(
    students: Sequence[ToldEntry],
    cautions: Sequence[ToldCautions],
    problems: Sequence[Problem],
    as_of: date,
    home: Home,
    *,
    season: bool = False,
) -> bytes:
    """The instructor's overview, in the language that is being spoken; with `season` it leads to the page about the
    academy as a whole."""
    desk = environment(home).get_template("desk.html")
    text = desk.render(
        assets="assets/", students=students, cautions=cautions, problems=problems, as_of=as_of, season=season
    )
    return text.encode()
