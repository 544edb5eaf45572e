"""Who is let in at the desk: whoever was told its address, asking this computer by its own name."""

import hmac
from http import HTTPStatus
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from reportgen.records.bounds import PICTURE_BYTES

LARGEST_CHANGE = 256 * 1024
"""Bytes of a change: the longest letter, every sign of it written as an escape."""
PICTURE = "picture"
"""How the path ends to which a picture is sent,"""
LARGEST_PICTURE = PICTURE_BYTES
"""and bytes of one."""
FILM = "film"
"""The same for a film,"""
LARGEST_FILM = 8 << 30
"""which is written to the disk as it comes."""
_READ, _WRITE = {"GET", "HEAD"}, {"POST"}


class Guard:
    """Lets through what begins with the secret `base`, comes to 127.0.0.1 or localhost at `port`, and, where it changes
    something, from a page of the desk itself. What is answered can be framed by the desk alone and kept by nobody."""

    def __init__(self, app: ASGIApp, base: str, port: int) -> None:
        self.app, self.base = app, base
        self.hosts = {f"{name}:{port}" for name in ("127.0.0.1", "localhost")}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return
        headers = Headers(scope=scope)
        refused = self._refused(scope, headers)
        if refused is not None:
            await Response(status_code=refused)(scope, receive, send)
            return

        async def closed(message: Message) -> None:
            if message["type"] == "http.response.start":
                _close(MutableHeaders(scope=message))
            await send(message)

        await self.app(scope, receive, closed)

    def _refused(self, scope: Scope, headers: Headers) -> HTTPStatus | None:
        hosts = [host.strip().lower() for host in headers.getlist("host")]
        if len(hosts) != 1 or hosts[0] not in self.hosts:
            # a page elsewhere can give its own name the address 127.0.0.1, and then read what is served there
            return HTTPStatus.FORBIDDEN
        raw = scope["path"]
        if not hmac.compare_digest(raw[: len(self.base)].encode(), self.base.encode()):
            return HTTPStatus.NOT_FOUND
        if scope["method"] in _READ:
            return None
        if scope["method"] not in _WRITE:
            return HTTPStatus.METHOD_NOT_ALLOWED
        if urlsplit(headers.get("origin", "")).netloc.lower() != hosts[0]:
            return HTTPStatus.FORBIDDEN
        length = headers.get("content-length", "")
        largest = {PICTURE: LARGEST_PICTURE, FILM: LARGEST_FILM}.get(raw.rpartition("/")[2], LARGEST_CHANGE)
        if not length.isdecimal() or int(length) > largest:
            return HTTPStatus.REQUEST_ENTITY_TOO_LARGE
        return None


def _close(headers: MutableHeaders) -> None:
    headers["Cache-Control"] = "no-store"
    headers["X-Content-Type-Options"] = "nosniff"
    headers["Cross-Origin-Resource-Policy"] = "same-origin"
    headers["Referrer-Policy"] = "no-referrer"
    if "Content-Security-Policy" not in headers:
        headers["Content-Security-Policy"] = policy(None)


def policy(nonce: str | None) -> str:
    """What a page of the desk may load: its own files alone, and the script with the `nonce`."""
    script = f"'nonce-{nonce}'" if nonce else "'none'"
    return (
        f"default-src 'self'; script-src {script}; style-src 'self' 'unsafe-inline'; frame-ancestors 'self'; "
        "img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'none'"
    )
