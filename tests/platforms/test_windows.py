"""An academy from its start to its mails where there is no POSIX, as `tests.platforms.windows` has it."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.printed_once import KEPT_IN
from tests.publishing.small import ROOT, areas, contents, reportgen, say_in

STUDENT = "tamsin-wickerfold"
MINE = "seven herons at low tide"
ENVIRONMENT = {
    **os.environ,
    "PYTHONPATH": str(ROOT),
    "PYTHONTZPATH": "",
    "PYTHONWARNDEFAULTENCODING": "1",
    "REPORTGEN_PASSPHRASE": MINE,
}

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="what is open is looked up in /proc")


def on_windows(*words: str | Path, code: str | None = None, **variables: str) -> subprocess.CompletedProcess[str]:
    """Run a command, or code, in a process that has what Windows has; it ends well or as the caller looks at."""
    called = ["-m", "tests.platforms.windows"] if code is None else ["-c", code]
    command = [sys.executable, *called, *map(str, words)]
    return subprocess.run(command, env=ENVIRONMENT | variables, capture_output=True, text=True, cwd=ROOT)


def done(*words: str | Path, **variables: str) -> str:
    """What a command printed, which had nothing to complain of."""
    ended = on_windows(*words, **variables)
    complaints = [line for line in ended.stderr.splitlines() if not line.startswith("warning: ")]
    assert (ended.returncode, complaints) == (0, [])
    return ended.stdout


@pytest.fixture(scope="module")
def began(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a first academy, `first`, and its site, `site`, of which nothing was printed elsewhere."""
    folder = tmp_path_factory.mktemp("windows")
    done("start", folder / "first")
    say_in(folder / "first", "site: https://lessons.example.org")
    sheet = folder / "first" / "academy.yaml"
    with_mail = sheet.read_text(encoding="utf-8").replace("instructor:\n", "instructor:\n  mail: teacher@example.org\n")
    sheet.write_text(with_mail, encoding="utf-8")
    done("publish", folder / "first", "--to", folder / "site", **{KEPT_IN: ""})
    return folder


@pytest.fixture
def here(began: Path, tmp_path: Path) -> Path:
    """A copy of that folder."""
    return Path(shutil.copytree(began, tmp_path / "here"))


def test_it_really_is_a_process_without_posix() -> None:
    looks = (
        "from tests.platforms import windows\n"
        "import os, signal\n"
        "print([n for n in ('fork', 'geteuid', 'mkfifo', 'O_DIRECTORY') if hasattr(os, n)])\n"
        "print([n for n in ('SIGALRM', 'SIGHUP') if hasattr(signal, n)])\n"
        "for act in (lambda: os.open('.', os.O_RDONLY), lambda: open('con.txt', 'w'), lambda: __import__('fcntl')):\n"
        "    try:\n        act()\n    except Exception as error:\n        print(type(error).__name__)\n"
    )
    ended = on_windows(code=looks)
    assert ended.stdout.splitlines() == ["[]", "[]", "PermissionError", "OSError", "ModuleNotFoundError"]


def test_the_pages_are_the_ones_that_are_made_anywhere(here: Path) -> None:
    assert reportgen("publish", here / "first", "--to", here / "elsewhere").exit_code == 0
    assert contents(here / "site" / "upload") == contents(here / "elsewhere" / "upload")


def test_a_check_finds_no_problems(here: Path) -> None:
    assert done("check", here / "first") == "No problems: 1 student, 2 lessons.\n"


def test_a_changed_sheet_takes_the_place_of_what_was_published(here: Path) -> None:
    (sheet,) = (here / "first" / "students" / STUDENT / "lessons").glob("*-25.yaml")
    sheet.write_text(sheet.read_text(encoding="utf-8").replace("focus: ", "focus: Slower, and "), encoding="utf-8")
    assert done("publish", here / "first", "--to", here / "site").startswith("1 student made")
    (area,) = areas(here / "site")
    assert "Slower, and" in (area / "2026-11-25" / "index.html").read_text(encoding="utf-8")
    assert not [left for name in ("new", "old") for left in (here / "site" / ".made" / name).glob("*/*")]


def test_workers_make_them_too(here: Path) -> None:
    before = contents(here / "site" / "upload")
    assert done("publish", here / "first", "--to", here / "site", "--afresh", "--jobs", "2").startswith(
        "1 student made"
    )
    assert contents(here / "site" / "upload") == before


