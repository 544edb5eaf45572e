"""A theme that somebody sends: whatever its template tries, it is one line with its place, nothing is run, nothing
outside the theme is read, and what was published stands."""

import re
import sys
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from reportgen.errors import ThemeError
from reportgen.pages.student_site import lesson_recap
from reportgen.pipeline import reports_of
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import Reader
from reportgen.saying.telling import tell
from reportgen.sheets.academy_folder import Home, load_academy, sound
from tests.publishing.conftest import Small
from tests.publishing.small import PETRA, contents, reportgen

HERE = Path(__file__).parent
EVIL = dict(re.findall(r"^(.+)\n\.\n((?:.+\n)+)\.$", (HERE / "evil_templates.txt").read_text(), re.MULTILINE))
AS_A_PUBLISH = [
    "names: the class of a record", "records: a pickle that runs a command", "records: a file read by a record",
    "records: the academy, printed", "formats: format", "inside: the environment of a macro", "inside: filler",
    "files: a file above", "files: a file by its whole name", "bombs: a text", "bombs: loops in loops",
    "bombs: many brackets",
]  # fmt: skip


class Opened:
    """Whether this process opened a file."""

    def __init__(self) -> None:
        self.file: Path | None = None
        self.opened = False

    def hear(self, event: str, values: tuple[object, ...]) -> None:
        if self.file is not None and event == "open" and str(values[0]) == str(self.file):
            self.opened = True


HEARD = Opened()
sys.addaudithook(HEARD.hear)


@pytest.fixture
def outside(tmp_path: Path) -> Iterator[Path]:
    """A file beside the academy, which is not to be opened."""
    file = tmp_path / "outside.txt"
    file.write_text("beside the academy", encoding="utf-8")
    HEARD.file, HEARD.opened = file, False
    yield file
    assert not HEARD.opened
    HEARD.file = None


@pytest.fixture
def canary(tmp_path: Path) -> Iterator[Path]:
    """A file that is there as soon as a command was run."""
    file = tmp_path / "canary"
    yield file
    assert not file.exists()


@pytest.fixture(scope="module")
def judged(_published: Small) -> tuple[ToldLesson, Home]:
    """A lesson, and its academy with a theme of its own."""
    folder = load_academy(_published.academy, only=PETRA)
    home = sound(folder)
    reports = reports_of(folder.students[PETRA], home, folder.students)
    themed = replace(home, academy=home.academy.model_copy(update={"theme": "look"}))
    return tell(reports[-1], folder.library, Reader()), themed


def evil(name: str, outside: Path, canary: Path) -> tuple[str, int]:
    """A template that does nothing but try it, and the line that is to be told."""
    told = {
        "$OUTSIDE": str(outside),
        "$CANARY": str(canary),
        "$PICKLE": rf"cos\nsystem\n(S'touch {canary}'\ntR.",
        "$BRACKETS": "(" * 3000 + "1" + ")" * 3000,
        "$PARTS": "{{ '' }}" * 10000,
        "$LOOPS": "{% for a in [1] %}" * 40 + "{% endfor %}" * 40,
    }
    text = f"<!doctype html>\n<p>A recap</p>\n{EVIL[name]}"
    for place, value in told.items():
        text = text.replace(place, value)
    return text, text.count("\n")


def test_there_are_more_than_sixty_of_them() -> None:
    assert len(EVIL) > 60


@pytest.mark.parametrize("name", EVIL)
def test_a_template_that_tries_to_leave_is_told_with_its_line(
    judged: tuple[ToldLesson, Home], tmp_path: Path, outside: Path, canary: Path, name: str
) -> None:
    report, home = judged
    file = tmp_path / "academy" / "look" / "recap.html"
    file.parent.mkdir(parents=True)
    text, line = evil(name, outside, canary)
    file.write_text(text, encoding="utf-8")
    with pytest.raises(ThemeError) as told:
        lesson_recap(report, replace(home, root=tmp_path / "academy"))
    assert str(told.value).startswith(f"{file}:{line}: ")
    assert "\n" not in str(told.value)


@pytest.mark.parametrize("name", AS_A_PUBLISH)
def test_a_publish_with_such_a_template_ends_with_that_line_and_changes_nothing(
    small: Small, outside: Path, canary: Path, name: str
) -> None:
    text, line = evil(name, outside, canary)
    folder = theme(small.academy, {"recap.html": text})
    before = contents(small.site)
    done = reportgen("publish", small.academy, "--to", small.site)
    (told,) = [line for line in done.output.splitlines() if line]
    assert done.exit_code == 2
    assert told.startswith(f"{folder / 'recap.html'}:{line}: ")
    assert contents(small.site) == before


def theme(academy: Path, files: Mapping[str, str]) -> Path:
    """A theme of the academy's own."""
    folder = academy / "look"
    folder.mkdir()
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    with (academy / "academy.yaml").open("a", encoding="utf-8") as sheet:
        sheet.write("\ntheme: look\n")
    return folder
