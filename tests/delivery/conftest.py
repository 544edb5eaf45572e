"""A mail server, a journal, judged lessons of the demo."""

import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from reportgen.delivery.journal import open_journal, queue
from reportgen.delivery.letter import Letter
from reportgen.delivery.mail import words_of
from reportgen.pipeline import load, reports_of
from reportgen.records.academy import Academy, Student
from reportgen.records.report import LessonReport
from tests.delivery.post_office import Certificate, PostOffice, certificate, opened

ACADEMY = Path(__file__).parents[2] / "examples" / "academy"


@pytest.fixture(scope="session")
def own_certificate(tmp_path_factory: pytest.TempPathFactory) -> Certificate:
    return certificate(tmp_path_factory.mktemp("certificate"))


@pytest.fixture
def post_office(own_certificate: Certificate, monkeypatch: pytest.MonkeyPatch) -> Iterator[PostOffice]:
    """A server whose certificate this machine trusts for the length of a test."""
    monkeypatch.setenv("SSL_CERT_FILE", str(own_certificate.chain))
    office = PostOffice()
    running = opened(office, own_certificate)
    yield office
    running.stop()


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    with open_journal(tmp_path / "journal.sqlite") as opened_one:
        yield opened_one


@pytest.fixture
def queued(journal: sqlite3.Connection) -> Callable[[list[Letter]], list[Letter]]:
    """Note prepared letters as queued."""
    return lambda letters: queue_all(journal, letters)


def queue_all(journal: sqlite3.Connection, letters: list[Letter]) -> list[Letter]:
    journal.execute("BEGIN")
    with journal:
        for one in letters:
            message_id = f"<{one.id}@example.org>"
            assert one.id == queue(
                journal, one.student, one.lesson, one.revision, message_id, one.addresses, "{}", None
            )
    return letters


class Demo:
    """The demo academy and the latest lesson of those of its students that a test asks for."""

    def __init__(self) -> None:
        self._known: dict[str, LessonReport] = {}
        self._students: dict[str, Student] = {}
        folder = load(ACADEMY, "petra-lumsgate")
        assert folder.academy is not None
        self.academy: Academy = folder.academy
        self.words = words_of(self.academy, ACADEMY)

    def report(self, name: str) -> LessonReport:
        if name not in self._known:
            folder = load(ACADEMY, name)
            self._known[name] = reports_of(folder.students[name], self.academy, folder.library, folder.students)[-1]
            self._students[name] = folder.students[name].student  # type: ignore[assignment]
        return self._known[name]

    def student(self, name: str) -> Student:
        self.report(name)
        return self._students[name]


@pytest.fixture(scope="session")
def demo() -> Demo:
    return Demo()
