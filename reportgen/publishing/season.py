"""The page of the desk about the academy as a whole, made when the instructor asks: it judges every lesson again."""

from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.pipeline import reports_of
from reportgen.publishing.addresses import token
from reportgen.publishing.dates import build_day
from reportgen.sheets.academy_folder import TOUCH_EVERYBODY, AcademyFolder
from reportgen.sheets.readers import reader_of


def write_season(folder: AcademyFolder, to: Path) -> Path:
    """Write `to`/desk/season.html from all lessons of the students free of problems, replacing it in one step.

    Raises ReportgenError where nothing was published into `to` yet, or where academy.yaml has problems.
    """
    from reportgen.pages.season_page import season_page
    from reportgen.planning.season import season

    if folder.academy is None or folder.shared_problems:
        raise ReportgenError(TOUCH_EVERYBODY)
    if not (to / "desk" / "index.html").is_file():
        raise ReportgenError(f"{to} holds no publish. Publish first: reportgen publish {folder.root} --to {to}")
    academy, library = folder.academy, folder.library
    sound = [s for s in folder.students.values() if s.student is not None and s.lessons and not s.problems]
    places = {name: f"upload/s/{token(name, academy)}/index.html" for name in folder.students}
    pages = {name: f"../{place}" for name, place in places.items() if (to / place).is_file()}
    reader = reader_of(None, academy, folder.root)
    found = season((reports_of(one, academy, library, folder.students, reader) for one in sound), library.drills)
    page, beside = to / "desk" / "season.html", to / ".made" / "season.html"
    beside.write_bytes(season_page(found, pages, build_day(academy), academy, folder.root))
    beside.replace(page)
    return page
