"""Mails reach a real server once each, whatever it answers and whenever it hangs up."""

import socket
import sqlite3
import tracemalloc
from collections.abc import Callable, Iterator
from time import monotonic

import pytest

from reportgen.delivery.letter import Letter
from reportgen.delivery.rows import entries
from reportgen.delivery.sending import Pace, send_all
from reportgen.delivery.server import Server
from tests.delivery.post_office import (
    DROP,
    ENDLESS,
    PostOffice,
    Says,
    dripping,
    dripping_after_the_greeting,
    endless,
    letter,
    letters,
    one_long_line,
    silent,
    silent_after_the_greeting,
    talking,
)

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


# servers that say nothing, too much, or never the end of it

IMPATIENT = Pace(per_minute=1e6, back_off=(0.0, 0.05, 5.0), gone=0.6)


def outcome(mails: list[Letter], server: Server, journal: sqlite3.Connection) -> tuple[list[str], float]:
    """What was told, and how many seconds it took; a server is given up after 0.6 of them."""
    told: list[str] = []
    begun = monotonic()
    send_all(mails, server, journal, IMPATIENT, told.append)
    return told, monotonic() - begun


@pytest.mark.parametrize(
    "says", [silent, dripping, endless, one_long_line, silent_after_the_greeting, dripping_after_the_greeting]
)
def test_a_server_that_comes_to_no_end_is_given_up_for_this_run(
    says: Says, journal: sqlite3.Connection, queued: Queued
) -> None:
    mails = queued(letters(3))
    tracemalloc.start()
    with talking(says) as (port, came):
        server = Server("127.0.0.1", port, "starttls", timeout=0.25, after_data=0.25)
        told, took = outcome(mails, server, journal)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert states(journal) == ["queued"] * 3
    assert told[0].startswith("not now: ")
    assert took < 3  # 0.6 by the clock of a quiet machine
    assert 1 <= len(came) <= 4
    assert most < 3_000_000


def test_for_a_server_that_is_gone_no_mail_is_made_that_nobody_takes(
    journal: sqlite3.Connection, queued: Queued
) -> None:
    """To make them takes longer than all tries together, and so does their pace."""
    mails, made = queued(letters(200)), []

    def one_by_one() -> Iterator[Letter]:
        for mail in mails:
            made.append(mail.id)
            yield mail

    begun = monotonic()
    with talking(silent) as (port, _):
        server = Server("127.0.0.1", port, "starttls", timeout=0.2)
        pace = Pace(per_minute=30, back_off=(0.0, 5.0), gone=0.6)
        send_all(one_by_one(), server, journal, pace, lambda line: None)
    assert made == [1]
    assert monotonic() - begun < 3
    assert states(journal) == ["queued"] * 200


def test_a_server_that_stops_answering_before_it_took_anything_is_given_up_for_this_run(
    post_office: PostOffice, journal: sqlite3.Connection, queued: Queued
) -> None:
    post_office.fail("MAIL", *[30.0] * 20)
    told, took = outcome(queued(letters(10)), post_office.server(timeout=0.25), journal)
    assert states(journal) == ["queued"] * 10
    assert len([line for line in told if "the connection was lost" in line]) <= 4
    assert told[-1] == "localhost does not answer: what is left waits for the next run"
    assert took < 3


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


def test_a_mail_as_a_whole_has_an_end_too(post_office: PostOffice, journal: sqlite3.Connection, queued: Queued) -> None:
    """Each answer comes in time, and all of them together do not."""
    post_office.fail("RCPT", *[0.2] * 10)
    mail = letter(1, to=[f"reader-{number}@example.org" for number in range(10)])
    told, took = outcome(queued([mail]), post_office.server(timeout=0.5, whole_mail=0.5), journal)
    assert "no whole answer in time" in told[0]
    assert took < 4


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
