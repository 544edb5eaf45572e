"""A mail server, a journal, judged lessons of the demo."""

import sqlite3
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from reportgen.delivery.journal import open_journal
from reportgen.delivery.letter import Letter
from reportgen.delivery.mail import words_of
from reportgen.delivery.rows import MailToSend, queue
from reportgen.pipeline import load, reports_of
from reportgen.records.academy import Academy, Student
from reportgen.records.report import LessonReport
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import Reader
from reportgen.saying.telling import tell
from reportgen.sheets.academy_folder import sound
from tests.delivery.certificates import Certificate, certificate
from tests.delivery.post_office import PostOffice, opened
from tests.delivery.sending_at_once import Queued

ACADEMY = Path(__file__).parents[2] / "examples" / "academy"
TODAY = date(2026, 11, 25)


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
def queued(journal: sqlite3.Connection) -> Queued:
    """Note prepared letters as queued."""
    return lambda letters: queue_all(journal, letters)


def queue_all(journal: sqlite3.Connection, letters: list[Letter]) -> list[Letter]:
    journal.execute("BEGIN")
    with journal:
        for one in letters:
            message_id = f"<{one.id}@example.org>"
            mail = MailToSend(one.student, one.lesson, one.revision, message_id, one.addresses)
            assert one.id == queue(journal, mail)
    return letters


class Demo:
    """The demo academy and the latest lesson of those of its students that a test asks for."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[LessonReport, ToldLesson]] = {}
        self._students: dict[str, Student] = {}
        folder = load(ACADEMY, "petra-lumsgate")
        self.home = sound(folder)
        self.academy: Academy = self.home.academy
        self.library = folder.library
        self.words = words_of(self.home)

    def report(self, name: str) -> LessonReport:
        return self._both(name)[0]

    def told(self, name: str) -> ToldLesson:
        """The lesson as an English reader is told it."""
        return self._both(name)[1]

    def _both(self, name: str) -> tuple[LessonReport, ToldLesson]:
        if name not in self._known:
            folder = load(ACADEMY, name)
            report = reports_of(folder.students[name], self.home, folder.students)[-1]
            self._known[name] = report, tell(report, folder.library, Reader())
            self._students[name] = folder.students[name].student  # type: ignore[assignment]
        return self._known[name]

    def student(self, name: str) -> Student:
        self.report(name)
        return self._students[name]


@pytest.fixture(scope="session")
def demo() -> Demo:
    return Demo()
