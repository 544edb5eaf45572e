"""The page of the desk about the academy as a whole, made when the instructor asks: it judges every lesson again."""

from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.pipeline import reports_of
from reportgen.rights import write_atomically
from reportgen.saying.readers import reader_of
from reportgen.saying.season import told_season
from reportgen.sealing.addresses import token
from reportgen.sheets.academy_folder import AcademyFolder, sound
from reportgen.sheets.today import build_day


def write_season(folder: AcademyFolder, to: Path) -> Path:
    """Write `to`/desk/season.html from all lessons of the students free of problems, replacing it in one step.

    Raises ReportgenError where nothing was published into `to` yet, or where academy.yaml has problems.
    """
    from reportgen.pages.season_page import season_page
    from reportgen.planning.season import season

    home = sound(folder)
    if not (to / "desk" / "index.html").is_file():
        raise ReportgenError(f"{to} holds no publish. Publish first: reportgen publish {folder.root} --to {to}")
    judged = [s for s in folder.students.values() if s.student is not None and s.lessons and not s.problems]
    places = {name: f"upload/s/{token(name, home.academy)}/index.html" for name in folder.students}
    pages = {name: f"../{place}" for name, place in places.items() if (to / place).is_file()}
    found = season(
        (reports_of(one, home, folder.students) for one in judged), home.library.drills, home.library.metrics
    )
    told = told_season(found, home.library, reader_of(None, home))
    page = to / "desk" / "season.html"
    write_atomically(page, season_page(told, pages, build_day(home.academy), home))
    return page
