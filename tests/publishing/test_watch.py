"""A sheet is saved and the browser shows it: in a real Chromium, from the real command; and nobody else can look."""

import re
import shutil
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urljoin

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from reportgen.languages.catalogues import language_of
from reportgen.languages.speaking import speaking
from reportgen.pages.watch_pages import Trouble, watched_page
from reportgen.sheets.problems import Problem
from tests.languages.collect import FOLDER
from tests.languages.conftest import english_pieces, speak
from tests.publishing.conftest import Small
from tests.publishing.small import (
    BETTINA,
    HENRIK,
    MIRO,
    PETRA,
    ROOT,
    change_sheet,
    contents,
    reportgen,
    sheets,
    small_academy,
)

DEADLINE = 60.0
"""Seconds after which a test gives up; a page is there within one, but a test machine can be busy."""


class Watch(NamedTuple):
    academy: Path
    port: int
    base: str
    """How every path begins that is answered."""
    process: subprocess.Popen[str]

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}{self.base}"

    def home(self, student: str) -> str:
        return f"{self.address}s/{student}/index.html"


@contextmanager
def _watching(academy: Path, *more: str) -> Iterator[Watch]:
    command = [sys.executable, "-m", "reportgen", "watch", str(academy), "--port", "0", *more]
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8")
    assert process.stdout is not None
    try:
        told = next(filter(None, (re.search(r"http://127\.0\.0\.1:(\d+)(/\S*)", line) for line in process.stdout)))
        yield Watch(academy, int(told[1]), told[2], process)
    finally:
        process.kill()
        process.communicate()


@pytest.fixture(scope="module")
def _busy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watch]:
    with _watching(small_academy(tmp_path_factory.mktemp("busy") / "academy", PETRA, BETTINA)) as watch:
        yield watch


@pytest.fixture
def watch(_busy: Watch) -> Iterator[Watch]:
    """A watch whose academy a test may change; it is as before when the next one begins."""
    before = contents(_busy.academy)
    yield _busy
    for name, data in before.items():
        file = _busy.academy / name
        if not file.is_file() or file.read_bytes() != data:
            file.write_bytes(data)


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    options = Options()
    options.binary_location = str(shutil.which("chromium"))
    for flag in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-background-networking"):
        options.add_argument(flag)
    options.add_argument(f"--user-data-dir={tmp_path_factory.mktemp('browser')}")
    driver = webdriver.Chrome(options=options, service=Service(str(shutil.which("chromedriver"))))
    yield driver
    driver.quit()


def _until(browser: webdriver.Chrome, holds: str) -> None:
    """Wait until the browser says that the words of JavaScript `holds` are true of a whole page."""
    script = f"return document.readyState === 'complete' && Boolean({holds})"
    WebDriverWait(browser, DEADLINE, 0.02).until(lambda driver: driver.execute_script(script), holds)


def _says(words: str) -> str:
    return f"document.querySelector('main').innerText.includes('{words}')"


STRIP = "document.querySelector('.watch-strip')"


def test_the_page_follows_the_sheet(watch: Watch, browser: webdriver.Chrome) -> None:
    browser.get(watch.home(PETRA))
    _until(browser, _says("First time with a club in the hand"))
    change_sheet(watch.academy, PETRA, "A second look")
    _until(browser, _says("A second look"))

    sheet = sheets(watch.academy, PETRA)[-1]
    sound = sheet.read_text(encoding="utf-8")
    sheet.write_text(sound.replace("club: 9-iron", "club: 9-irn"), encoding="utf-8")
    _until(browser, STRIP)
    line = sound.splitlines().index("club: 9-iron") + 1
    strip = browser.find_element(By.CLASS_NAME, "watch-strip")
    assert f"students/{PETRA}/lessons/2026-11-24.yaml:{line}:7" in strip.text
    assert "it says '9-irn'" in strip.text
    assert "Write a club" in strip.text
    shown, sign = strip.find_element(By.TAG_NAME, "pre").text.split("\n")
    assert shown == f"{line}  club: 9-irn"
    assert shown.index("9-irn") == sign.index("^")
    assert "A second look" in browser.find_element(By.TAG_NAME, "main").text  # the last good page stays below
    assert browser.execute_script("return scrollY") == 0

    sheet.write_text(sound.replace("A second look", "Mended"), encoding="utf-8")
    _until(browser, f"!{STRIP} && {_says('Mended')}")


