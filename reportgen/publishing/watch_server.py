"""The server of a watch: on this computer alone, it shows the pages and tells the browser when they have changed."""

import json
import secrets
import socketserver
import sys
from collections.abc import Callable
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from mimetypes import guess_type
from pathlib import Path
from threading import Event, Thread
from urllib.parse import parse_qs, unquote, urlsplit

from reportgen.errors import ReportgenError
from reportgen.languages.speaking import say, speaking
from reportgen.pages.watch_pages import watch_page, watched_page
from reportgen.publishing.watch import Watched

HOST = "127.0.0.1"
PORT = 8710
SIGN_OF_LIFE = 10.0
"""Seconds after which a waiting browser is written to, so that one that has gone is noticed."""

_HTML = "text/html; charset=utf-8"


def watch_academy(root: Path, port: int, only: str | None, tell: Callable[[str], None]) -> None:
    """Serve the academy in `root` on 127.0.0.1 until the program is interrupted; port 0 takes a free one.

    Raises NoAcademyError, ReportgenError where the port is taken.
    """
    watched = Watched(root, only)
    stop = Event()
    try:
        server = _Server(port, watched, only, stop)
    except OSError as error:
        raise ReportgenError(f"Port {port} cannot be used ({error.strerror}). Give another one with --port.") from None
    for trouble in watched.troubles():
        tell(str(trouble.problem))
    tell(f"Open http://{HOST}:{server.server_port}/ in your browser. Ctrl-C ends.")
    looking = Thread(target=watched.keep_looking, args=(stop, tell), daemon=True)
    looking.start()
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        tell("Stopped.")
    finally:
        stop.set()
        with watched.changed:
            watched.changed.notify_all()
        server.server_close()
        looking.join()


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def __init__(self, port: int, watched: Watched, only: str | None, stop: Event) -> None:
        super().__init__((HOST, port), _Handler)
        self.watched, self.only, self.stop = watched, only, stop
        self.hosts = {f"{name}:{self.server_port}" for name in (HOST, "localhost")}

    def server_bind(self) -> None:
        """As the class above, without asking the network for this computer's name."""
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = HOST, self.server_address[1]

    def handle_error(self, request: object, client_address: object) -> None:
        if not isinstance(sys.exception(), OSError):  # a browser that has gone is none
            super().handle_error(request, client_address)  # type: ignore[arg-type]


def _none_here(name: str | None) -> str:
    """Why there is no page: `name` is the student whose page it would be."""
    if name is None:
        return say("There is no such page.")
    return say("{name} has none here: no lesson yet, or its sheets must be mended first.", name=name)


class _Handler(BaseHTTPRequestHandler):
    server: _Server
    protocol_version = "HTTP/1.1"
    server_version = "reportgen"
    sys_version = ""
    timeout = 60

    def parse_request(self) -> bool:
        """Whether the request is one to answer: a GET, to this computer's own name."""
        if not super().parse_request():
            return False
        hosts = [host.strip().lower() for host in self.headers.get_all("Host", [])]
        if len(hosts) != 1 or hosts[0] not in self.server.hosts:
            # a page elsewhere can give its own name the address 127.0.0.1, and then read what is served there
            return self._refuse(HTTPStatus.FORBIDDEN)
        return self.command == "GET" or self._refuse(HTTPStatus.METHOD_NOT_ALLOWED, Allow="GET")

    def _refuse(self, status: HTTPStatus, **more: str) -> bool:
        self.close_connection = True
        self._answer(status, b"", Connection="close", **more)
        return False

    def do_GET(self) -> None:
        address = urlsplit(self.path)
        if address.path == "/changes":
            return self._tell_changes(parse_qs(address.query).get("since", [""])[0])
        path = unquote(address.path).removeprefix("/")
        if path == "":
            return self._first_page()
        return self._page(f"{path}index.html" if path.endswith("/") else path)

    def _first_page(self) -> None:
        if self.server.only is not None:
            self._answer(HTTPStatus.FOUND, b"", Location=f"/s/{self.server.only}/index.html")
            return
        watched = self.server.watched
        nonce, version = secrets.token_urlsafe(16), watched.version
        with speaking(watched.language()):
            page = watch_page(watched.students(), None, watched.troubles(), version, nonce)
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
            self._answer(HTTPStatus.OK, found, guess_type(path)[0] or "application/octet-stream")
            return
        with speaking(watched.language()):
            if found is not None:
                status, page = HTTPStatus.OK, watched_page(found, troubles, version, nonce)
            else:
                status = HTTPStatus.INTERNAL_SERVER_ERROR if failed else HTTPStatus.NOT_FOUND
                page = watch_page(known, failed or _none_here(known.get(student or "")), troubles, version, nonce)
        self._answer(status, page, _HTML, nonce)

    def _tell_changes(self, since: str) -> None:
        """Events, one for each change, until the browser goes: the version, and whose files were saved."""
        self.close_connection = True
        self._head(HTTPStatus.OK, "text/event-stream; charset=utf-8", None, Connection="close")
        while not self.server.stop.is_set():
            now, student = self._next(since)
            data = json.dumps({"version": now, "student": student}) if now != since else ""
            self.wfile.write(f"data: {data}\n\n".encode() if data else b": still here\n\n")
            since = now

    def _next(self, since: str) -> tuple[str, str | None]:
        """The version after `since` and whose files were saved, as soon as there is one, or in a while."""
        watched, stop = self.server.watched, self.server.stop
        with watched.changed:
            watched.changed.wait_for(lambda: watched.version != since or stop.is_set(), SIGN_OF_LIFE)
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
