"""One publish at a time into a folder: a second one is told who is at work, and leaves."""

import os
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from reportgen.errors import ReportgenError


class LockedError(ReportgenError):
    """Another publish is at work in the folder; the message says which."""


@contextmanager
def locked(file: Path) -> Iterator[None]:
    """Hold the lock in `file`, as long as this process lives at most. Where the system has no such lock (it is not a
    Unix), nothing is locked.

    Raises LockedError where another holds it, OSError.
    """
    try:
        import fcntl
    except ImportError:
        yield
        return
    with file.open("a+", encoding="utf-8") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            held.seek(0)
            by = held.read().strip() or "another publish"
            raise LockedError(f"{by} is at work in {file.parent.parent}. Try again when it has ended.") from None
        held.truncate(0)
        now = datetime.now().astimezone()
        held.write(f"A publish (process {os.getpid()} on {socket.gethostname()}, since {now:%H:%M:%S})")
        held.flush()
        yield
