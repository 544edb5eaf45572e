"""The pages of students at the desk, as they will be published: made when they are asked for, and never lost."""

import re
import signal
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import urljoin

import pytest
from selenium.webdriver.support.ui import WebDriverWait

from tests.desk.conftest import DEADLINE, OpenDesk, opened
from tests.languages.conftest import speak
from tests.publishing.small import (
    HENRIK,
    MIRO,
    PETRA,
    ROOT,
    change_sheet,
    contents,
    link_only,
    reportgen,
    sheets,
    small_academy,
)

PAGE = f"site/s/{PETRA}/index.html"


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[OpenDesk, dict[str, bytes]]]:
    academy = link_only(small_academy(tmp_path_factory.mktemp("site") / "academy", PETRA, HENRIK, MIRO))
    (academy / "look").mkdir()
    with (academy / "academy.yaml").open("a", encoding="utf-8") as file:
        file.write("theme: look\n")
    desk = opened(academy)
    yield desk, contents(academy)
    desk.end()


@pytest.fixture
def desk(kept: tuple[OpenDesk, dict[str, bytes]]) -> Iterator[OpenDesk]:
    """One desk for all tests; its academy is as before when the next one begins."""
    desk, before = kept
    yield desk
    for name in contents(desk.academy).keys() - before.keys():
        (desk.academy / name).unlink()
    for name, data in before.items():
        file = desk.academy / name
        if not file.is_file() or file.read_bytes() != data:
            file.write_bytes(data)
    until(desk, "", lambda status, said: status == 200 and 'class="wrong"' not in said)


def until(desk: OpenDesk, path: str, holds: Callable[[int, str], bool]) -> str:
    """Wait until an answer `holds`; what it says."""
    said = ""

    def asked(desk: OpenDesk) -> bool:
        nonlocal said
        status, _, said = desk.ask("GET", path)
        return holds(status, said)

    WebDriverWait(desk, DEADLINE, 0.05).until(asked)
    return said


def test_every_file_that_a_page_names_is_there(desk: OpenDesk) -> None:
    named = set()
    for page in (PAGE, f"site/s/{PETRA}/2026-11-24/index.html", f"site/s/{PETRA}/progress.html"):
        status, _, body = desk.ask("GET", page)
        assert status == 200
        named |= {urljoin(page, target) for target in re.findall(r'(?:href|src)="([^"#]+)', body)}
    files = {file for file in named if ":" not in file and not file.endswith((".pdf", ".png", ".jpg"))}
    assert {"site/assets/style.css", f"site/s/{PETRA}/safety.html", f"site/s/{PETRA}/2026-11-24/week.ics"} <= files
    assert {file: desk.ask("GET", file)[0] for file in files} == dict.fromkeys(files, 200)


def test_a_page_follows_its_sheet(desk: OpenDesk) -> None:
    change_sheet(desk.academy, PETRA, "A second look")
    until(desk, PAGE, lambda status, said: "A second look" in said)


def test_the_last_good_page_stays_while_a_sheet_is_broken_and_the_desk_says_where(desk: OpenDesk) -> None:
    until(desk, PAGE, lambda status, said: "First time with a club in the hand" in said)
    sheet = sheets(desk.academy, PETRA)[-1]
    text = sheet.read_text(encoding="utf-8")
    sheet.write_text(text.replace("club: 9-iron", "club: <script>alert(1)</script>"), encoding="utf-8")
    line = text.splitlines().index("club: 9-iron") + 1
    said = until(desk, "", lambda status, said: f"lessons/2026-11-24.yaml:{line}</code>" in said)
    assert "&lt;script&gt;" in said
    assert "<script>alert" not in said
    assert "First time with a club in the hand" in desk.ask("GET", PAGE)[2]


def test_an_academy_that_is_taken_away_is_told_and_comes_back(desk: OpenDesk) -> None:
    file = desk.academy / "academy.yaml"
    sound = file.read_bytes()
    file.unlink()
    until(desk, "", lambda status, said: "holds no academy.yaml" in said)
    file.write_bytes(sound)
    until(desk, PAGE, lambda status, said: "Petra" in said)


def test_a_template_that_is_wrong_is_told_with_its_line(desk: OpenDesk) -> None:
    own = desk.academy / "look" / "home.html"
    shipped = (ROOT / "themes" / "letter" / "home.html").read_text(encoding="utf-8")
    own.write_text(shipped.replace("{% block main %}", "{% block main %}\n{{ welcome }}"), encoding="utf-8")
    said = until(desk, PAGE, lambda status, said: status == 500)
    assert said.startswith(f"{own}:5: the template is wrong: 'welcome' is undefined.")
    own.write_text(shipped.replace("{% block main %}", "{% block main %}\nWelcome to our range"), encoding="utf-8")
    until(desk, PAGE, lambda status, said: "Welcome to our range" in said)


def test_a_picture_that_is_no_longer_shared_takes_the_last_good_page_along(desk: OpenDesk) -> None:
    page = f"site/s/{HENRIK}/index.html"
    assert desk.ask("GET", page)[0] == 200
    miro = desk.academy / "students" / MIRO / "student.yaml"
    miro.write_text(miro.read_text(encoding="utf-8").replace(f"shares_with: [{HENRIK}]\n", ""), encoding="utf-8")
    until(desk, page, lambda status, said: status == 404)
    assert "do not both share their pictures" in desk.ask("GET", "")[2]


def test_an_academy_whose_language_is_not_there_is_spoken_to_in_english(desk: OpenDesk) -> None:
    speak(desk.academy, "it")
    said = until(desk, "", lambda status, said: 'class="wrong"' in said)
    assert '<html lang="en">' in said


def test_it_writes_nothing_by_itself_and_ends_well(tmp_path: Path) -> None:
    academy = link_only(small_academy(tmp_path / "academy", PETRA))
    before = contents(tmp_path)
    desk = opened(academy, "-m", "reportgen")
    assert desk.ask("GET", PAGE)[0] == 200
    assert reportgen("desk", academy, "--port", str(desk.port), "--no-browser").stderr.startswith(
        f"Port {desk.port} cannot be used"
    )
    desk.process.send_signal(signal.SIGINT)
    assert desk.process.wait(DEADLINE) == 0
    assert desk.process.stdout is not None
    assert desk.process.stdout.read() == "Stopped.\n"
    desk.process.stdout.close()
    assert contents(tmp_path) == before


@pytest.mark.parametrize("command", ["watch", "mark"])
def test_who_types_a_command_that_the_desk_took_the_place_of_is_told(command: str) -> None:
    ended = reportgen(command, "academy", "--port", "0")
    assert ended.exit_code == 2
    assert ended.stderr.splitlines()[-1].endswith(f"Instead of {command}, run: reportgen desk")
