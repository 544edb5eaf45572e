"""The mail server's name and password, from the environment or a file that nobody else can read."""

from pathlib import Path

import pytest

from reportgen.delivery.server import Server, ServerError, server_from


def of(**written: str) -> Server:
    return server_from({f"REPORTGEN_SMTP_{name.upper()}": value for name, value in written.items()})


def test_starttls_on_the_submission_port_is_usual() -> None:
    server = of(host="mail.example.org", user="ilda", password="word")
    assert (server.host, server.port, server.security) == ("mail.example.org", 587, "starttls")
    assert (server.user, server.password) == ("ilda", "word")


@pytest.mark.parametrize("written", [{"port": "465"}, {"security": "tls"}])
def test_port_465_is_encrypted_from_the_start(written: dict[str, str]) -> None:
    server = of(host="mail.example.org", **written)
    assert (server.port, server.security) == (465, "tls")


@pytest.mark.parametrize(
    ("written", "wrong"),
    [
        ({}, "names no mail server"),
        ({"host": "a", "security": "none"}, "never leaves unencrypted"),
        ({"host": "a", "port": "mail"}, "port 'mail'"),
        ({"host": "a", "port": "99999"}, "port '99999'"),
        ({"host": "a", "user": "ilda"}, "user without a password"),
        ({"host": "a", "user": "ilda", "password": "pässword"}, "beyond ASCII"),
    ],
)
def test_what_cannot_be_used_is_told(written: dict[str, str], wrong: str) -> None:
    with pytest.raises(ServerError, match=wrong):
        of(**written)


def test_a_file_says_the_same(tmp_path: Path) -> None:
    file = tmp_path / "smtp.toml"
    file.write_text('host = "mail.example.org"\nport = 2525\nuser = "ilda"\npassword = "word"\n')
    file.chmod(0o600)
    server = of(file=str(file))
    assert (server.host, server.port, server.user, server.password) == ("mail.example.org", 2525, "ilda", "word")


def test_a_file_that_others_can_read_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "smtp.toml"
    file.write_text('host = "mail.example.org"\n')
    file.chmod(0o640)
    with pytest.raises(ServerError, match="chmod 600"):
        of(file=str(file))


@pytest.mark.parametrize(("text", "wrong"), [("host = mail", "cannot be read"), ('hots = "a"', "has hots")])
def test_a_file_with_mistakes_is_told(tmp_path: Path, text: str, wrong: str) -> None:
    file = tmp_path / "smtp.toml"
    file.write_text(text)
    file.chmod(0o600)
    with pytest.raises(ServerError, match=wrong):
        of(file=str(file))


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(ServerError, match="No such file"):
        of(file=str(tmp_path / "none.toml"))


def test_a_password_never_shows_in_the_servers_text() -> None:
    assert "word" not in repr(of(host="mail.example.org", user="ilda", password="word"))