def test_the_first_page_goes_to_whoever_is_saved(tmp_path: Path, browser: webdriver.Chrome) -> None:
    with _watching(small_academy(tmp_path / "academy", PETRA, BETTINA)) as watch:
        browser.get(watch.address)
        _until(browser, f"{_says('Petra Lumsgate')} && {_says('Bettina Halloran')}")
        change_sheet(watch.academy, BETTINA, "Whoever is saved")
        _until(browser, f"location.pathname.includes('{BETTINA}') && {_says('Whoever is saved')}")


def test_a_broken_academy_is_told_and_comes_back(watch: Watch, browser: webdriver.Chrome) -> None:
    file = watch.academy / "academy.yaml"
    sound = file.read_text(encoding="utf-8")
    browser.get(watch.home(PETRA))
    file.write_text(sound.replace("paper: A4", "paper: A5"), encoding="utf-8")
    _until(browser, f"{STRIP} && {STRIP}.innerText.includes('academy.yaml')")
    file.unlink()
    _until(browser, f"{STRIP} && {STRIP}.innerText.includes('holds no academy.yaml')")
    file.write_text(sound, encoding="utf-8")
    _until(browser, f"!{STRIP} && {_says('Petra')}")


def test_a_template_that_is_written_while_it_watches(tmp_path: Path, browser: webdriver.Chrome) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    (academy / "look").mkdir()
    with (academy / "academy.yaml").open("a", encoding="utf-8") as file:
        file.write("theme: look\n")
    own = academy / "look" / "home.html"
    shipped = (ROOT / "themes" / "letter" / "home.html").read_text(encoding="utf-8")
    with _watching(academy) as watch:
        browser.get(watch.home(PETRA))
        _until(browser, _says("First time with a club in the hand"))
        own.write_text(shipped.replace("{% block main %}", "{% block main %}\n{{ welcome }}"), encoding="utf-8")
        _until(browser, _says(f"{own}:5: the template is wrong: \\'welcome\\' is undefined."))
        own.write_text(shipped.replace("{% block main %}", "{% block main %}\nWelcome to our range"), encoding="utf-8")
        _until(browser, _says("Welcome to our range"))


def test_who_no_longer_shares_is_a_problem_of_whom_they_were_compared_with_and_their_picture_goes(
    tmp_path: Path, browser: webdriver.Chrome
) -> None:
    academy = small_academy(tmp_path / "academy", HENRIK, MIRO)
    miro = academy / "students" / MIRO / "student.yaml"
    sharing = miro.read_text(encoding="utf-8")
    with _watching(academy) as watch:
        browser.get(watch.home(HENRIK))
        _until(browser, f"!{STRIP} && {_says('Henrik')}")
        miro.write_text(sharing.replace(f"shares_with: [{HENRIK}]\n", ""), encoding="utf-8")
        _until(browser, f"{STRIP} && {STRIP}.innerText.includes('do not both share their pictures')")
        _until(browser, _says("Henrik Tavenhall has none here"))
        miro.write_text(sharing, encoding="utf-8")
        _until(browser, f"!{STRIP} && {_says('Henrik')}")


def test_a_student_whose_first_sheet_is_broken_has_no_page_yet(tmp_path: Path, browser: webdriver.Chrome) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    sheet = sheets(academy, PETRA)[-1]
    sound = sheet.read_text(encoding="utf-8")
    sheet.write_text(sound.replace("club: ", "cluub: "), encoding="utf-8")
    with _watching(academy, "--student", PETRA) as watch:
        browser.get(watch.address)
        _until(browser, f"{_says('No page yet')} && {STRIP}")
        sheet.write_text(sound, encoding="utf-8")
        _until(browser, f"!{STRIP} && {_says('First time with a club')}")


def test_what_a_sheet_says_is_text_in_the_strip(watch: Watch, browser: webdriver.Chrome) -> None:
    sheet = sheets(watch.academy, PETRA)[-1]
    sheet.write_text("club: <script>document.title='run'</script>\n", encoding="utf-8")
    browser.get(watch.home(PETRA))
    _until(browser, STRIP)
    assert "<script>document.title='run'</script>" in browser.find_element(By.CLASS_NAME, "watch-strip").text
    assert browser.title != "run"


# what is served, by hand


def _ask(watch: Watch, request: str) -> tuple[int, str, bytes]:
    """Status, head and body of the answer to a request as it is written here."""
    with socket.create_connection(("127.0.0.1", watch.port), timeout=DEADLINE) as connection:
        connection.sendall(request.encode("latin-1"))
        answer = b"".join(iter(lambda: connection.recv(65536), b""))
    head, _, body = answer.partition(b"\r\n\r\n")
    return int(head.split()[1]), head.decode("latin-1"), body


