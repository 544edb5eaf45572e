"""Work in a process of its own that is killed outright, right before a given change on the disk."""

import os
import signal
import sys
from collections.abc import Callable, Collection
from pathlib import Path

CHANGES = {"os.mkdir", "os.remove", "os.rename", "os.rmdir", "shutil.copyfile"}


def killed_after(
    changes: int, work: Callable[[], object], kinds: Collection[str] = CHANGES, below: Path | None = None
) -> bool:
    """Whether `work` was killed when it had made so many changes and was about to make the next; else it was done
    before. Counted are changes of these kinds, with `below` of paths that begin so. An exception in it fails the test.
    """
    child = os.fork()
    if child == 0:
        left = [changes]

        def watch(event: str, arguments: tuple[object, ...]) -> None:
            if event in kinds and (below is None or any(str(path).startswith(str(below)) for path in arguments)):
                left[0] -= 1
                if left[0] < 0:
                    os.kill(os.getpid(), signal.SIGKILL)

        sys.addaudithook(watch)
        try:
            work()
            os._exit(0)
        finally:
            os._exit(1)
    _, status = os.waitpid(child, 0)
    assert status in (0, signal.SIGKILL)
    return status != 0
