"""The server of a watch: on this computer alone, it shows the pages and tells the browser when they have changed."""

import hmac
import json
import secrets
import signal
import socket as socket_names
import socketserver
import sys
from collections.abc import Callable
from contextlib import suppress
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path
from socket import socket
from threading import Event, Semaphore, Thread
from time import monotonic
from urllib.parse import parse_qs, unquote

from reportgen.errors import ReportgenError
from reportgen.languages.speaking import say, speaking
from reportgen.pages.media import media_type
from reportgen.pages.watch_pages import watch_page, watched_page
from reportgen.preview.limits import LIMITS, Limits, read_request, too_large
from reportgen.preview.watched import Watched

HOST = "127.0.0.1"
PORT = 8710
TOKEN_BYTES = 16
"""Random bytes in the address, by which whoever was not told it finds nothing."""
TELLS_AGAIN = 60.0
"""Seconds between two lines of the terminal that say of refused connections."""

_HTML = "text/html; charset=utf-8"


def watch_academy(root: Path, port: int, only: str | None, tell: Callable[[str], None]) -> None:
    """Serve the academy in `root` on 127.0.0.1 until the program is interrupted; port 0 takes a free one. Only who was
    told the address reads anything: other accounts of this computer reach the port as well.

    Raises NoAcademyError, ReportgenError where the port is taken.
    """
    watched = Watched(root, only)
    stop = Event()
    try:
        server = WatchServer(port, watched, only, stop, tell)
    except OSError as error:
        raise ReportgenError(f"Port {port} cannot be used ({error.strerror}). Give another one with --port.") from None
    for trouble in watched.troubles():
        tell(str(trouble.problem))
    tell(f"Open http://{HOST}:{server.server_port}{server.base} in your browser. Ctrl-C ends.")
    looking = Thread(target=watched.keep_looking, args=(stop, tell), daemon=True)
    looking.start()
    # an exception that a signal raises can be lost where it arrives, in a finalizer say; a thread cannot
    before = signal.signal(signal.SIGINT, lambda *_: Thread(target=server.shutdown, daemon=True).start())
    try:
        server.serve_forever()
        tell("Stopped.")
    finally:
        signal.signal(signal.SIGINT, before)
        stop.set()
        with watched.changed:
            watched.changed.notify_all()
        server.server_close()
        looking.join()


class WatchServer(ThreadingHTTPServer):
    """Serves what is watched on a port of 127.0.0.1, within `limits`; raises OSError where the port is taken. `tell`
    is called with a line for the terminal."""

    daemon_threads = True
    allow_reuse_address = not hasattr(socket_names, "SO_EXCLUSIVEADDRUSE")
    """Where the system knows that option, which is Windows, the other one lets two programs have one port."""
    request_queue_size = 128
    """Connections that the system keeps until they are taken or refused, which is at once; beyond them it lets others
    try again in a second."""

    def __init__(
        self,
        port: int,
        watched: Watched,
        only: str | None,
        stop: Event,
        tell: Callable[[str], None],
        limits: Limits = LIMITS,
    ) -> None:
        super().__init__((HOST, port), _Handler)
        self.watched, self.only, self.stop, self.tell, self.limits = watched, only, stop, tell, limits
        self.base = f"/{secrets.token_urlsafe(TOKEN_BYTES)}/"
        self.hosts = {f"{name}:{self.server_port}" for name in (HOST, "localhost")}
        self._room = Semaphore(limits.connections)
        self._quiet_until = 0.0
        self._streams: list[object] = []

    def server_bind(self) -> None:
        """As the class above, without asking the network for this computer's name."""
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = HOST, self.server_address[1]

    def process_request(self, request: socket, client_address: object) -> None:  # type: ignore[override]
        """Answer in a thread of its own, or refuse at once where there are as many as are allowed."""
        if not self._room.acquire(blocking=False):
            self._refuse(request)
            return
        try:
            super().process_request(request, client_address)
        except BaseException:  # there is no thread that would make room again
            self._room.release()
            raise

    def process_request_thread(self, request: socket, client_address: object) -> None:  # type: ignore[override]
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._room.release()

    def _refuse(self, request: socket) -> None:
        request.setblocking(False)
        with suppress(OSError):
            request.send(b"HTTP/1.1 503 Service Unavailable\r\nContent-Length: 0\r\nConnection: close\r\n\r\n")
        self.shutdown_request(request)
        if monotonic() >= self._quiet_until:
            self._quiet_until = monotonic() + TELLS_AGAIN
            again = f"Load the page again in {self.limits.request_seconds:.0f} seconds."
            self.tell(f"More than {self.limits.connections} connections at once: some were refused. {again}")

    def stream(self) -> Callable[[], bool]:
        """A place for one more connection that waits for changes: a function that says whether it is to go on."""
        own, until, changed = object(), monotonic() + self.limits.stream_seconds, self.watched.changed
        with changed:
            self._streams.append(own)
            del self._streams[: -self.limits.streams]
            changed.notify_all()
        return lambda: own in self._streams and monotonic() < until and not self.stop.is_set()

    def handle_error(self, request: object, client_address: object) -> None:
        error = sys.exception()
        if not isinstance(error, OSError):  # a browser that has gone is none
            wrong = f"{type(error).__name__}: {error}"
            self.tell(f"A page was not shown ({wrong}). Load it again; if that fails too, please report this line.")


def _none_here(name: str | None) -> str:
    """Why there is no page: `name` is the student whose page it would be."""
    if name is None:
        return say("There is no such page.")
    return say("{name} has none here: no lesson yet, or its sheets must be mended first.", name=name)


