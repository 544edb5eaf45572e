"""The academy's own theme as a folder: where it stands, whether its files can be read, what its styles load."""

from collections.abc import Iterator
from pathlib import Path

from reportgen.records.academy import Academy
from reportgen.sheets.files import decoded, leads_out
from reportgen.sheets.problems import Problem, is_hidden, shown
from reportgen.sheets.reading import Sheet
from reportgen.sheets.style_checks import style_problems

_TEXT = {".html", ".txt", ".css", ".js"}


def theme_problems(root: Path, sheet: Sheet[Academy]) -> list[Problem]:
    """The problems of the theme that academy.yaml, in `root`, names. What templates say is not looked at here."""
    written, home = str(sheet.record.theme), root.resolve()
    try:
        folder = (root / written).resolve()
        there = folder.is_dir()
    except (OSError, ValueError, RuntimeError):
        there = False
    if not there:
        return [sheet.problem(("theme",), f"there is no folder {shown(written)}", "Look at its name.")]
    if not folder.is_relative_to(home):
        return [sheet.problem(("theme",), "the theme lies outside the academy", "Put its folder inside the academy.")]
    if folder == home:  # a template could include academy.yaml
        wrong = "the theme is the academy's folder itself"
        return [sheet.problem(("theme",), wrong, "Put it beside students, as in theme: look.")]
    if Path(written).is_absolute() or "\\" in written or is_hidden(written) or _is_hidden_or_a_students(folder, home):
        wrong = "the theme lies in a hidden folder, among the students, or is not told from the academy's folder on"
        return [sheet.problem(("theme",), wrong, "Put it beside students, as in theme: look.")]
    return list(_file_problems(folder, home))


def _is_hidden_or_a_students(folder: Path, home: Path) -> bool:
    students = home / "students"
    among = students.is_dir() and any(part.samefile(students) for part in (folder, *folder.parents))
    return among or is_hidden(folder.relative_to(home).as_posix())


def _file_problems(folder: Path, home: Path) -> Iterator[Problem]:
    for file in sorted(folder.rglob("*")):
        path = file.relative_to(home).as_posix()
        if file.is_symlink() and leads_out(file, folder):
            wrong = "this is a link that leads out of the theme's folder"
            yield Problem(path, 1, 1, wrong, "Put there what it leads to.")
        elif file.suffix in _TEXT and file.is_file():
            yield from _text_problems(file, path)


def _text_problems(file: Path, path: str) -> Iterator[Problem]:
    try:
        text, problem = decoded(file.read_bytes(), path)
    except OSError as error:
        wrong = f"the file cannot be read ({error.strerror})"
        text, problem = None, Problem(path, 1, 1, wrong, "Look at its name and its rights.")
    if problem is not None:
        yield problem
    if text is not None and file.suffix == ".css":
        yield from style_problems(text, path)