def _get(watch: Watch, path: str, host: str | None = None) -> tuple[int, str, bytes]:
    """The answer to a path below the address that was told."""
    host = f"127.0.0.1:{watch.port}" if host is None else host
    return _ask(
        watch, f"GET {watch.base}{path.removeprefix('/')} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"
    )


@pytest.fixture(scope="module")
def quiet(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watch]:
    """A watch in whose academy nothing changes."""
    with _watching(small_academy(tmp_path_factory.mktemp("quiet") / "academy", PETRA)) as watch:
        yield watch


def test_every_file_that_a_page_names_is_there(quiet: Watch) -> None:
    named = set()
    for page in (f"/s/{PETRA}/index.html", f"/s/{PETRA}/2026-11-24/index.html", f"/s/{PETRA}/progress.html"):
        status, _, body = _get(quiet, page)
        assert status == 200
        named |= {urljoin(page, target) for target in re.findall(r'(?:href|src)="([^"#]+)', body.decode("utf-8"))}
    files = {file for file in named if ":" not in file and not file.endswith(".pdf")}
    assert {"/assets/style.css", f"/s/{PETRA}/safety.html", f"/s/{PETRA}/2026-11-24/week.ics"} <= files
    assert {file: _get(quiet, file)[0] for file in files} == dict.fromkeys(files, 200)


def test_the_recap_is_made_when_it_is_asked_for(quiet: Watch) -> None:
    status, head, body = _get(quiet, f"/s/{PETRA}/2026-11-24/recap.pdf")
    assert (status, body[:5]) == (200, b"%PDF-")
    assert "Content-Type: application/pdf" in head


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:{port}", ""]
)
def test_another_host_is_refused(quiet: Watch, host: str) -> None:
    status, _, body = _get(quiet, f"/s/{PETRA}/index.html", host.format(port=quiet.port))
    assert (status, body) == (403, b"")


def test_no_host_or_two_are_refused(quiet: Watch) -> None:
    assert _ask(quiet, "GET / HTTP/1.0\r\n\r\n")[0] == 403
    own = f"Host: 127.0.0.1:{quiet.port}\r\n"
    assert _ask(quiet, f"GET {quiet.base} HTTP/1.1\r\n{own}Host: evil.example\r\nConnection: close\r\n\r\n")[0] == 403


STRANGE = [
    "/", "/s/{student}/index.html", "/assets/style.css", "/changes?since=", "{half}/", "{other}",
    "{other}assets/style.css", "{plain}", "//", "http://127.0.0.1{base}",
]  # fmt: skip


@pytest.mark.parametrize("path", STRANGE)
def test_who_was_not_told_the_address_learns_nothing(quiet: Watch, path: str) -> None:
    """Another account on the computer reaches the port as well."""
    assert len(quiet.base) > 20
    first = "a" if quiet.base[1] != "a" else "b"
    path = path.format(
        student=PETRA, half=quiet.base[:-4], other=f"/{first}{quiet.base[2:]}", base=quiet.base, plain=quiet.base[:-1]
    )
    own = f"Host: 127.0.0.1:{quiet.port}\r\nConnection: close"
    status, head, body = _ask(quiet, f"GET {path} HTTP/1.1\r\n{own}\r\n\r\n")
    assert (status, body) == (404, b"")
    assert not re.search(r"html|location", head, re.IGNORECASE)
    assert _get(quiet, "/")[0] == 200


def test_every_watch_has_an_address_of_its_own(quiet: Watch, tmp_path: Path) -> None:
    with _watching(small_academy(tmp_path / "academy", PETRA)) as other:
        assert other.base != quiet.base


def test_localhost_is_this_computer(quiet: Watch) -> None:
    assert _get(quiet, "/", f"localhost:{quiet.port}")[0] == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "HEAD", "OPTIONS", "PATCH", "CONNECT", "BREW"])
def test_only_get_is_answered(quiet: Watch, method: str) -> None:
    request = f"{method} {quiet.base} HTTP/1.1\r\nHost: 127.0.0.1:{quiet.port}\r\nContent-Length: 2\r\n\r\n{{}}"
    status, head, body = _ask(quiet, request)
    assert (status, body) == (405, b"")
    assert "Allow: GET" in head


