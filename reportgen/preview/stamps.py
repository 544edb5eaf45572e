"""When the files of an academy were written: by that a change is seen."""

import os
from pathlib import Path
from threading import Event

Stamps = dict[str, tuple[int, int]]


def stamps_of(root: Path) -> Stamps:
    """When each file below `root` was written, and its size; hidden files and folders are left out."""
    found: Stamps = {}
    for folder, inner, files in os.walk(root):
        inner[:] = [name for name in inner if not name.startswith(".")]
        for name in files:
            if name.startswith(".") or name.endswith("~"):
                continue
            path = os.path.join(folder, name)
            try:
                stat = os.stat(path)
            except OSError:
                continue  # it has just been taken away
            found[os.path.relpath(path, root).replace(os.sep, "/")] = (stat.st_mtime_ns, stat.st_size)
    return found


def stamps_after(seconds: float, root: Path, stop: Event) -> Stamps:
    """The same in so many seconds, or as soon as `stop` is set."""
    stop.wait(seconds)
    return stamps_of(root)
