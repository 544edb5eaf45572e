"""The journal keeps what became of each mail, for one run at a time."""

import sqlite3
import stat
from pathlib import Path

import pytest

from reportgen.delivery.journal import JournalError, entries, journal_of, note, note_bounce, open_journal, queue
from reportgen.delivery.journal import read_entries as read
from tests.delivery.conftest import queue_all
from tests.delivery.post_office import letters


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "school.journal.sqlite"


def test_it_stands_beside_the_academy(tmp_path: Path) -> None:
    assert journal_of(tmp_path / "school") == tmp_path / "school.journal.sqlite"


def test_what_a_run_left_in_sending_is_in_doubt_for_the_next(file: Path) -> None:
    with open_journal(file) as journal:
        queue_all(journal, letters(3))
        note(journal, 1, "sending", "smtp")
        note(journal, 2, "sent", "smtp")
    with open_journal(file) as journal:
        assert [entry.state for entry in entries(journal)] == ["unknown", "sent", "queued"]


def test_a_second_run_is_kept_out(file: Path) -> None:
    with open_journal(file), pytest.raises(JournalError, match="another run is sending"), open_journal(file):
        pass
    with open_journal(file):
        pass


def test_it_can_be_read_while_a_run_sends(file: Path) -> None:
    with open_journal(file) as journal:
        queue_all(journal, letters(2))
        note(journal, 1, "sending", "smtp")
        assert [entry.state for entry in read(file)] == ["sending", "queued"]


def test_reading_one_that_is_not_there_makes_none(file: Path) -> None:
    assert read(file) == ()
    assert not file.exists()


def test_only_its_owner_can_read_it(file: Path) -> None:
    with open_journal(file):
        assert stat.S_IMODE(file.stat().st_mode) == 0o600


def test_a_lesson_has_one_mail_for_each_revision(file: Path) -> None:
    def queued(revision: str, *to: str) -> int:
        return queue(journal, "mara", "2026-11-19", revision, f"<{revision}@x>", to, "{}", None)

    with open_journal(file) as journal:
        first = queued("a", "mara@example.org")
        assert queued("a", "new@example.org") == first
        assert [entry.addresses for entry in entries(journal)] == [("new@example.org",)]
        note(journal, first, "sent", "smtp")
        assert queued("b", "mara@example.org") != first
        assert queued("c", "mara@example.org") != first
        assert [entry.revision for entry in entries(journal)] == ["a", "c"]


def test_a_mail_has_bounced_when_it_came_back_from_all(file: Path) -> None:
    with open_journal(file) as journal:
        queue(journal, "mara", "2026-11-19", "a", "<a@x>", ["one@example.org", 'two"$.@example.org'], "{}", None)
        for address, bounced in (("one@example.org", False), ('two"$.@example.org', True)):
            note_bounce(journal, entries(journal)[0], address, "5.1.1")
            assert entries(journal)[0].bounced is bounced


def test_one_of_a_later_program_is_left_alone(file: Path) -> None:
    with open_journal(file):
        pass
    changed = sqlite3.connect(file)
    changed.execute("PRAGMA user_version = 99")
    changed.close()
    with pytest.raises(JournalError, match="later reportgen"), open_journal(file):
        pass


def test_another_file_is_told_and_left_alone(file: Path) -> None:
    file.write_text("name: A school\n" * 200)
    with pytest.raises(JournalError, match="not a database"), open_journal(file):
        pass
    assert file.read_text().startswith("name: A school")
