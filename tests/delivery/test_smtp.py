"""Mails reach a real server once each, whatever it answers and whenever it hangs up."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from reportgen.delivery.journal import entries
from reportgen.delivery.letter import Letter
from reportgen.delivery.sending import Pace, send_all
from reportgen.delivery.server import Server, ServerError
from tests.delivery.post_office import DROP, Certificate, PostOffice, certificate, letter, letters, opened

AT_ONCE = Pace(per_minute=1e6, back_off=(0.0, 0.0, 0.0))
Queued = Callable[[list[Letter]], list[Letter]]


def states(journal: sqlite3.Connection) -> list[str]:
    return [entry.state for entry in entries(journal)]


def sent(mails: list[Letter], server: Server, journal: sqlite3.Connection) -> list[str]:
    """Send, and give what was told."""
    told: list[str] = []
    send_all(mails, server, journal, AT_ONCE, told.append)
    return told


def test_two_hundred_recaps_go_in_one_connection(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    mails = queued(letters(200, size=15_000))
    sent(mails, post_office.server(), journal)
    assert post_office.connections == post_office.signed_in == 1
    assert [taken.addresses for taken in post_office.taken] == [mail.addresses for mail in mails]
    assert [taken.data for taken in post_office.taken] == [mail.data for mail in mails]
    assert states(journal) == ["sent"] * 200


@pytest.mark.parametrize("stage", ["MAIL", "RCPT", "DATA", "after DATA"])
def test_a_mail_that_is_put_off_is_tried_again_and_arrives_once(
    stage: str, post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail(stage, "451 not now", "450 not yet")
    sent(queued(letters(3)), post_office.server(), journal)
    assert sorted(post_office.counts.values()) == [1, 1, 1]
    assert states(journal) == ["sent"] * 3


@pytest.mark.parametrize("stage", ["MAIL", "RCPT", "DATA", "after DATA"])
def test_a_mail_that_is_refused_is_not_tried_again_and_the_others_go(
    stage: str, post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail(stage, "550 no such user")
    told = sent(queued(letters(3)), post_office.server(), journal)
    assert states(journal) == ["failed", "sent", "sent"]
    assert len(post_office.taken) == 2
    assert post_office.commands.count("MAIL") == 3
    assert "550 no such user" in told[0]


def test_a_mail_that_is_put_off_again_and_again_waits_for_the_next_run(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("RCPT", *["451 not now"] * 4)
    mails = queued(letters(1))
    sent(mails, post_office.server(), journal)
    assert states(journal) == ["queued"]
    assert post_office.commands.count("RCPT") == 4
    sent(mails, post_office.server(), journal)
    assert states(journal) == ["sent"]


@pytest.mark.parametrize("stage", ["MAIL", "RCPT", "DATA"])
@pytest.mark.parametrize("answer", [DROP, "421 closing"])
def test_a_server_that_hangs_up_is_called_again(
    stage: str, answer: str, post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail(stage, answer)
    sent(queued(letters(3)), post_office.server(), journal)
    assert sorted(post_office.counts.values()) == [1, 1, 1]
    assert states(journal) == ["sent"] * 3
    assert post_office.connections >= 2


def test_a_connection_lost_in_the_middle_of_a_mail_delivers_it_once_all_the_same(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("mid-DATA", DROP)
    sent(queued([letter(1, size=8_000_000), *letters(3)[1:]]), post_office.server(), journal)
    assert sorted(post_office.counts.values()) == [1, 1, 1]
    assert states(journal) == ["sent"] * 3


def test_a_mail_whose_answer_never_came_is_in_doubt_and_not_sent_again(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("after DATA", DROP)
    mails = queued(letters(3))
    told = sent(mails, post_office.server(), journal)
    assert states(journal) == ["unknown", "sent", "sent"]
    assert sorted(post_office.counts.values()) == [1, 1, 1]
    assert told[0].startswith("unknown 1 student-1")


def test_a_slow_server_is_waited_for(post_office: PostOffice, journal: sqlite3.Connection, queued: Queued) -> None:
    post_office.fail("after DATA", 0.6)
    sent(queued(letters(2)), post_office.server(timeout=0.3), journal)
    assert states(journal) == ["sent", "sent"]
    assert sorted(post_office.counts.values()) == [1, 1]


def test_a_server_too_slow_to_begin_is_called_again(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("MAIL", 0.8)
    sent(queued(letters(2)), post_office.server(timeout=0.3), journal)
    assert states(journal) == ["sent", "sent"]
    assert sorted(post_office.counts.values()) == [1, 1]


def test_a_server_too_slow_to_answer_at_the_end_leaves_a_doubt(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("after DATA", 0.8)
    sent(queued(letters(2)), post_office.server(after_data=0.3), journal)
    assert states(journal) == ["unknown", "sent"]
    assert max(post_office.counts.values()) == 1


def test_of_two_addresses_the_one_that_is_refused_keeps_the_mail_from_nobody_else(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("RCPT", "550 no such user")
    told = sent(queued([letter(1, to=["gone@example.org", "here@example.org"])]), post_office.server(), journal)
    assert [taken.addresses for taken in post_office.taken] == [("here@example.org",)]
    assert "not to gone@example.org: 550 no such user" in told[0]


def test_of_two_addresses_the_one_that_is_put_off_holds_the_mail_until_both_can_have_it(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("RCPT", "450 not now")
    sent(queued([letter(1, to=["busy@example.org", "here@example.org"])]), post_office.server(), journal)
    assert [taken.addresses for taken in post_office.taken] == [("busy@example.org", "here@example.org")]


def test_an_unknown_certificate_is_refused_before_a_password_is_said(
    tmp_path: Path, journal: sqlite3.Connection, queued: Queued
) -> None:
    office = PostOffice()
    running = opened(office, certificate(tmp_path))
    try:
        with pytest.raises(ServerError, match="certificate of localhost is not to be trusted"):
            sent(queued(letters(1)), office.server(), journal)
    finally:
        running.stop()
    assert (office.signed_in, office.taken, states(journal)) == (0, [], ["queued"])


def test_a_certificate_of_another_name_is_refused(
    tmp_path: Path, journal: sqlite3.Connection, queued: Queued, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = certificate(tmp_path, "elsewhere.example.org")
    monkeypatch.setenv("SSL_CERT_FILE", str(other.chain))
    office = PostOffice()
    running = opened(office, other)
    try:
        with pytest.raises(ServerError, match="not valid for 'localhost'"):
            sent(queued(letters(1)), office.server(), journal)
    finally:
        running.stop()
    assert (office.signed_in, office.taken) == (0, [])


def test_a_server_without_encryption_gets_nothing(journal: sqlite3.Connection, queued: Queued) -> None:
    office = PostOffice()
    running = opened(office, None)
    try:
        with pytest.raises(ServerError, match="offers no encryption"):
            sent(queued(letters(1)), office.server(), journal)
    finally:
        running.stop()
    assert (office.commands, states(journal)) == ([], ["queued"])


def test_a_wrong_password_ends_the_run_without_showing_it(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    with pytest.raises(ServerError, match="refused user and password") as raised:
        sent(queued(letters(2)), post_office.server(password="a-wrong-one"), journal)
    assert "a-wrong-one" not in str(raised.value)
    assert states(journal) == ["queued", "queued"]


def test_a_server_that_is_not_there_is_called_so_often_and_no_oftener(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    told = sent(queued(letters(5)), post_office.server(port=1), journal)
    assert [line.startswith("not now") for line in told] == [True] * 4
    assert states(journal) == ["queued"] * 5


def test_mails_go_no_faster_than_the_pace(post_office: PostOffice, journal: sqlite3.Connection, queued: Queued) -> None:
    from time import monotonic

    begun = monotonic()
    send_all(queued(letters(4)), post_office.server(), journal, Pace(per_minute=600), lambda line: None)
    assert monotonic() - begun >= 0.3


def test_an_encrypted_start_serves_as_well(
    own_certificate: Certificate, journal: sqlite3.Connection, queued: Queued, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SSL_CERT_FILE", str(own_certificate.chain))
    office = PostOffice()
    running = opened(office, own_certificate, from_the_start=True)
    try:
        sent(queued(letters(2)), office.server(security="tls"), journal)
    finally:
        running.stop()
    assert states(journal) == ["sent", "sent"]
    assert office.signed_in == 1
