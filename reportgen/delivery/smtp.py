"""A conversation with a mail server (RFC 5321), for many mails: what it took, what it refused, what is in doubt."""

import re
import smtplib
import socket
import ssl
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from time import monotonic
from typing import Literal

from reportgen.delivery.conversation import Bounded, BoundedTls
from reportgen.delivery.letter import Letter
from reportgen.delivery.server import Server, ServerError

_LINE_WITH_A_DOT = re.compile(rb"^\.", re.MULTILINE)
_CLOSING = 421
FAREWELL = 5.0
"""Seconds that a server has to say good-bye."""


@dataclass(frozen=True)
class Answer:
    """What became of a mail at one address: `taken`, to be tried `later`, `refused` for good, or `unknown`: it may have
    been taken. The server may not have been `heard` at all."""

    kind: Literal["taken", "later", "refused", "unknown"]
    says: str
    heard: bool = True


Answers = dict[str, Answer]
"""The answer for each address."""


class NotNowError(Exception):
    """The server cannot be reached, or wants no mail just now; the message is what it said, if it was `heard`."""

    def __init__(self, says: str, *, heard: bool) -> None:
        super().__init__(says)
        self.heard = heard


class Connection:
    """A connection that is opened for the first mail, serves all that follow, and is opened again where it was lost."""

    def __init__(self, server: Server) -> None:
        self._server = server
        self._smtp: Bounded | None = None

    def send(self, letter: Letter, about_to_end: Callable[[Sequence[str]], None], patience: float) -> Answers:
        """Hand a mail to the server, for those of its addresses that the server takes. `about_to_end` is called with
        these when all of it but its last line, the dot, is on its way: before it the server cannot take the mail, after
        it only the server's answer tells. A server that says nothing is waited for at most `patience` seconds, or less.

        Raises ServerError where no mail can ever go this way, NotNowError where none can go now.
        """
        patience = max(patience, 0.01)
        server = replace(self._server, timeout=min(self._server.timeout, patience))
        if self._smtp is None:
            self._smtp = _opened(server, patience)
        self._smtp.timeout, self._smtp.until = server.timeout, monotonic() + server.whole_mail
        try:
            return self._handed(self._smtp, letter, about_to_end)
        except OSError as error:  # those of smtplib among them
            self._drop()
            lost = Answer("later", one_line(f"the connection was lost: {error}"), heard=False)
            return dict.fromkeys(letter.addresses, lost)
        except BaseException:
            self._drop()
            raise

    def close(self) -> None:
        """Leave the server."""
        smtp, self._smtp = self._smtp, None
        if smtp is not None:
            try:
                smtp.until = monotonic() + FAREWELL
                smtp.quit()
            except OSError:
                smtp.close()

    def _drop(self) -> None:
        """Hang up without a word: in the middle of a mail any word would be taken as part of it."""
        smtp, self._smtp = self._smtp, None
        if smtp is not None:
            smtp.close()

    def _handed(self, smtp: Bounded, letter: Letter, about_to_end: Callable[[Sequence[str]], None]) -> Answers:
        if letter.utf8 and not smtp.has_extn("smtputf8"):
            says = "the server takes no address with letters beyond ASCII"
            return dict.fromkeys(letter.addresses, Answer("refused", says))
        reply = smtp.mail(letter.sender, ["SMTPUTF8", "BODY=8BITMIME"] if letter.utf8 else [])
        if reply[0] // 100 != 2:
            return dict.fromkeys(letter.addresses, self._turned_down(reply))
        answers: Answers = {}
        for address in letter.addresses:
            reply = smtp.rcpt(address)
            if reply[0] == _CLOSING:
                return dict.fromkeys(letter.addresses, self._turned_down(reply)) | answers
            if reply[0] // 100 != 2:
                answers[address] = _answer(reply)
        willing = [address for address in letter.addresses if address not in answers]
        if not willing:
            self._begin_again()
            return answers
        reply = smtp.docmd("DATA")
        if reply[0] != 354:
            return answers | dict.fromkeys(willing, self._turned_down(reply))
        smtp.hand_over(_LINE_WITH_A_DOT.sub(b"..", letter.data))
        about_to_end(willing)
        smtp.send(b".\r\n")
        return answers | dict.fromkeys(willing, self._last_answer(smtp))

    def _last_answer(self, smtp: Bounded) -> Answer:
        smtp.until = monotonic() + self._server.after_data
        try:
            reply = smtp.answer(self._server.after_data)
        except OSError as error:
            self._drop()
            return Answer("unknown", one_line(f"the server did not answer at the end: {error}"), heard=False)
        if reply[0] // 100 == 2:
            return Answer("taken", "")
        if reply[0] // 100 not in (4, 5):
            self._drop()
            return Answer("unknown", f"the server's answer could not be understood: {_said(reply)}")
        return self._turned_down(reply)

    def _turned_down(self, reply: tuple[int, bytes]) -> Answer:
        """The answer to a mail that was not taken; the connection is made ready for the next one."""
        if reply[0] == _CLOSING:
            self._drop()
        else:
            self._begin_again()
        return _answer(reply)

    def _begin_again(self) -> None:
        """Make the connection ready for the next mail."""
        if self._smtp is not None:
            try:
                self._smtp.rset()
            except OSError:
                self._drop()


