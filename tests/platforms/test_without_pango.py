"""Where the library of the layout engine is not installed, nothing can be printed, and all else works."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, ROOT, copy_with_keyring, reportgen, say_in, small_academy

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="the library is hidden from the loader of Linux")

Run = Callable[..., subprocess.CompletedProcess[str]]

WORKS = {
    "check": ("check", "ACADEMY"),
    "findings": ("findings", "ACADEMY", PETRA),
    "season": ("season", "ACADEMY", "--to", "SITE"),
    "begin": ("begin", "ACADEMY", PETRA, "2026-12-05"),
    "members add": ("members", "add", "ACADEMY", PETRA),
    "send --dry-run": ("send", "ACADEMY", "--dry-run"),
    "start": ("start", "HERE/first"),
    "forget": ("forget", "ACADEMY", PETRA, "--to", "SITE"),
    "schema": ("schema", "lesson"),
}
PRINTS = {
    "publish": ("publish", "ACADEMY", "--to", "SITE", "--afresh"),
    "publish, by workers": ("publish", "ACADEMY", "--to", "SITE", "--afresh", "--jobs", "2"),
    "recap": ("recap", "ACADEMY", PETRA, "--to", "HERE/recap.pdf"),
    "send": ("send", "ACADEMY"),
    "export": ("export", "ACADEMY", PETRA, "--to", "HERE/all.zip"),
    "members letter": ("members", "letter", "ACADEMY", BETTINA),
}


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Small:
    folder = tmp_path_factory.mktemp("printed")
    academy = say_in(small_academy(folder / "academy", PETRA, BETTINA, lessons=1), "site: https://lessons.example.org")
    small = Small(academy, folder / "site")
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    return small


@pytest.fixture(scope="module")
def lets_bettina_in(published: Small, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same academy with Bettina among its members."""
    academy = tmp_path_factory.mktemp("members") / "academy"
    shutil.copytree(published.academy, academy)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", "seven herons at low tide")
        assert reportgen("members", "add", academy, BETTINA).exit_code == 0
    return academy


@pytest.fixture
def run(published: Small, tmp_path: Path) -> Run:
    """Run the program, or code, where the loader finds an empty file in the place of Pango."""
    places = {"ACADEMY": tmp_path / "academy", "SITE": tmp_path / "site"}
    shutil.copytree(published.academy, places["ACADEMY"])
    shutil.copytree(published.site, places["SITE"])
    (tmp_path / "loader").mkdir()
    (tmp_path / "loader" / "libpango-1.0.so.0").touch()
    environment = {
        **os.environ,
        "PYTHONPATH": str(ROOT),
        "LD_LIBRARY_PATH": str(tmp_path / "loader"),
        "REPORTGEN_PASSPHRASE": "seven herons at low tide",
    }

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        called = [str(places.get(word, word)).replace("HERE", str(tmp_path)) for word in words]
        program = ["-c"] if "\n" in words[0] else ["-m", "reportgen"]
        command = [sys.executable, *program, *called]
        return subprocess.run(command, env=environment, cwd=tmp_path, capture_output=True, text=True)

    return run


@pytest.mark.parametrize("command", WORKS)
def test_what_prints_nothing_works(run: Run, command: str) -> None:
    ended = run(*WORKS[command])
    assert (ended.returncode, "Pango" in ended.stderr + ended.stdout) == (0, False), ended.stderr


@pytest.mark.parametrize("command", PRINTS)
def test_what_prints_says_in_one_line_how_to_get_it(
    run: Run, lets_bettina_in: Path, tmp_path: Path, command: str
) -> None:
    shutil.rmtree(tmp_path / "academy")
    copy_with_keyring(lets_bettina_in, tmp_path / "academy")
    ended = run(*PRINTS[command])
    said = [line for line in (ended.stdout + ended.stderr).splitlines() if not line.startswith(("warning", "No pass"))]
    assert ended.returncode == 2
    assert len(said) == 1, said
    assert said[0].startswith("Nothing can be printed: the library Pango cannot be loaded. Install it (apt-get install")


def test_the_desk_shows_pages_of_students_and_of_the_library(run: Run) -> None:
    ended = run(
        "from pathlib import Path\nimport sys\nfrom reportgen.preview.watched import Watched\n"
        "watched = Watched(Path(sys.argv[1]))\n"
        f"for page in ('s/{PETRA}/index.html', 'library/index.html', 'assets/style.css'):\n"
        "    print(page, bool(watched.file(page)))\n",
        "ACADEMY",
    )
    assert ended.stderr == ""
    assert [line.split()[-1] for line in ended.stdout.splitlines()] == ["True"] * 3


@pytest.mark.parametrize(
    ("platform", "how"), [("linux", "apt-get install"), ("darwin", "brew install pango"), ("win32", "MSYS2")]
)
def test_each_system_is_told_its_own_way(run: Run, platform: str, how: str) -> None:
    ended = run(
        "import sys\n"
        "import cffi, ctypes.util, urllib.request, PIL.Image, fontTools.ttLib, tinycss2, cssselect2, pyphen\n"
        f"sys.platform = '{platform}'\n"
        "from reportgen.errors import MachineError\n"
        "from reportgen.pages.printing import Stylesheet, ToPrint, printed\n"
        "try:\n    printed(ToPrint('', Stylesheet('', '', 'A4')))\n"
        "except MachineError as error:\n    print(error)\n"
    )
    assert ended.stderr == ""
    assert how in ended.stdout
