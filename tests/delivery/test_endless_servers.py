"""Servers that say nothing, too much, or never the end of it: they are given up, and what is left waits."""

import sqlite3
import tracemalloc
from collections.abc import Iterator
from time import monotonic

import pytest

from reportgen.delivery.letter import Letter
from reportgen.delivery.sending import Pace, send_all
from reportgen.delivery.server import Server
from tests.delivery.post_office import PostOffice, letter, letters
from tests.delivery.sending_at_once import Queued, states
from tests.delivery.talkers import (
    Says,
    dripping,
    dripping_after_the_greeting,
    endless,
    one_long_line,
    silent,
    silent_after_the_greeting,
    talking,
)

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


def test_a_mail_as_a_whole_has_an_end_too(post_office: PostOffice, journal: sqlite3.Connection, queued: Queued) -> None:
    """Each answer comes in time, and all of them together do not."""
    post_office.fail("RCPT", *[0.2] * 10)
    mail = letter(1, to=[f"reader-{number}@example.org" for number in range(10)])
    told, took = outcome(queued([mail]), post_office.server(timeout=0.5, whole_mail=0.5), journal)
    assert "no whole answer in time" in told[0]
    assert took < 4
