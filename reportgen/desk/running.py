"""The desk is opened: on this computer alone, until it is interrupted."""

import secrets
import socket
import webbrowser
from collections.abc import Callable
from pathlib import Path
from threading import Event, Thread

import uvicorn

from reportgen.desk.app import desk_app
from reportgen.desk.guard import Guard
from reportgen.errors import ReportgenError
from reportgen.preview.watched import Watched

HOST = "127.0.0.1"
TOKEN_BYTES = 16
"""Random bytes in the address, by which whoever was not told it finds nothing."""
CONNECTIONS = 64
"""At once: tabs of the instructor, and whoever else of this computer reaches the port."""


def open_desk(root: Path, port: int, tell: Callable[[str], None], *, browser: bool) -> None:
    """Serve the desk of the academy in `root` until the program is interrupted; port 0 takes a free one. `tell` is
    called with each line for the terminal. With `browser`, the desk is opened in it.

    Raises NoAcademyError, ReportgenError where the port is taken.
    """
    watched = Watched(root)
    listening = _listen(port)
    port = listening.getsockname()[1]
    base = f"/{secrets.token_urlsafe(TOKEN_BYTES)}"
    stop = Event()
    server = uvicorn.Server(
        uvicorn.Config(
            Guard(desk_app(root, watched, base, stop), f"{base}/", port),
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
    looking = Thread(target=watched.keep_looking, args=(stop, lambda line: None), daemon=True)
    looking.start()
    if browser:
        webbrowser.open(address)
    try:
        server.run(sockets=[listening])
    except KeyboardInterrupt:
        pass  # the server has ended in good order, and says so once more
    finally:
        stop.set()
        looking.join()
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
