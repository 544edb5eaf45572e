"""The academy's own theme as a folder of files: where it stands, and whether its files can be read as text."""

from collections.abc import Iterator
from pathlib import Path, PurePosixPath
from posixpath import normpath

from reportgen.records.academy import Academy
from reportgen.sheets.files import decoded
from reportgen.sheets.problems import Problem, is_hidden, shown
from reportgen.sheets.reading import Sheet

_TEXT = {".html", ".txt", ".css", ".js"}


def theme_problems(root: Path, sheet: Sheet[Academy]) -> list[Problem]:
    """The problems of the theme that academy.yaml, in `root`, names. What templates say is not looked at here."""
    written = str(sheet.record.theme)
    try:
        folder = (root / written).resolve()
        there = folder.is_dir()
    except (OSError, ValueError, RuntimeError):
        there = False
    if not there:
        return [sheet.problem(("theme",), f"there is no folder {shown(written)}", "Look at its name.")]
    if not folder.is_relative_to(root.resolve()):
        return [sheet.problem(("theme",), "the theme lies outside the academy", "Put its folder inside the academy.")]
    below = PurePosixPath(normpath(written))
    if below.is_absolute() or is_hidden(written) or below.parts[:1] == ("students",):
        wrong = "the theme lies in a hidden folder, among the students, or is not told from the academy's folder on"
        return [sheet.problem(("theme",), wrong, "Put it beside students, as in theme: look.")]
    return list(_unreadable(folder, root.resolve()))


def _unreadable(folder: Path, root: Path) -> Iterator[Problem]:
    for file in sorted(folder.rglob("*")):
        if file.suffix not in _TEXT or not file.is_file():
            continue
        path = file.relative_to(root).as_posix()
        try:
            _, problem = decoded(file.read_bytes(), path)
        except OSError as error:
            wrong = f"the file cannot be read ({error.strerror})"
            problem = Problem(path, 1, 1, wrong, "Look at its name and its rights.")
        if problem is not None:
            yield problem