@pytest.mark.parametrize(
    "path",
    [
        "/../academy.yaml", "/s/../../academy.yaml", f"/s/{PETRA}/../../academy.yaml", "/academy.yaml",
        f"/s/{PETRA}/../../../../../../../../etc/passwd", "/%2e%2e/academy.yaml", f"/s/{PETRA}/%2e%2e%2facademy.yaml",
        "//etc/passwd", "/s//etc/passwd", "/assets/../../academy.yaml", "/assets/%00", "/students",
        f"/s/{PETRA}/student.yaml", "/s/nobody/index.html", "/..\\academy.yaml",
    ],
)  # fmt: skip
def test_no_path_leads_out_of_what_was_made(quiet: Watch, path: str) -> None:
    status, _, body = _get(quiet, path)
    assert status == 404
    assert b"secret" not in body
    assert b"root:" not in body


def test_what_is_served_can_be_framed_and_kept_by_nobody(quiet: Watch) -> None:
    _, head, body = _get(quiet, f"/s/{PETRA}/index.html")
    assert "Cache-Control: no-store" in head
    assert "frame-ancestors 'none'" in head
    assert "Cross-Origin-Resource-Policy: same-origin" in head
    (nonce,) = re.findall(r"script-src 'nonce-([\w-]+)';", head)
    assert body.count(b"<script") == body.count(f'<script nonce="{nonce}"'.encode()) == 1


def test_it_listens_on_this_computer_alone(quiet: Watch) -> None:
    listening = Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]
    own = {line.split()[1] for line in listening if int(line.split()[1].split(":")[1], 16) == quiet.port}
    assert own
    assert {address.split(":")[0] for address in own} == {"0100007F"}


# the language


def test_the_watch_speaks_the_language_of_the_academy(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    speak(academy, "de")
    sheet = sheets(academy, PETRA)[-1]
    sheet.write_text(sheet.read_text(encoding="utf-8").replace("club: ", "cluub: "), encoding="utf-8")
    with _watching(academy) as watch:
        first, none = (_get(watch, path)[2].decode("utf-8") for path in ("/", f"/s/{PETRA}/index.html"))
    assert '<html lang="de">' in first
    assert re.search(r"<h2>\d Problem(e?) in den Blättern</h2>", first)
    assert "Über wen schreibst du?" in first
    assert "Did you mean club?" in first  # problems are as `check` tells them
    assert "Für Petra Lumsgate gibt es hier noch keine" in none
    pieces = english_pieces("de")
    for page in (first, none):
        assert [piece for piece in pieces if piece in " ".join(page.split())] == []


def test_the_strip_on_a_page_speaks_it_too() -> None:
    trouble = Trouble(Problem("academy.yaml", 3, 1, "it says 'A5'", "Write A4."), None)
    with speaking(language_of("de", FOLDER)):
        page = watched_page(b"<body><p>Seite", [trouble], "1", "n", "/").decode("utf-8")
    assert "<h2>1 Problem in den Blättern; darunter steht die letzte fehlerfreie Seite</h2>" in page
    assert page.index('<section class="watch-strip" lang="de"') < page.index('<ol lang="en"') < page.index("Write A4.")


def test_a_watch_whose_academy_cannot_be_read_speaks_english(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    speak(academy, "it")
    with _watching(academy) as watch:
        page = _get(watch, "/")[2].decode("utf-8")
    assert "1 problem in the sheets</h2>" in page
    assert "Whom are you writing about?" in page


# the command


def test_it_writes_nothing_and_ends_well(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    before = contents(tmp_path)
    with _watching(academy) as watch:
        assert _get(watch, f"/s/{PETRA}/index.html")[0] == 200
        watch.process.send_signal(signal.SIGINT)
        assert watch.process.wait(DEADLINE) == 0
        assert watch.process.stdout is not None
        assert watch.process.stdout.read() == "Stopped.\n"
    assert contents(tmp_path) == before


def test_a_port_in_use_is_told(quiet: Watch) -> None:
    done = reportgen("watch", quiet.academy, "--port", str(quiet.port))
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith(f"Port {quiet.port} cannot be used (Address already in use).")


@pytest.mark.parametrize(("academy", "student"), [("nowhere", PETRA), ("academy", "petra-lumgate")])
def test_what_is_misspelt_is_told(tmp_path: Path, academy: str, student: str) -> None:
    small_academy(tmp_path / "academy", PETRA)
    result = reportgen("watch", tmp_path / academy, "--student", student, "--port", "0")
    assert (result.exit_code, result.stdout) == (2, "")
    assert len(result.stderr.splitlines()) == 1


def test_published_pages_have_no_script(small: Small) -> None:
    pages = sorted(small.site.rglob("*.html"))
    assert pages
    assert [page for page in pages if b"EventSource" in page.read_bytes()] == []
