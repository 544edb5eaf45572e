"""Opens desks quickly. To load the program takes a desk longer than a test does, so a test process loads it once:
`python -m tests.desk.forking` runs what each line of its input asks for in a process that is forked from it. That desk
is a process with a port of its own, and can be killed as any other; `tests/desk/test_kill.py` has the command itself.
"""

import atexit
import json
import os
import select
import signal
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.printed_once import keep_prints
from tests.publishing.small import ROOT


class Forked:
    """A process that was forked; `stdout` is all that it prints."""

    def __init__(self, pid: int, pipe: Path) -> None:
        self.pid, self._known = pid, os.fdopen(os.pidfd_open(pid))
        self.stdout = pipe.open(encoding="utf-8")

    def kill(self) -> None:
        if not self._known.closed:
            with suppress(ProcessLookupError):
                signal.pidfd_send_signal(self._known.fileno(), signal.SIGKILL)

    def wait(self) -> None:
        if not self._known.closed:
            select.select([self._known], [], [])
            self._known.close()


def forked(*arguments: str) -> Forked:
    """The program with these arguments, as `python -m reportgen` would run it here and now."""
    with TemporaryDirectory() as folder:
        pipe = Path(folder) / "printed"
        os.mkfifo(pipe)
        asked = {"arguments": arguments, "pipe": str(pipe), "environment": dict(os.environ)}
        loaded = _loaded()
        assert loaded.stdin is not None
        assert loaded.stdout is not None
        loaded.stdin.write(f"{json.dumps(asked)}\n")
        loaded.stdin.flush()
        return Forked(int(loaded.stdout.readline()), pipe)


@cache
def _loaded() -> subprocess.Popen[str]:
    """The process of which others are forked; it ends when its input does."""
    command = [sys.executable, "-m", "tests.desk.forking"]
    loaded = subprocess.Popen(command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8")
    atexit.register(loaded.communicate)
    return loaded


def _run(arguments: Sequence[str], pipe: str, environment: dict[str, str]) -> None:
    """In the new process: its own input, output and environment, and the command."""
    for number, opened in ((0, os.open(os.devnull, os.O_RDONLY)), (1, os.open(pipe, os.O_WRONLY))):
        os.dup2(opened, number)
        os.close(opened)
    os.dup2(1, 2)
    sys.stdin = open(0, encoding="utf-8")  # noqa: SIM115
    sys.stdout, sys.stderr = (open(number, "w", encoding="utf-8") for number in (1, 2))  # noqa: SIM115
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    os.environ.clear()
    os.environ.update(environment)
    sys.argv = ["reportgen", *arguments]
    main()


if __name__ in ("__main__", "__mp_main__"):
    keep_prints()

if __name__ == "__main__":
    from reportgen.__main__ import main
    from reportgen.desk import running  # noqa: F401  # loads what a desk needs

    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # nobody asks how a process ended
    while line := sys.stdin.readline():
        if (child := os.fork()) == 0:
            _run(**json.loads(line))
            sys.exit(0)
        print(child, flush=True)  # noqa: T201
