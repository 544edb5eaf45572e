"""A process that prints: it loads the layout engine while this one reads and judges, and prints while this one goes on.

To load the engine and its first faces takes longer than all the rest about one changed sheet. So it begins as soon as a
look at the files' times says that one was written since the last publish, before anything else is loaded here.
"""

import gc
import os
import pickle
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from reportgen.pages.printing import Printed, Stylesheet, ToPrint, print_here
from reportgen.publishing.survey import written_since
from reportgen.sheets.shipped import shipped

STYLE = "themes/letter/recap.css"
"""What the press makes itself ready for; another style is read when it comes."""

_FIRST_PAGE = (
    '<!doctype html><html lang="en"><title>First</title><h1>Every face</h1><p>is <b>loaded</b> <i>by</i> this'
    "<table><tbody><tr><th>page,<td>and <b>used</b></table>"
)
_START = "from reportgen.publishing.press import print_all; print_all()"


@dataclass
class _Begun:
    """A text at the press, and what came of it."""

    wanted: ToPrint
    came: Printed | Exception | None = None


class Press:
    """This side of the pipes. One text at a time is under way: two processes that both write would wait for each other.

    Where the process is lost, this one prints.
    """

    def __init__(self) -> None:
        self.process = subprocess.Popen(  # noqa: S603  our own interpreter and code
            [sys.executable, "-c", _START], stdin=subprocess.PIPE, stdout=subprocess.PIPE, start_new_session=True
        )
        if self.process.stdin is None or self.process.stdout is None:
            raise AssertionError("both pipes were asked for")
        self._to, self._from = self.process.stdin, self.process.stdout
        self._under_way: _Begun | None = None

    def begin(self, wanted: ToPrint) -> Callable[[], Printed]:
        """Give a text to the press; what is returned waits for it, and raises what went wrong."""
        self._take()
        begun = self._under_way = _Begun(wanted)
        with suppress(OSError):  # then it is found out when it is taken
            _write(wanted, self._to)
        return lambda: self._result(begun)

    def end(self) -> None:
        """End the process, and do not wait for that."""
        self.process.kill()
        for pipe in (self._to, self._from):
            with suppress(OSError):  # what was written to a lost process, and not read
                pipe.close()

    def _take(self) -> None:
        """Wait for the text that is under way."""
        begun, self._under_way = self._under_way, None
        if begun is None:
            return
        try:
            came = pickle.load(self._from)  # noqa: S301  from a process of our own
        except (EOFError, OSError, pickle.UnpicklingError):
            came = print_here(begun.wanted)()
        begun.came = came

    def _result(self, begun: _Begun) -> Printed:
        if begun is self._under_way:
            self._take()
        if not isinstance(begun.came, Printed):
            raise begun.came or AssertionError("a text that is not under way has been taken")
        return begun.came


@contextmanager
def press_for(root: Path, to: Path) -> Iterator[Press | None]:
    """A press, where a file of the academy in `root` was written since it was last published into `to`; it ends with
    the context."""
    found = Press() if written_since(to / ".made" / "files.json", root) else None
    try:
        yield found
    finally:
        if found is not None:
            found.end()
            found.process.wait()


def print_all() -> None:
    """What the process does: print what comes by stdin, until nobody is there to ask."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # that is for the one who asks
    gc.disable()
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever a library prints must not come between
    from reportgen.pages.pdf import printed

    with suppress(Exception):  # what is wrong with a style is told of a page that somebody asked for
        style = (shipped("themes").parent / STYLE).read_text(encoding="utf-8")
        printed(ToPrint(_FIRST_PAGE, Stylesheet("recap.css", style, "A4")))
    gc.freeze()  # what is loaded stays, and is not looked through for garbage; the rest as in workers.py
    gc.set_threshold(100_000, 20, 20)
    gc.enable()
    with suppress(EOFError, OSError):
        while True:
            wanted = pickle.load(sys.stdin.buffer)  # noqa: S301  from the process that started this one
            try:
                came: Printed | Exception = printed(wanted)
            except Exception as error:
                came = error
            _write(came, answers)


def _write(what: object, pipe: IO[bytes]) -> None:
    pickle.dump(what, pipe, pickle.HIGHEST_PROTOCOL)
    pipe.flush()