def _answer(reply: tuple[int, bytes]) -> Answer:
    return Answer("refused" if reply[0] // 100 == 5 else "later", _said(reply))


def _opened(server: Server, patience: float) -> Bounded:
    """A connection that is encrypted, whose other end is who it says, and where the user is signed in, all of it within
    `patience` seconds."""
    trusted = ssl.create_default_context()
    ourselves = "[127.0.0.1]"  # the name of the instructor's machine is nobody's business
    smtp: Bounded | None = None
    until = monotonic() + patience
    try:
        if server.security == "tls":
            smtp = BoundedTls(server.host, server.port, ourselves, server.timeout, until, trusted)
        else:
            smtp = Bounded(server.host, server.port, ourselves, server.timeout, until)
            smtp.ehlo_or_helo_if_needed()
            if not smtp.has_extn("starttls"):
                raise ServerError(f"{server.host} offers no encryption, so no mail goes to it.")
            smtp.starttls(context=trusted)
        smtp.ehlo_or_helo_if_needed()
        smtp.sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)  # else the last line waits 40 ms on its own
        if server.user is not None and server.password is not None:
            smtp.login(server.user, server.password)
    except BaseException as error:
        if smtp is not None:
            smtp.close()
        raise _why_not(error, server) from None
    return smtp


def _why_not(error: BaseException, server: Server) -> BaseException:
    """A ServerError where trying again cannot help, a NotNowError where it may."""
    if isinstance(error, ssl.SSLCertVerificationError):
        return ServerError(f"The certificate of {server.host} is not to be trusted: {error.verify_message}.")
    if isinstance(error, ssl.SSLError) and not isinstance(error, ssl.SSLEOFError | ssl.SSLZeroReturnError):
        return ServerError(f"{server.host}:{server.port} speaks no encryption that we do: {error.reason}.")
    if isinstance(error, smtplib.SMTPAuthenticationError) and error.smtp_code // 100 == 5:
        said = _said((error.smtp_code, error.smtp_error))
        return ServerError(f"{server.host} refused user and password: {said}.")
    if isinstance(error, smtplib.SMTPNotSupportedError):
        return ServerError(f"{server.host} has no way to sign in that we know.")
    if isinstance(error, smtplib.SMTPResponseException):
        said = _said((error.smtp_code, error.smtp_error))
        heard = error.smtp_code > 0
        return ServerError(f"{server.host}: {said}") if error.smtp_code // 100 == 5 else NotNowError(said, heard=heard)
    if isinstance(error, OSError):
        return NotNowError(_unreached(error, server), heard=False)
    return error


def _unreached(error: OSError, server: Server) -> str:
    """Why a server was not reached, and where to look."""
    if isinstance(error, ConnectionRefusedError):
        return f"no mail server answers at {server.host}:{server.port}. Look at its name and port"
    if isinstance(error, socket.gaierror):
        return f"{server.host} cannot be found. Look at its name, and whether this computer is online"
    if isinstance(error, TimeoutError):
        return f"{server.host}:{server.port} does not answer. Look at its port, and whether this computer is online"
    return f"{server.host}:{server.port}: {one_line(error.strerror or str(error)) or type(error).__name__}"


def _said(reply: tuple[int, bytes | str]) -> str:
    """A server's reply as one line."""
    code, text = reply
    words = text.decode("utf-8", "replace") if isinstance(text, bytes) else text
    return one_line(f"{code} {words}")


def one_line(text: str) -> str:
    """What a server said, as it may be shown in a terminal: on one line, and nothing in it that a terminal obeys."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())[:300]
