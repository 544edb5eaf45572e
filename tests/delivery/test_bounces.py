"""Notifications of mails that came back, as mail servers write them (RFC 3464), matched to the journal."""

import mailbox
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from reportgen.delivery.bounces import bounces_in, note_bounces, read_bounces
from reportgen.delivery.journal import open_journal
from reportgen.delivery.letter import Letter
from reportgen.delivery.rows import entries
from reportgen.errors import ReportgenError
from tests.delivery.conftest import queue_all
from tests.delivery.post_office import letter, letters


def notification(
    message_id: str, *, to: str = "student-1@example.org", action: str = "failed", part: str = ""
) -> bytes:
    returned = part or (
        f"Content-Type: message/rfc822\r\n\r\nFrom: ilda@example.org\r\nTo: {to}\r\nMessage-ID: {message_id}\r\n"
        "Subject: Your lesson\r\n\r\nDear Mara,\r\n"
    )
    return (
        "From: MAILER-DAEMON@mail.example.net\r\nTo: ilda@example.org\r\nSubject: Undelivered\r\n"
        "Message-ID: <report-1@mail.example.net>\r\nMIME-Version: 1.0\r\n"
        'Content-Type: multipart/report; report-type=delivery-status; boundary="b"\r\n\r\n'
        "--b\r\nContent-Type: text/plain\r\n\r\nYour mail could not be delivered.\r\n"
        "--b\r\nContent-Type: message/delivery-status\r\n\r\n"
        "Reporting-MTA: dns; mail.example.net\r\nArrival-Date: Thu, 19 Nov 2026 12:00:01 +0000\r\n\r\n"
        f"Final-Recipient: rfc822; {to}\r\nAction: {action}\r\nStatus: 5.1.1\r\n"
        "Diagnostic-Code: smtp; 550 5.1.1 no such\r\n user here\r\n\r\n"
        f"--b\r\n{returned}\r\n--b--\r\n"
    ).encode()


@pytest.fixture
def sent(journal: sqlite3.Connection, queued: Callable[[list[Letter]], list[Letter]]) -> sqlite3.Connection:
    queued(letters(3))
    return journal


def noted(journal: sqlite3.Connection, folder: Path, *mails: bytes) -> list[dict[str, str]]:
    folder.mkdir(exist_ok=True)
    for number, mail in enumerate(mails):
        (folder / f"{number}.eml").write_bytes(mail)
    note_bounces(journal, folder)
    return [entry.missed for entry in entries(journal)]


WHY = "5.1.1 550 5.1.1 no such user here"


def test_a_mail_that_came_back_is_noted_with_the_reason(sent: sqlite3.Connection, tmp_path: Path) -> None:
    found = noted(sent, tmp_path / "in", notification("<1@example.org>"))
    assert found == [{"student-1@example.org": WHY}, {}, {}]


@pytest.mark.parametrize(
    "part",
    [
        "Content-Type: text/rfc822-headers\r\n\r\nMessage-ID: <1@example.org>\r\nSubject: Your lesson\r\n",
        "Content-Type: text/rfc822-headers\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n"
        "Message-ID: <1=\r\n@example.org>\r\n",
    ],
)
def test_the_header_alone_is_enough(part: str, sent: sqlite3.Connection, tmp_path: Path) -> None:
    assert noted(sent, tmp_path / "in", notification("", part=part))[0] == {"student-1@example.org": WHY}


def test_a_notification_that_only_answers_the_mail_is_enough(sent: sqlite3.Connection, tmp_path: Path) -> None:
    answer = notification("", part="Content-Type: text/plain\r\n\r\nNothing returned.\r\n")
    answer = b"In-Reply-To: <2@example.org>\r\n" + answer.replace(b"student-1@", b"student-2@")
    assert noted(sent, tmp_path / "in", answer) == [{}, {"student-2@example.org": WHY}, {}]


def test_an_original_message_id_among_the_fields_is_enough(sent: sqlite3.Connection, tmp_path: Path) -> None:
    answer = notification("", part="Content-Type: text/plain\r\n\r\nNothing returned.\r\n")
    answer = answer.replace(b"Action: failed", b"Original-Message-ID: <1@example.org>\r\nAction: failed")
    assert noted(sent, tmp_path / "in", answer)[0] == {"student-1@example.org": WHY}


