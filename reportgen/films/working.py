"""Where films lie while a lesson is written: beside the academy, for the instructor's eyes alone, a folder for each.

<academy>.films/<student>/<lesson>/<number>/
"""

from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.rights import own_folder

FILMS = (".mov", ".mp4", ".m4v")
"""How the names of films end, as phones give them."""
PICTURES = (".heic", ".heif", ".jpg", ".jpeg", ".png", ".webp")
_MOST = 999


def films_of(academy: Path) -> Path:
    """Where the films of an academy lie while lessons are written: beside its folder."""
    home = academy.resolve()
    return home.with_name(f"{home.name}.films")


def films_about(academy: Path, student: str) -> list[Path]:
    """The films of a student that lie there now, in the order of their lessons."""
    return sorted((films_of(academy) / student).glob("*/*/film.*"), key=str)


def new_folder(of_lesson: Path) -> Path:
    """A folder for the next film of a lesson, whose films lie in `of_lesson`. Raises ReportgenError, OSError."""
    for folder in (of_lesson.parent.parent, of_lesson.parent, of_lesson):
        own_folder(folder)
    latest = max((int(one.name) for one in of_lesson.iterdir() if one.name.isdecimal()), default=0)
    for number in range(latest + 1, _MOST):
        try:
            (of_lesson / str(number)).mkdir(mode=0o700)
        except FileExistsError:
            continue
        return of_lesson / str(number)
    raise ReportgenError(f"{of_lesson} has {_MOST} films. Take some out.")
