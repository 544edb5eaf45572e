"""Which mail server to hand mails to: from the environment, or from a file that only its owner can read."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from reportgen.errors import ReportgenError
from reportgen.rights import is_open

FILE = "REPORTGEN_SMTP_FILE"
_NAMES = ("host", "port", "user", "password", "security")


class ServerError(ReportgenError):
    """The server cannot be used; the message says why and how to mend it."""


@dataclass(frozen=True)
class Server:
    """A mail server. The connection is always encrypted, from its start (`tls`) or before anything is said
    (`starttls`), and the server's certificate is always checked.

    `timeout` is how long to wait for an answer in seconds, `after_data` for the last one: RFC 5321, 4.5.3.2.6, asks for
    ten minutes. `whole_mail` is how long all of a mail before that one may take: a slow line needs minutes for one with
    pictures.
    """

    host: str
    port: int
    security: Literal["starttls", "tls"]
    user: str | None = None
    password: str | None = field(default=None, repr=False)
    timeout: float = 60.0
    after_data: float = 600.0
    whole_mail: float = 900.0


def server_from(environment: Mapping[str, str]) -> Server:
    """The server of REPORTGEN_SMTP_HOST, _PORT, _USER, _PASSWORD and _SECURITY, or of the file that REPORTGEN_SMTP_FILE
    names, where the same stand as `host = "..."`.

    The port is 587 for starttls and 465 for tls unless given; starttls is what is used unless the port is 465. Raises
    ServerError.
    """
    if FILE in environment:
        written, where = _read(Path(environment[FILE])), environment[FILE]
    else:
        written = {n: v for n in _NAMES if (v := environment.get(f"REPORTGEN_SMTP_{n.upper()}"))}
        where = "The environment"
    if "host" not in written:
        raise ServerError(f"{where} names no mail server. Set REPORTGEN_SMTP_HOST, or {FILE} to a file with host.")
    port = _port(written.get("port"), where)
    security = written.get("security") or ("tls" if port == 465 else "starttls")
    if security not in ("starttls", "tls"):
        raise ServerError(f"{where} says security {security!r}. Write starttls or tls; mail never leaves unencrypted.")
    user, password = written.get("user"), written.get("password")
    if (user is None) != (password is None):
        raise ServerError(f"{where} has a user without a password, or the other way round. Give both or neither.")
    if not f"{user or ''}{password or ''}".isascii():
        raise ServerError(f"{where} has a user or a password with letters beyond ASCII. Ask the server for others.")
    return Server(
        host=written["host"],
        port=port or (465 if security == "tls" else 587),
        security="tls" if security == "tls" else "starttls",
        user=user,
        password=password,
    )


def _port(written: str | None, where: str) -> int | None:
    if written is None:
        return None
    if not written.isascii() or not written.isdecimal() or not 0 < int(written) < 65536:
        raise ServerError(f"{where} says port {written!r}. Give a number, usually 587 or 465.")
    return int(written)


def _read(file: Path) -> dict[str, str]:
    try:
        text = file.read_text(encoding="utf-8-sig")
        written = tomllib.loads(text)
    except OSError as error:
        raise ServerError(f"{file}: {error.strerror}. Set {FILE} to the file with host, user and password.") from None
    except ValueError:
        raise ServerError(f'{file} cannot be read. Write lines such as host = "mail.example.org".') from None
    if is_open(file):
        raise ServerError(f"{file} can be read by others. Run: chmod 600 {file}")
    if strange := sorted(set(written) - set(_NAMES)):
        raise ServerError(f"{file} has {strange[0]}, which is none of {', '.join(_NAMES)}.")
    return {name: str(value) for name, value in written.items()}
