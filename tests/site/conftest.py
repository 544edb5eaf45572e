"""The demo academy, published once for all workers of a test run."""

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping
from functools import partial
from pathlib import Path

import pytest

from reportgen.pipeline import reports_of
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import reader_of
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import load_academy, sound
from tests.site.chromium import Chromium
from tests.site.firefox import Firefox
from tests.site.published import ACADEMY, ROOT, Page, Site
from tests.site.sealed import QuietHandler, SealedSite, served


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The published demo. The first worker that needs it publishes; the other waits at the lock."""
    own = tmp_path_factory.getbasetemp()
    shared = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    folder, done = shared / "demo-site", shared / "demo-site-is-whole"
    with (shared / "demo-site-lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not done.exists():
            _publish(folder)
            done.touch()
    return Site(folder, tuple(Page(path) for path in sorted(folder.rglob("*.html"))))


def _publish(folder: Path) -> None:
    command = [sys.executable, "-m", "tests.printed_once", "publish", str(ACADEMY), "--to", str(folder), "--jobs", "2"]
    ended = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert ended.returncode == 0, ended.stderr


@pytest.fixture(scope="session")
def reports() -> Mapping[str, tuple[ToldLesson, ...]]:
    """Every lesson of the demo as its student is told it, by the student's id."""
    folder = load_academy(ACADEMY)
    home = sound(folder)
    return {
        name: tell_all(reports_of(student, home), home.library, reader_of(student.student, home))
        for name, student in folder.students.items()
    }


@pytest.fixture(scope="session")
def sealed(site: Site, tmp_path_factory: pytest.TempPathFactory) -> SealedSite:
    """The whole demo and a guest, published sealed where it was open before; once for all workers."""
    own = tmp_path_factory.getbasetemp()
    shared = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    found, done = SealedSite(shared / "sealed" / "academy", shared / "sealed" / "site"), shared / "sealed-is-whole"
    with (shared / "sealed-lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not done.exists():
            shutil.copytree(site.folder, found.site)
            found.publish()
            done.touch()
    return found


@pytest.fixture(scope="session")
def on_the_web(sealed: SealedSite, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The https address at which a plain web server shows what was published sealed."""
    with served(tmp_path_factory.mktemp("web"), partial(QuietHandler, directory=str(sealed.upload))) as address:
        yield address


@pytest.fixture(scope="session")
def chromium(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chromium]:
    browser = Chromium(tmp_path_factory.mktemp("chromium"))
    yield browser
    browser.quit()


@pytest.fixture(scope="session")
def firefox(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Firefox]:
    browser = Firefox(tmp_path_factory.mktemp("firefox") / "profile")
    yield browser
    browser.quit()