@pytest.mark.parametrize("action", ["delayed", "delivered", "relayed", "expanded"])
def test_a_delay_or_a_delivery_is_no_failure(action: str, sent: sqlite3.Connection, tmp_path: Path) -> None:
    assert noted(sent, tmp_path / "in", notification("<1@example.org>", action=action)) == [{}, {}, {}]


def test_mails_of_others_and_of_other_kinds_are_passed_over(sent: sqlite3.Connection, tmp_path: Path) -> None:
    plain = b"From: petra@example.org\r\nSubject: Re: Your lesson\r\nIn-Reply-To: <1@example.org>\r\n\r\nThank you!\r\n"
    broken = notification("<1@example.org>")[:400]
    found = noted(sent, tmp_path / "in", plain, broken, b"", b"\xff\x00", notification("<other@example.org>"))
    assert found == [{}, {}, {}]


def test_a_mail_that_was_sent_on_counts_for_the_address_that_we_know(sent: sqlite3.Connection, tmp_path: Path) -> None:
    found = noted(sent, tmp_path / "in", notification("<1@example.org>", to="elsewhere@example.net"))
    assert found[0] == {"student-1@example.org": WHY}


def test_of_two_addresses_only_the_one_that_came_back_is_noted(tmp_path: Path, journal: sqlite3.Connection) -> None:
    queue_all(journal, [letter(1, to=["one@example.org", "two@example.org"])])
    found = noted(journal, tmp_path / "in", notification("<1@example.org>", to="TWO@example.org"))
    assert found == [{"two@example.org": WHY}]


def test_codes_in_a_notification_reach_no_terminal(sent: sqlite3.Connection, tmp_path: Path) -> None:
    evil = notification("<1@example.org>").replace(
        b"no such\r\n user here", b"\x1b]0;gone\x07\x9b2J no such\xe2\x80\xae user"
    )
    evil = evil.replace(b"rfc822; student-1@example.org", b"rfc822; st\x1b[2Judent@example.org")
    (tmp_path / "one.eml").write_bytes(evil)
    ((_, bounce),) = note_bounces(sent, tmp_path / "one.eml")
    assert bounce.says.startswith("5.1.1 550 5.1.1 ]0;gone")
    assert (bounce.says + bounce.address).isprintable()


def test_an_mbox_a_maildir_and_one_file_are_read_alike_and_left_alone(tmp_path: Path) -> None:
    mail = notification("<1@example.org>")
    mbox = mailbox.mbox(tmp_path / "inbox.mbox")
    maildir = mailbox.Maildir(tmp_path / "maildir")
    for box in (mbox, maildir):
        box.add(b"Subject: another\r\n\r\nFrom here on.\r\n")
        box.add(mail)
        box.close()
    (tmp_path / "one.eml").write_bytes(mail)
    before = (tmp_path / "inbox.mbox").read_bytes()
    for place in ("inbox.mbox", "maildir", "one.eml"):
        assert [bounce.message_ids[0] for bounce in bounces_in(tmp_path / place)] == ["<1@example.org>"]
    assert (tmp_path / "inbox.mbox").read_bytes() == before


def test_what_was_noted_before_is_not_told_again(tmp_path: Path) -> None:
    file = tmp_path / "journal.sqlite"
    with open_journal(file) as journal:
        queue_all(journal, letters(1))
    (tmp_path / "one.eml").write_bytes(notification("<1@example.org>"))
    told = f"came back 1 student-1 2026-11-19 from student-1@example.org: {WHY}"
    assert read_bounces(file, tmp_path / "one.eml") == [told]
    assert read_bounces(file, tmp_path / "one.eml") == ["Nothing came back that was not noted before."]


def test_places_that_are_not_there_are_told(tmp_path: Path, journal: sqlite3.Connection) -> None:
    with pytest.raises(ReportgenError, match="is not there"):
        note_bounces(journal, tmp_path / "none")
    with pytest.raises(ReportgenError, match="no mail was sent yet"):
        read_bounces(tmp_path / "none.sqlite", tmp_path)
    assert not (tmp_path / "none.sqlite").exists()