def test_pages_are_sealed_for_members(here: Path) -> None:
    assert done("members", "add", here / "first", "--all").startswith("1 member added")
    done("publish", here / "first", "--to", here / "site")
    (area,) = areas(here / "site")
    assert (area / "keys.html").is_file()
    assert b"Wickerfold" not in b"".join(contents(here / "site" / "upload").values())
    done("members", "letter", here / "first", STUDENT, "--to", here / "letter.pdf")
    assert (here / "letter.pdf").read_bytes().startswith(b"%PDF")


def test_mails_lie_in_the_outbox_and_are_written_once(here: Path) -> None:
    with (here / "first" / "students" / STUDENT / "student.yaml").open("a", encoding="utf-8") as sheet:
        sheet.write("mail: [tamsin@example.org]\n")
    done("send", here / "first")
    (written,) = (here / "first.outbox").iterdir()
    assert b"<tamsin@example.org>" in written.read_bytes()
    assert done("send", here / "first") == "Nothing to send.\n"


def test_a_file_of_the_mail_server_is_taken_though_everybody_could_read_it(tmp_path: Path) -> None:
    (tmp_path / "smtp.toml").write_text('host = "mail.example.org"\n', encoding="utf-8")
    (tmp_path / "smtp.toml").chmod(0o666)
    asks = (
        "from tests.platforms import windows\n"
        "import os\n"
        "from reportgen.delivery.server import server_from\n"
        "print(server_from(os.environ).host)\n"
    )
    ended = on_windows(code=asks, REPORTGEN_SMTP_FILE=str(tmp_path / "smtp.toml"))
    assert (ended.stdout, ended.stderr) == ("mail.example.org\n", "")


def test_values_for_a_spreadsheet_have_each_line_end_once(here: Path) -> None:
    command = [sys.executable, "-m", "tests.platforms.windows", "findings", here / "first", STUDENT, "--csv"]
    printed = subprocess.run(command, env=ENVIRONMENT, capture_output=True, cwd=ROOT, check=True).stdout
    assert printed.count(b"\r\n") == printed.count(b"\r") == printed.count(b"\n") > 2


def test_a_new_sheet_is_begun(here: Path) -> None:
    assert done("begin", here / "first", STUDENT, "2026-12-01").endswith("2026-12-01.yaml\n")


def test_what_is_held_of_a_student_is_handed_over_and_taken_away(here: Path) -> None:
    done("export", here / "first", STUDENT, "--to", here / "all.zip")
    assert (here / "all.zip").is_file()
    assert f"{here / 'site' / '.made' / 'students' / STUDENT}.json" in done("forget", here / "first", STUDENT)
    assert areas(here / "site") == []


HELD = """
import os, sys
from pathlib import Path
from tests.platforms import windows
from reportgen.publishing.replacing import remove, replace_folder, write_tree

place = Path(sys.argv[1])
write_tree(place / "area", {"index.html": b"old"})
write_tree(place / "new", {"index.html": b"new"})
held = open(place / "area" / "index.html", "rb")

import reportgen.patience
if sys.argv[2] == "for a moment":
    reportgen.patience.sleep = lambda seconds: held.close()
"""


def test_a_folder_is_replaced_as_soon_as_another_program_lets_go_of_a_file_in_it(tmp_path: Path) -> None:
    code = f"{HELD}\nreplace_folder(place / 'new', place / 'area', place / 'old')"
    ended = on_windows(tmp_path, "for a moment", code=code)
    assert ended.stderr == ""
    assert contents(tmp_path) == {"area/index.html": b"new"}


def test_a_folder_that_is_held_for_good_stays_as_it_is(tmp_path: Path) -> None:
    code = f"{HELD}\nreportgen.patience.TRIES_FOR = 0.1\n"
    ended = on_windows(tmp_path, "for good", code=f"{code}replace_folder(place / 'new', place / 'area', place / 'old')")
    assert ended.stderr.splitlines()[-1].startswith("tests.platforms.windows.InUseError")
    assert (tmp_path / "area" / "index.html").read_bytes() == b"old"


def test_a_folder_is_removed_as_soon_as_another_program_lets_go_of_a_file_in_it(tmp_path: Path) -> None:
    ended = on_windows(tmp_path, "for a moment", code=f"{HELD}\nremove(place / 'area', place / 'old')")
    assert ended.stderr == ""
    assert contents(tmp_path) == {"new/index.html": b"new"}
