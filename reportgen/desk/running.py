"""The desk is opened: on this computer alone, until it is interrupted."""

import secrets
import socket
import webbrowser
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event, Thread

import uvicorn
from starlette.types import ASGIApp, Receive, Scope, Send

from reportgen.authoring.start import site_beside
from reportgen.desk.app import desk_app
from reportgen.desk.beginning import Beginning, where_to_begin
from reportgen.desk.guard import Guard
from reportgen.desk.site_work import SiteWork
from reportgen.errors import ReportgenError
from reportgen.preview.watched import Watched

HOST = "127.0.0.1"
TOKEN_BYTES = 16
"""Random bytes in the address, by which whoever was not told it finds nothing."""
CONNECTIONS = 64
"""At once: tabs of the instructor, and whoever else of this computer reaches the port."""


@dataclass
class Open:
    """What answers below the address `base`: the page that begins an academy, or the desk of one. `to` is what it is
    published into, beside the academy where it is None."""

    base: str
    to: Path | None
    stop: Event = field(default_factory=Event)
    app: ASGIApp | None = None
    work: SiteWork | None = None
    looking: Thread | None = None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if self.app is not None:
            await self.app(scope, receive, send)

    def desk(self, root: Path) -> None:
        """Open the desk of the academy in `root`. Raises NoAcademyError."""
        watched = Watched(root)
        self.app, self.work = desk_app(root, self.to or site_beside(root), watched, self.base, self.stop)
        self.looking = Thread(target=watched.keep_looking, args=(self.stop,), daemon=True)
        self.looking.start()

    def end(self) -> None:
        """End what goes on in the background; a publish is left to itself: whatever ends it, the site is whole."""
        self.stop.set()
        if self.work is not None:
            self.work.stop_upload()
        if self.looking is not None:
            self.looking.join()


def open_desk(
    root: Path,
    port: int,
    tell: Callable[[str], None],
    *,
    to: Path | None = None,
    schemas: Callable[[], Mapping[str, str]],
    browser: bool,
) -> None:
    """Serve the desk of the academy in `root` until the program is interrupted, or the page that begins one there;
    port 0 takes a free one. It is published into `to`, beside the academy where that is None. `tell` is called with
    each line for the terminal, `schemas` gives what a new academy carries for editors. With `browser`, the desk is
    opened in it.

    Raises NoAcademyError, ReportgenError where the port is taken.
    """
    if root.exists() and not root.is_dir():
        raise ReportgenError(f"{root} is a file. Give the folder of an academy, or one to begin it in.")
    base = f"/{secrets.token_urlsafe(TOKEN_BYTES)}"
    opened = Open(base, to)
    if (root / "academy.yaml").is_file():
        opened.desk(root)
    else:
        opened.app = Beginning(where_to_begin(root), schemas, opened.desk, base).app()
    listening = _listen(port)
    port = listening.getsockname()[1]
    server = uvicorn.Server(
        uvicorn.Config(
            Guard(opened, f"{base}/", port),
            log_config=None,
            access_log=False,
            lifespan="off",
            limit_concurrency=CONNECTIONS,
            server_header=False,
            timeout_graceful_shutdown=1,
        )
    )
    address = f"http://{HOST}:{port}{base}/"
    tell(f"The desk is open at {address} Ctrl-C ends.")
    if browser:
        webbrowser.open(address)
    try:
        server.run(sockets=[listening])
    except KeyboardInterrupt:
        pass  # the server has ended in good order, and says so once more
    finally:
        opened.end()
    tell("Stopped.")


def _listen(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    option = getattr(socket, "SO_EXCLUSIVEADDRUSE", socket.SO_REUSEADDR)
    listening.setsockopt(socket.SOL_SOCKET, option, 1)
    try:
        listening.bind((HOST, port))
        listening.listen(CONNECTIONS)  # whoever follows the address at once is answered as soon as the server runs
    except OSError as error:
        listening.close()
        raise ReportgenError(f"Port {port} cannot be used ({error.strerror}). Give another one with --port.") from None
    return listening
