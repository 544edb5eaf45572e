"""The real desk of a small academy, and a real browser in front of it."""

import http.client
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait

from tests.desk.forking import Forked, forked
from tests.publishing.small import BETTINA, PETRA, ROOT, link_only, small_academy

DEADLINE = 180.0
"""Seconds after which a test gives up; what it waits for is there within one, but a test machine can be busy."""


@dataclass(frozen=True)
class OpenDesk:
    """A desk that is open; `base` is how every path begins that is answered."""

    academy: Path
    port: int
    base: str
    process: subprocess.Popen[str] | Forked

    @property
    def home(self) -> str:
        return f"http://127.0.0.1:{self.port}{self.base}"

    def end(self) -> None:
        """The desk is killed, as by a power cut."""
        self.process.kill()
        self.process.wait()
        if self.process.stdout is not None:
            self.process.stdout.close()

    def ask(self, method: str, path: str, body: str | None = None, **headers: str) -> tuple[int, dict[str, str], str]:
        """An answer to whoever was told the address; `path` begins below it, or is a whole one."""
        whole = path if path.startswith("/") else f"{self.base}{path}"
        sent = {"Host": f"127.0.0.1:{self.port}", "Origin": f"http://127.0.0.1:{self.port}"}
        sent |= {name.replace("_", "-"): value for name, value in headers.items()}
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=DEADLINE)
        connection.putrequest(method, whole, skip_host=True, skip_accept_encoding=True)
        for name, value in (sent | ({"Content-Length": str(len(body.encode()))} if body is not None else {})).items():
            connection.putheader(name, value)
        connection.endheaders(body.encode() if body is not None else None)
        answer = connection.getresponse()
        said = answer.read().decode()
        connection.close()
        return answer.status, dict(answer.getheaders()), said


WITHOUT_FILM = (
    "-c",
    "import sys; sys.modules.update(dict.fromkeys(('av', 'pi_heif', 'ai_edge_litert'))); "
    "from reportgen.cli import main; main()",
)
"""The program where the libraries of the extra `film` are not installed."""


def _called(command: Sequence[str]) -> subprocess.Popen[str]:
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8")


def opened(academy: Path, *program: str) -> OpenDesk:
    """The desk of an academy, opened by the command that everybody uses, or by the `program` that the interpreter is
    given."""
    asked = ("desk", str(academy), "--port", "0", "--no-browser")
    process = _called([sys.executable, *program, *asked]) if program else forked(*asked)
    assert process.stdout is not None
    told = re.search(r"http://127\.0\.0\.1:(\d+)(/\S*)", process.stdout.readline())
    assert told is not None
    return OpenDesk(academy, int(told[1]), told[2], process)


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """Petra with one lesson and Bettina with two."""
    return link_only(small_academy(tmp_path / "academy", PETRA, BETTINA))


@pytest.fixture
def desk(academy: Path) -> Iterator[OpenDesk]:
    desk = opened(academy)
    yield desk
    desk.end()


class Browser:
    """A browser with the few things that an instructor does."""

    def __init__(self, driver: webdriver.Chrome) -> None:
        self.driver = driver

    def until(self, holds: str) -> None:
        """Wait until the browser says that the words of JavaScript `holds` are true of a whole page."""
        script = f"return document.readyState === 'complete' && Boolean({holds})"
        WebDriverWait(self.driver, DEADLINE, 0.02).until(lambda driver: driver.execute_script(script), holds)

    def find(self, selector: str) -> WebElement:
        return self.driver.find_element(By.CSS_SELECTOR, selector)

    def type(self, selector: str, text: str) -> None:
        """Type into a field, and wait until it is saved."""
        self.find(selector).send_keys(text)
        inner = f"document.querySelector('{selector}')"
        self.until(f"{inner}.closest('.field').dataset.was === {inner}.value")

    def page_says(self, words: str) -> None:
        """Wait until the student's page beside the fields says that."""
        body = "document.getElementById('page').contentDocument?.body?.innerText"
        self.until(f"({body} ?? '').includes('{words}')")


@pytest.fixture(scope="session")
def _driver(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    options = Options()
    options.binary_location = str(shutil.which("chromium"))
    flags = ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-background-networking")
    for flag in (*flags, f"--user-data-dir={tmp_path_factory.mktemp('desk-browser')}", "--window-size=1360,950"):
        options.add_argument(flag)
    driver = webdriver.Chrome(options=options, service=Service(str(shutil.which("chromedriver"))))
    yield driver
    driver.quit()


@pytest.fixture
def browser(_driver: webdriver.Chrome) -> Iterator[Browser]:
    yield Browser(_driver)
    _driver.get("about:blank")
