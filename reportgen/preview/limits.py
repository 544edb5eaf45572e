"""What a watch lets others take of this computer: bytes of a request, seconds, connections at once."""

from dataclasses import dataclass
from http import HTTPStatus
from socket import socket
from time import monotonic

_END = b"\r\n\r\n"
_PIECE = 4096


@dataclass(frozen=True)
class Limits:
    """What is allowed to whoever reaches the port: tabs of the instructor, and other accounts of this computer."""

    request_bytes: int = 32 * 1024
    """Bytes of a request, its line and headers together. A browser sends one thousand, and with them the cookies of
    every other server on this computer. A body is never read."""
    headers: int = 64
    """Headers of a request. A browser sends about 15."""
    request_seconds: float = 10.0
    """Seconds from the connection until the request is whole. On one computer it comes at once; browsers also open
    connections that they may use later, and do not mind that they end."""
    answer_seconds: float = 60.0
    """Seconds in which a piece of an answer is to be taken. A browser that plays a video reads on only now and then."""
    connections: int = 64
    """Connections at once, a thread for each. A browser opens six to one server, whatever its tabs are."""
    streams: int = 16
    """Connections that wait for changes, at once. The oldest ends for a new one: tabs that were left a moment ago are
    still among them, and a tab that is open asks again by itself."""
    stream_seconds: float = 600.0
    """Seconds after which a tab that waits for changes has to ask again: one that has hung keeps no thread for ever."""
    sign_of_life: float = 10.0
    """Seconds after which a waiting browser is written to, so that one that has gone is noticed."""


LIMITS = Limits()


def read_request(connection: socket, limits: Limits) -> bytes:
    """The line and the headers of a request, with the empty line after them; none where the other side has gone, and
    cut off where they are more than is allowed. Raises TimeoutError, OSError."""
    until = monotonic() + limits.request_seconds
    came = b""
    while _END not in came and len(came) <= limits.request_bytes:
        left = until - monotonic()
        if left <= 0:  # as a time to wait, 0 would mean: not at all
            raise TimeoutError
        connection.settimeout(left)
        piece = connection.recv(_PIECE)
        if not piece:
            return b""
        came += piece
    head, end, _ = came.partition(_END)
    return head + end


def too_large(request: bytes, limits: Limits) -> HTTPStatus | None:
    """Why a request is not looked at any further."""
    if len(request) > limits.request_bytes:
        within = b"\n" in request[: limits.request_bytes]
        return HTTPStatus.REQUEST_HEADER_FIELDS_TOO_LARGE if within else HTTPStatus.REQUEST_URI_TOO_LONG
    if request.count(b"\n") > limits.headers + 2:  # the line of the request, and the empty one
        return HTTPStatus.REQUEST_HEADER_FIELDS_TOO_LARGE
    return None
