"""A conversation with a mail server that has an end, whatever the server says: each answer has a length and a time, and
so has what is talked about as a whole."""

import smtplib
import socket
import ssl
from time import monotonic
from typing import Any

LONGEST_ANSWER = 65_536
"""Bytes that an answer may have; the longest of real servers, to EHLO, have some hundred (RFC 5321, 4.5.3.1.5, knows
lines of 512)."""


READ = 8192
"""Bytes that are taken at a time."""


class Lines:
    """What a server says, line by line, as `smtplib` reads it: from `begin` on within so many seconds, and no more than
    LONGEST_ANSWER of it."""

    def __init__(self, sock: socket.socket) -> None:
        self._sock, self._waiting = sock, b""
        self._until, self._left = 0.0, 0

    def begin(self, seconds: float) -> None:
        """Begin to read an answer."""
        self._until, self._left = monotonic() + seconds, LONGEST_ANSWER

    def readline(self, most: int) -> bytes:
        """A line of at most so many bytes; nothing where the server has hung up. Raises OSError."""
        while b"\n" not in self._waiting:
            came = self._heard()
            if not came:
                break
            self._left -= len(came)
            self._waiting += came
            if self._left < 0 or len(self._waiting) > most + READ:
                raise OSError("an answer without an end")
        end = self._waiting.find(b"\n") + 1 or len(self._waiting)
        if end > most:
            raise OSError("an answer without an end")
        line, self._waiting = self._waiting[:end], self._waiting[end:]
        return line

    def _heard(self) -> bytes:
        try:
            self._sock.settimeout(max(self._until - monotonic(), 0.001))
            return self._sock.recv(READ)
        except TimeoutError:
            raise TimeoutError("no whole answer in time") from None

    def close(self) -> None:
        """Nothing is held open."""


class Bounded(smtplib.SMTP):
    """A conversation whose answers come within `timeout` seconds, and all together by `until` (monotonic seconds)."""

    file: Any
    sock: Any

    def __init__(self, host: str, port: int, name: str, timeout: float, until: float) -> None:
        self.until = until
        super().__init__(host, port, name, timeout=timeout)

    def getreply(self) -> tuple[int, bytes]:
        """The next answer. Raises SMTPServerDisconnected."""
        return self.answer(float(self.timeout))

    def answer(self, seconds: float) -> tuple[int, bytes]:
        """The next answer, within so many seconds. Raises SMTPServerDisconnected."""
        if self.file is None:
            self.file = Lines(self.sock)
        self.file.begin(min(seconds, self.until - monotonic()))
        try:
            return super().getreply()
        finally:
            if self.sock is not None:
                self.sock.settimeout(self.timeout)

    def hand_over(self, data: bytes) -> None:
        """Send much: as long as the whole may take, and not an answer. Raises SMTPServerDisconnected, OSError."""
        self.sock.settimeout(max(self.until - monotonic(), 0.01))
        self.send(data)
        self.sock.settimeout(self.timeout)


class BoundedTls(Bounded, smtplib.SMTP_SSL):
    """The same, encrypted from its start."""

    def __init__(self, host: str, port: int, name: str, timeout: float, until: float, context: ssl.SSLContext) -> None:
        self.until = until
        smtplib.SMTP_SSL.__init__(self, host, port, name, timeout=timeout, context=context)
