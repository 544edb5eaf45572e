"""One publish at a time into a folder: a second one is told who is at work, and leaves."""

import os
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from filelock import FileLock, Timeout

from reportgen.errors import ReportgenError
from reportgen.rights import FILE, owner_only


class LockedError(ReportgenError):
    """Another publish is at work in the folder; the message says which."""


@contextmanager
def locked(file: Path) -> Iterator[None]:
    """Hold the lock in `file`, as long as this process lives at most. Who holds it stands in a file beside it, since
    Windows lets nobody read a locked file.

    Raises LockedError where another holds it, OSError.
    """
    holder = file.with_name(f"{file.name}-holder")
    held = FileLock(file, timeout=0, mode=FILE)
    try:
        held.acquire()
    except Timeout:
        raise LockedError(f"{_told(holder)} is at work in {file.parent.parent}. Try again when it has ended.") from None
    try:
        with open(holder, "w", encoding="utf-8", opener=owner_only) as written:
            now = datetime.now().astimezone()
            written.write(f"A publish (process {os.getpid()} on {socket.gethostname()}, since {now:%H:%M:%S})")
        yield
        holder.unlink(missing_ok=True)
    finally:
        held.release()


def _told(holder: Path) -> str:
    try:
        return holder.read_text(encoding="utf-8") or "Another publish"
    except OSError:  # the lock was taken, or given back, just now
        return "Another publish"
