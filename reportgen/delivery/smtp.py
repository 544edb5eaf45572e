"""A conversation with a mail server (RFC 5321), for many mails: what it took, what it refused, what is in doubt."""

import re
import smtplib
import socket
import ssl
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from reportgen.delivery.letter import Letter
from reportgen.delivery.server import Server, ServerError

_LINE_WITH_A_DOT = re.compile(rb"^\.", re.MULTILINE)
_CLOSING = 421


@dataclass(frozen=True)
class Answer:
    """What became of a mail: `taken`, to be tried `later`, `refused` for good, or `unknown`: it may have been taken."""

    kind: Literal["taken", "later", "refused", "unknown"]
    says: str


class NotNowError(Exception):
    """The server cannot be reached, or wants no mail just now; the message is what it said."""


class Connection:
    """A connection that is opened for the first mail, serves all that follow, and is opened again where it was lost."""

    def __init__(self, server: Server) -> None:
        self._server = server
        self._smtp: smtplib.SMTP | None = None

    def send(self, letter: Letter, about_to_end: Callable[[], None], last_try: bool) -> Answer:
        """Hand a mail to the server. `about_to_end` is called when all of it but its last line, the dot, is on its way:
        before it the server cannot take the mail, after it only the server's answer tells.

        Where some of several addresses are put off, the mail goes to none of them, except on the last try. Raises
        ServerError where no mail can ever go this way, NotNowError where none can go now.
        """
        if self._smtp is None:
            self._smtp = _opened(self._server)
        try:
            return self._handed(self._smtp, letter, about_to_end, last_try)
        except OSError as error:  # those of smtplib among them
            self._drop()
            return Answer("later", f"the connection was lost: {error}")
        except BaseException:
            self._drop()
            raise

    def close(self) -> None:
        """Leave the server."""
        smtp, self._smtp = self._smtp, None
        if smtp is not None:
            try:
                smtp.quit()
            except OSError:
                smtp.close()

    def _drop(self) -> None:
        """Hang up without a word: in the middle of a mail any word would be taken as part of it."""
        smtp, self._smtp = self._smtp, None
        if smtp is not None:
            smtp.close()

    def _handed(self, smtp: smtplib.SMTP, letter: Letter, about_to_end: Callable[[], None], last_try: bool) -> Answer:
        if letter.utf8 and not smtp.has_extn("smtputf8"):
            return Answer("refused", "the server takes no address with letters beyond ASCII")
        reply = smtp.mail(letter.sender, ["SMTPUTF8", "BODY=8BITMIME"] if letter.utf8 else [])
        if reply[0] // 100 != 2:
            return self._turned_down([reply])
        replies = {}
        for address in letter.addresses:
            replies[address] = smtp.rcpt(address)
            if replies[address][0] == _CLOSING:
                return self._turned_down([replies[address]])
        not_taken = {address: reply for address, reply in replies.items() if reply[0] // 100 != 2}
        put_off = any(code // 100 != 5 for code, _ in not_taken.values())
        if len(not_taken) == len(replies) or (put_off and not last_try):
            return self._turned_down(list(not_taken.values()))
        reply = smtp.docmd("DATA")
        if reply[0] != 354:
            return self._turned_down([reply])
        smtp.send(_LINE_WITH_A_DOT.sub(b"..", letter.data))
        about_to_end()
        smtp.send(b".\r\n")
        return self._last_answer(smtp, "; ".join(f"not to {a}: {_said(reply)}" for a, reply in not_taken.items()))

    def _last_answer(self, smtp: smtplib.SMTP, left_out: str) -> Answer:
        _wait_at_most(smtp, self._server.after_data)
        try:
            reply = smtp.getreply()
        except OSError as error:
            self._drop()
            return Answer("unknown", f"the server did not answer at the end: {error}")
        _wait_at_most(smtp, self._server.timeout)
        if reply[0] // 100 == 2:
            return Answer("taken", left_out)
        if reply[0] // 100 not in (4, 5):
            self._drop()
            return Answer("unknown", f"the server's answer could not be understood: {_said(reply)}")
        return self._turned_down([reply])

    def _turned_down(self, replies: list[tuple[int, bytes]]) -> Answer:
        """The answer to a mail that was not taken; the connection is made ready for the next one."""
        for_good = all(code // 100 == 5 for code, _ in replies)
        if any(code == _CLOSING for code, _ in replies):
            self._drop()
        elif self._smtp is not None:
            try:
                self._smtp.rset()
            except OSError:
                self._drop()
        return Answer("refused" if for_good else "later", "; ".join(map(_said, replies)))


def _opened(server: Server) -> smtplib.SMTP:
    """A connection that is encrypted, whose other end is who it says, and where the user is signed in."""
    trusted = ssl.create_default_context()
    ourselves = "[127.0.0.1]"  # the name of the instructor's machine is nobody's business
    smtp: smtplib.SMTP | None = None
    try:
        if server.security == "tls":
            smtp = smtplib.SMTP_SSL(server.host, server.port, ourselves, timeout=server.timeout, context=trusted)
        else:
            smtp = smtplib.SMTP(server.host, server.port, ourselves, timeout=server.timeout)
            smtp.ehlo_or_helo_if_needed()
            if not smtp.has_extn("starttls"):
                raise ServerError(f"{server.host} offers no encryption, so no mail goes to it.")
            smtp.starttls(context=trusted)
        smtp.ehlo_or_helo_if_needed()
        if smtp.sock is not None:
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
        return ServerError(f"{server.host}: {said}") if error.smtp_code // 100 == 5 else NotNowError(said)
    if isinstance(error, OSError):
        return NotNowError(str(error) or type(error).__name__)
    return error


def _wait_at_most(smtp: smtplib.SMTP, seconds: float) -> None:
    if smtp.sock is not None:
        smtp.sock.settimeout(seconds)


def _said(reply: tuple[int, bytes | str]) -> str:
    """A server's reply as one line: it is shown in a terminal, so nothing that one obeys is left in it."""
    code, text = reply
    words = text.decode("utf-8", "replace") if isinstance(text, bytes) else text
    return " ".join([str(code), *"".join(s if s.isprintable() else " " for s in words).split()])[:300]
