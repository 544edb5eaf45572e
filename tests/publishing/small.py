"""A small academy cut out of the demo, and what tests of publishing do with it."""

import shutil
from pathlib import Path

from click.testing import CliRunner, Result

from reportgen.cli import main
from reportgen.sealing.privacy import keyring_of, mark_beside

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "examples" / "academy"

PETRA, BETTINA, MIRO, HENRIK = "petra-lumsgate", "bettina-halloran", "miro-tavenhall", "henrik-tavenhall"


def small_academy(folder: Path, *students: str, lessons: int = 2) -> Path:
    """An academy in `folder` with the demo's students named, and the latest lessons of each."""
    shutil.copytree(DEMO, folder, ignore=lambda at, names: set(names) - set(students) if _is_students(at) else set())
    for student in students:
        sheets = sorted((folder / "students" / student / "lessons").glob("*.yaml"))
        for sheet in sheets[:-lessons]:
            sheet.unlink()
    return folder


def link_only(academy: Path) -> Path:
    """The same academy with the choice written down that its pages are open to who has the link."""
    return say_in(academy, "private: link-only")


def say_in(academy: Path, line: str) -> Path:
    """The same academy with a line more in academy.yaml."""
    with (academy / "academy.yaml").open("a", encoding="utf-8") as file:
        file.write(f"{line}\n")
    return academy


def copy_with_keyring(academy: Path, to: Path) -> Path:
    """A copy of an academy, with what stands beside it."""
    shutil.copytree(academy, to)
    shutil.copy2(keyring_of(academy), keyring_of(to))
    shutil.copy2(mark_beside(keyring_of(academy)), mark_beside(keyring_of(to)))
    return to


def _is_students(at: str) -> bool:
    return Path(at).name == "students"


def sheets(academy: Path, student: str) -> list[Path]:
    """The lesson sheets of a student, oldest first."""
    return sorted((academy / "students" / student / "lessons").glob("*.yaml"))


def break_sheet(academy: Path, student: str) -> Path:
    """Write a value into the student's latest sheet that cannot be read."""
    sheet = sheets(academy, student)[-1]
    sheet.write_text(sheet.read_text(encoding="utf-8").replace("club: ", "club: no-such-", 1), encoding="utf-8")
    return sheet


def change_sheet(academy: Path, student: str, words: str = "A new focus") -> None:
    """Give the student's latest lesson another focus."""
    sheet = sheets(academy, student)[-1]
    lines = [line for line in sheet.read_text(encoding="utf-8").splitlines() if not line.startswith("focus:")]
    sheet.write_text("\n".join([*lines[:1], f"focus: {words}", *lines[1:]]) + "\n", encoding="utf-8")


def reportgen(*arguments: str | Path) -> Result:
    """Run the program in this process; a traceback fails the test."""
    return CliRunner().invoke(main, [str(argument) for argument in arguments], catch_exceptions=False)


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, hidden ones left out: name -> bytes."""
    files = (f for f in folder.rglob("*") if f.is_file())
    named = {f.relative_to(folder): f.read_bytes() for f in files}
    return {name.as_posix(): data for name, data in named.items() if not name.as_posix().startswith(".")}


def times(folder: Path) -> dict[str, int]:
    """When each file below a folder was written, hidden ones left out."""
    return {name: (folder / name).stat().st_mtime_ns for name in contents(folder)}


def areas(site: Path) -> list[Path]:
    """The folders of students in a published site."""
    return sorted(entry for entry in (site / "upload" / "s").iterdir() if entry.is_dir())


def area_of(site: Path, words: str) -> Path:
    """The one student's area whose first page says `words`."""
    found = [
        page.parent
        for page in (site / "upload" / "s").glob("*/index.html")
        if words in page.read_text(encoding="utf-8")
    ]
    assert len(found) == 1, found
    return found[0]
