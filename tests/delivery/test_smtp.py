"""Mails reach a real server once each, whatever it answers and whenever it hangs up."""

import socket
import sqlite3
from time import monotonic

import pytest

from reportgen.delivery.rows import entries
from reportgen.delivery.sending import Pace, send_all
from reportgen.delivery.server import Server
from tests.delivery.post_office import (
    DROP,
    ENDLESS,
    PostOffice,
    letter,
    letters,
)
from tests.delivery.sending_at_once import AT_ONCE, Queued, sent, states


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

    (entry,) = entries(journal)
    assert (entry.state, entry.missed) == ("sent", {"gone@example.org": "550 no such user"})


def test_of_two_addresses_the_one_that_is_put_off_gets_it_later_and_the_other_once(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("RCPT", "450 not now")
    told = sent(queued([letter(1, to=["busy@example.org", "here@example.org"])]), post_office.server(), journal)
    assert [taken.addresses for taken in post_office.taken] == [("here@example.org",), ("busy@example.org",)]
    assert told[0].endswith("to here@example.org; not yet to busy@example.org: 450 not now")
    assert states(journal) == ["sent"]


def test_of_two_addresses_the_one_that_is_put_off_again_and_again_waits_for_the_next_run(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("RCPT", "450 not now", 0.0, *["450 not now"] * 3)
    mails = queued([letter(1, to=["busy@example.org", "here@example.org"])])
    became = send_all(mails, post_office.server(), journal, AT_ONCE, lambda line: None)
    (entry,) = entries(journal)
    assert (entry.state, entry.with_each("sent"), entry.with_each("queued")) == (
        "queued", ["here@example.org"], ["busy@example.org"],
    )  # fmt: skip
    assert dict(became) == {"queued": 1}


def test_a_mail_that_reached_some_of_its_addresses_counts_as_sent_in_part(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("RCPT", "550 no such user")
    mails = queued([letter(1, to=["gone@example.org", "here@example.org"]), letter(2)])
    became = send_all(mails, post_office.server(), journal, AT_ONCE, lambda line: None)
    assert +became == {"partly": 1, "sent": 1}


def test_a_server_that_is_not_there_is_called_so_often_and_no_oftener(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    told = sent(queued(letters(5)), post_office.server(port=1), journal)
    assert [line.startswith("not now") for line in told] == [True] * 4
    assert states(journal) == ["queued"] * 5


@pytest.mark.parametrize("stage", ["MAIL", "RCPT", "DATA"])
def test_an_answer_without_an_end_puts_off_the_mail_and_no_other(
    stage: str, post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail(stage, ENDLESS)
    told = sent(queued(letters(3)), post_office.server(), journal)
    assert "an answer without an end" in told[0]
    assert states(journal) == ["sent"] * 3
    assert sorted(post_office.counts.values()) == [1, 1, 1]


def test_an_answer_without_an_end_after_the_mail_leaves_a_doubt(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("after DATA", ENDLESS)
    sent(queued(letters(2)), post_office.server(), journal)
    assert states(journal) == ["unknown", "sent"]


def test_what_a_server_says_reaches_no_terminal_as_codes(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("RCPT", "550 no \x1b[31msuch\x1b]0;title\x07 user\u202e")
    told = sent(queued(letters(1)), post_office.server(), journal)
    assert told[0].endswith("550 no [31msuch ]0;title user")
    assert all(line.isprintable() for line in told)


def test_mails_go_no_faster_than_the_pace(post_office: PostOffice, journal: sqlite3.Connection, queued: Queued) -> None:
    begun = monotonic()
    send_all(queued(letters(4)), post_office.server(), journal, Pace(per_minute=600), lambda line: None)
    assert monotonic() - begun >= 0.3


def test_why_a_server_was_not_reached_is_told_in_words(journal: sqlite3.Connection, queued: Queued) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))  # and nobody listens there
        port = taken.getsockname()[1]
        told = sent(queued(letters(1)), Server("127.0.0.1", port, "starttls"), journal)
    assert told[0] == f"not now: no mail server answers at 127.0.0.1:{port}. Look at its name and port"
    assert not any("Errno" in line for line in told)


def test_a_name_of_a_server_that_is_not_known_is_told_in_words(journal: sqlite3.Connection, queued: Queued) -> None:
    told = sent(queued(letters(1)), Server("mail.invalid", 587, "starttls"), journal)
    assert told[0] == "not now: mail.invalid cannot be found. Look at its name, and whether this computer is online"
