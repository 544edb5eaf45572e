"""No password and no mail goes to a server that is not the one that was meant, or not encrypted."""

import sqlite3
from pathlib import Path

import pytest

from reportgen.delivery.server import ServerError
from tests.delivery.certificates import certificate
from tests.delivery.post_office import (
    Certificate,
    PostOffice,
    letters,
    opened,
)
from tests.delivery.sending_at_once import Queued, sent, states


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
