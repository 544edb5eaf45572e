"""The journal keeps what became of each mail, for one run at a time, and nothing that nobody needs."""

import json
import random
import sqlite3
import stat
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from reportgen.delivery.changes import as_mailed
from reportgen.delivery.entry import Entry, Reach, all_of
from reportgen.delivery.journal import JournalError, journal_of, open_journal
from reportgen.delivery.journal import read_entries as read
from reportgen.delivery.rows import MailToSend, entries, let_go, note, note_bounce, put, queue
from tests.delivery.conftest import Demo, queue_all
from tests.delivery.post_office import letters

ONE, TWO, THREE = "one@example.org", 'two"$.@example.org', "three@example.org"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "school.journal.sqlite"


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A journal of twelve mails that were sent."""
    file = tmp_path_factory.mktemp("full") / "journal.sqlite"
    with open_journal(file) as journal:
        for letter in queue_all(journal, letters(12)):
            note(journal, letter.id, all_of(letter.addresses, "sent", "250 OK"), "smtp")
    return file.read_bytes()


def happened(journal: sqlite3.Connection, mail: int, state: str, *to: str) -> Entry:
    """Note that all addresses of a mail, or those given, have come into a state."""
    (entry,) = [entry for entry in entries(journal) if entry.id == mail]
    return note(journal, mail, all_of(to or entry.addresses, state), "smtp")  # type: ignore[arg-type]


def test_it_stands_beside_the_academy(tmp_path: Path) -> None:
    assert journal_of(tmp_path / "school") == tmp_path / "school.journal.sqlite"


def test_what_a_run_left_in_sending_is_in_doubt_for_the_next(file: Path) -> None:
    with open_journal(file) as journal:
        queue_all(journal, letters(3))
        happened(journal, 1, "sending")
        happened(journal, 2, "sent")
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
        happened(journal, 1, "sending")
        assert [entry.state for entry in read(file)] == ["sending", "queued"]


def test_reading_one_that_is_not_there_makes_none(file: Path) -> None:
    assert read(file) == ()
    assert not file.exists()


def test_only_its_owner_can_read_it_and_what_stands_beside_it(file: Path) -> None:
    file.touch(0o644)
    file.with_name(f"{file.name}-lock").touch(0o644)
    with open_journal(file) as journal:
        queue_all(journal, letters(1))
        there = {each.name.removeprefix(file.name): stat.S_IMODE(each.stat().st_mode) for each in file.parent.iterdir()}
    assert {"", "-lock", "-wal", "-shm"} <= there.keys()
    assert set(there.values()) == {0o600}


@pytest.mark.parametrize("seed", range(60))
def test_a_flipped_bit_is_told_or_does_no_harm_and_never_makes_a_mail_unknown(
    full: bytes, file: Path, seed: int
) -> None:
    flipped, at = bytearray(full), random.Random(seed).randrange(len(full) * 8)
    flipped[at // 8] ^= 1 << at % 8
    file.write_bytes(flipped)
    known: tuple[Entry, ...] | None = None
    with suppress(JournalError):
        with open_journal(file) as journal:
            queue(journal, MailToSend("new", "2026-11-24", "n", "<n@x>", [ONE]))
        known = read(file)[:-1]
    if known is not None:
        assert len(known) == 12
        lessons = {(f"student-{n}", "2026-11-19", f"{n:064x}", "sent") for n in range(1, 13)}
        assert {(e.student, e.lesson, e.revision, e.state) for e in known if e.state != "damaged"} <= lessons


def test_of_a_damaged_row_the_rest_is_read_on(full: bytes, file: Path) -> None:
    file.write_bytes(full.replace(b"student-7", b"student-q", 1))
    states = {entry.id: entry.state for entry in read(file)}
    assert states == {number: "damaged" if number == 7 else "sent" for number in range(1, 13)}


def test_a_lesson_has_one_mail_for_each_revision(file: Path) -> None:
    def queued(revision: str, *to: str) -> int:
        return queue(journal, MailToSend("mara", "2026-11-19", revision, f"<{revision}@x>", to))

    with open_journal(file) as journal:
        first = queued("a", "mara@example.org")
        assert queued("a", "new@example.org") == first
        assert [list(entry.addresses) for entry in entries(journal)] == [["new@example.org"]]
        happened(journal, first, "sent")
        assert queued("b", "mara@example.org") != first
        assert queued("c", "mara@example.org") != first
        assert [entry.revision for entry in entries(journal)] == ["a", "c"]


# how a mail stands with each of its addresses


@pytest.fixture
def to_three(file: Path) -> Path:
    """A mail to three addresses: it was sent to the first, refused for the second, put off for the third."""
    with open_journal(file) as journal:
        queue(journal, MailToSend("mara", "2026-11-19", "a", "<a@x>", [ONE, TWO, THREE]))
        note(journal, 1, {ONE: Reach("sent"), TWO: Reach("failed", "550 no such user"), THREE: Reach("queued")}, "smtp")
    return file


def test_what_is_put_off_for_one_address_waits_and_who_was_missed_is_known(to_three: Path) -> None:
    (entry,) = read(to_three)
    assert (entry.state, entry.reached, entry.missed) == ("queued", True, {TWO: "550 no such user"})


def test_who_is_killed_then_has_the_mail_in_doubt_for_that_address_alone(to_three: Path) -> None:
    with open_journal(to_three) as journal:
        happened(journal, 1, "sending", THREE)
    with open_journal(to_three) as journal:
        (entry,) = entries(journal)
    assert {address: reach.state for address, reach in entry.addresses.items()} == {
        ONE: "sent", TWO: "failed", THREE: "unknown",
    }  # fmt: skip
    assert (entry.state, entry.with_each("unknown")) == ("unknown", [THREE])


def test_queued_again_it_goes_to_nobody_who_has_it_and_who_is_no_reader_any_more_is_not_waited_for(
    to_three: Path,
) -> None:
    with open_journal(to_three) as journal:
        queue(journal, MailToSend("mara", "2026-11-19", "a", "<a@x>", ["new@example.org"], others=[ONE, TWO]))
        (entry,) = entries(journal)
    assert {address: reach.state for address, reach in entry.addresses.items()} == {
        ONE: "sent", TWO: "failed", "new@example.org": "queued",
    }  # fmt: skip


def test_a_new_revision_leaves_what_was_sent_of_the_old_one(to_three: Path) -> None:
    with open_journal(to_three) as journal:
        queue(journal, MailToSend("mara", "2026-11-19", "b", "<b@x>", [ONE, TWO, THREE]))
        old, new = entries(journal)
    assert (old.state, list(old.addresses), new.state) == ("sent", [ONE, TWO], "queued")


def test_a_mail_has_bounced_from_each_address_that_sent_it_back(file: Path) -> None:
    with open_journal(file) as journal:
        queue(journal, MailToSend("mara", "2026-11-19", "a", "<a@x>", [ONE, TWO]))
        happened(journal, 1, "sent")
        for address, reached in ((ONE, True), (TWO, False)):
            note_bounce(journal, entries(journal)[0], address, "5.1.1")
            assert entries(journal)[0].bounced
            assert entries(journal)[0].reached is reached


# what is no longer needed


def mailed(day: datetime, **changed: object) -> Entry:
    usual = Entry(1, "mara", "2026-11-19", "a" * 64, f"<{'a' * 40}@x>", all_of([ONE], "sent", "250 queued as 7"), None,
                  None, "sent", "smtp", day)  # fmt: skip
    return replace(usual, **changed)  # type: ignore[arg-type]


def test_after_so_many_days_only_that_it_went_is_known(file: Path, demo: Demo) -> None:
    facts = as_mailed(demo.report("petra-lumsgate"))
    with open_journal(file) as journal:
        put(journal, mailed(datetime(2026, 10, 1, 9, 15, 7, tzinfo=UTC), facts=facts))
        put(journal, mailed(datetime(2026, 11, 20, 9, tzinfo=UTC), id=2, lesson="2026-11-20", facts=facts))
        assert let_go(journal, date(2026, 11, 25), None) == 0
        assert let_go(journal, date(2026, 11, 25), 60) == 0
        assert let_go(journal, date(2026, 11, 25), 30) == 1
        old, new = entries(journal)
        assert let_go(journal, date(2026, 11, 25), 30) == 0
    assert old == mailed(datetime(2026, 10, 1, tzinfo=UTC), addresses={}, facts=None, message_id="")
    assert old.reached
    assert new.facts == facts


def test_what_it_lets_go_is_gone_from_the_bytes_of_the_file(file: Path) -> None:
    with open_journal(file) as journal:
        put(journal, mailed(datetime(2026, 10, 1, tzinfo=UTC)))
    assert ONE.encode() in file.read_bytes()
    with open_journal(file) as journal:
        let_go(journal, date(2026, 11, 25), 30)
        assert ONE.encode() not in b"".join(each.read_bytes() for each in file.parent.iterdir())
    assert ONE.encode() not in b"".join(each.read_bytes() for each in file.parent.iterdir())


# journals of an earlier program

VERSION_1 = """
CREATE TABLE mail (
    id INTEGER PRIMARY KEY, student TEXT NOT NULL, lesson TEXT NOT NULL, revision TEXT NOT NULL,
    message_id TEXT NOT NULL, addresses TEXT NOT NULL, report TEXT NOT NULL, corrects INTEGER REFERENCES mail (id),
    state TEXT NOT NULL, via TEXT, at TEXT NOT NULL, says TEXT NOT NULL DEFAULT '', bounces TEXT NOT NULL DEFAULT '{}',
    UNIQUE (student, lesson, revision)
);
PRAGMA user_version = 1;
"""


@pytest.fixture
def earlier(file: Path, demo: Demo) -> Path:
    """A journal of version 1, which held the whole report of each mail."""
    report = demo.told("petra-lumsgate")
    whole, at = report.model_dump_json(by_alias=True), "2026-11-24T18:00:00+00:00"
    came_back, two, left_out = json.dumps({ONE: "5.1.1 full"}), json.dumps([ONE, TWO]), f"not to {TWO}: 550 unknown"
    rows = [
        (1, report.student, report.lesson, report.revision, "<1@x>", json.dumps([ONE]), whole, None, "sent", "smtp",
         at, "", came_back),
        (2, "mara", "2026-11-19", "b", "<2@x>", two, "{}", 1, "sent", "smtp", at, left_out, "{}"),
        (3, "mara", "2026-11-20", "c", "<3@x>", json.dumps([ONE]), "{}", None, "sending", "outbox", at, "", "{}"),
        (4, "mara", "2026-11-21", "d", "<4@x>", json.dumps([ONE]), "{}", None, "sent", "outbox", at, "a.eml", "{}"),
    ]  # fmt: skip
    made = sqlite3.connect(file)
    made.executescript(VERSION_1)
    made.executemany(f"INSERT INTO mail VALUES ({', '.join('?' * 13)})", rows)
    made.commit()
    made.close()
    return file


def test_one_of_an_earlier_program_can_be_read_and_is_left_alone(earlier: Path, demo: Demo) -> None:
    before = earlier.read_bytes()
    first, second, third, fourth = read(earlier)
    assert earlier.read_bytes() == before
    assert first.facts == replace(as_mailed(demo.report("petra-lumsgate")), parts={})
    assert first.missed == {ONE: "5.1.1 full"}
    assert second.addresses == {ONE: Reach("sent", f"not to {TWO}: 550 unknown"), TWO: Reach("failed", "550 unknown")}
    assert (second.facts, second.corrects, third.state, fourth.says) == (None, 1, "sending", "a.eml")


def test_opened_for_a_run_it_is_brought_up_to_date_and_the_reports_are_gone_from_its_bytes(earlier: Path) -> None:
    word = b'"findings":'
    assert word in earlier.read_bytes()
    before = read(earlier)
    with open_journal(earlier) as journal:
        after = entries(journal)
    assert [entry for entry in after if entry.id != 3] == [entry for entry in before if entry.id != 3]
    assert after[2].state == "unknown"
    assert word not in b"".join(each.read_bytes() for each in earlier.parent.iterdir())
    assert read(earlier) == after


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