class _Handler(BaseHTTPRequestHandler):
    server: WatchServer
    protocol_version = request_version = "HTTP/1.1"
    server_version = "reportgen"
    sys_version = requestline = ""

    def handle(self) -> None:
        """Answer one request: whatever else comes on the connection is not read, and it ends."""
        limits = self.server.limits
        try:
            request = read_request(self.connection, limits)
        except TimeoutError:
            return
        self.connection.settimeout(limits.answer_seconds)
        if (status := too_large(request, limits)) is not None:
            self._refuse(status)
            return
        self.rfile.close()
        self.rfile = BytesIO(request)
        self.handle_one_request()

    def handle_expect_100(self) -> bool:
        """Asks for no body."""
        return True

    def parse_request(self) -> bool:
        """Whether the request is one to answer: a GET, to this computer's own name, of an address that begins with the
        token."""
        if not super().parse_request():
            return False
        hosts = [host.strip().lower() for host in self.headers.get_all("Host", [])]
        if len(hosts) != 1 or hosts[0] not in self.server.hosts:
            # a page elsewhere can give its own name the address 127.0.0.1, and then read what is served there
            return self._refuse(HTTPStatus.FORBIDDEN)
        if not hmac.compare_digest(self.path[: len(self.server.base)].encode(), self.server.base.encode()):
            return self._refuse(HTTPStatus.NOT_FOUND)
        if self.command != "GET":
            return self._refuse(HTTPStatus.METHOD_NOT_ALLOWED, Allow="GET")
        body = "Transfer-Encoding" in self.headers or self.headers.get("Content-Length", "0").strip() != "0"
        return not body or self._refuse(HTTPStatus.REQUEST_ENTITY_TOO_LARGE)

    def _refuse(self, status: HTTPStatus, **more: str) -> bool:
        self._answer(status, b"", **more)
        return False

    def do_GET(self) -> None:
        wanted, _, query = self.path.removeprefix(self.server.base).partition("?")
        path = unquote(wanted.partition("#")[0])
        if path == "changes":
            return self._tell_changes(parse_qs(query).get("since", [""])[0])
        if path == "":
            return self._first_page()
        return self._page(f"{path}index.html" if path.endswith("/") else path)

    def _first_page(self) -> None:
        if self.server.only is not None:
            self._answer(HTTPStatus.FOUND, b"", Location=f"{self.server.base}s/{self.server.only}/index.html")
            return
        watched = self.server.watched
        nonce, version = secrets.token_urlsafe(16), watched.version
        with speaking(watched.language()):
            page = watch_page(watched.students(), None, watched.troubles(), version, nonce, self.server.base)
        self._answer(HTTPStatus.OK, page, _HTML, nonce)

    def _page(self, path: str) -> None:
        watched = self.server.watched
        nonce, version = secrets.token_urlsafe(16), watched.version  # the version before: a change since then reloads
        student = path.split("/")[1] if path.startswith("s/") else None
        known = watched.students()
        found = failed = None
        try:
            found = watched.file(path)
        except ReportgenError as error:
            failed = str(error)
        except Exception as error:  # whatever it is, the watch goes on
            failed = f"{type(error).__name__}: {error}"
        troubles = watched.troubles(student if student in known else None)
        if found is not None and not path.endswith(".html"):
            self._answer(HTTPStatus.OK, found, media_type(path) or "application/octet-stream")
            return
        with speaking(watched.language()):
            if found is not None:
                status, page = HTTPStatus.OK, watched_page(found, troubles, version, nonce, self.server.base)
            else:
                status = HTTPStatus.INTERNAL_SERVER_ERROR if failed else HTTPStatus.NOT_FOUND
                says = failed or _none_here(known.get(student or ""))
                page = watch_page(known, says, troubles, version, nonce, self.server.base)
        self._answer(status, page, _HTML, nonce)

    def _tell_changes(self, since: str) -> None:
        """Events, one for each change, until the browser goes: the version, and whose files were saved."""
        self._head(HTTPStatus.OK, "text/event-stream; charset=utf-8", None)
        goes_on = self.server.stream()
        while goes_on():
            now, student = self._next(since, goes_on)
            data = json.dumps({"version": now, "student": student}) if now != since else ""
            self.wfile.write(f"data: {data}\n\n".encode() if data else b": still here\n\n")
            since = now

    def _next(self, since: str, goes_on: Callable[[], bool]) -> tuple[str, str | None]:
        """The version after `since` and whose files were saved, as soon as there is one, or in a while."""
        watched = self.server.watched
        with watched.changed:
            watched.changed.wait_for(lambda: watched.version != since or not goes_on(), self.server.limits.sign_of_life)
            return watched.version, watched.latest

    def _answer(
        self, status: HTTPStatus, body: bytes, kind: str = "text/plain; charset=utf-8", nonce: str = "", **more: str
    ) -> None:
        self._head(status, kind, nonce, **{"Content-Length": str(len(body)), **more})
        self.wfile.write(body)

    def _head(self, status: HTTPStatus, kind: str, nonce: str | None, **more: str) -> None:
        own = f" 'nonce-{nonce}'" if nonce else " 'none'"
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Connection", "close")
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Cross-Origin-Resource-Policy", "same-origin")
        self.send_header("Referrer-Policy", "no-referrer")
        self.send_header(
            "Content-Security-Policy",
            f"default-src 'self'; script-src{own}; style-src 'self' 'unsafe-inline'; frame-ancestors 'none'; "
            "object-src 'none'; base-uri 'none'; form-action 'none'",
        )
        for name, value in more.items():
            self.send_header(name, value)
        self.end_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Nothing: the terminal is for what was saved."""
