"""What takes longer than a press: one job at a time, in the background, and how far it is."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from threading import Lock, Thread
from typing import Any, Literal

from reportgen.desk.in_words import in_words
from reportgen.languages.catalogues import Language
from reportgen.languages.speaking import speaking

What = Literal["publish", "would publish", "send", "would send", "upload"]
LINES = 400
"""Lines of a job that are kept, the latest: a command of the instructor's own can be talkative."""


@dataclass(frozen=True)
class State:
    """The job at work, or the last one: what it told in `lines`, how much is `done` of how much, what came of it or the
    `error` that ended it. `number` counts the jobs."""

    number: int = 0
    what: What | None = None
    running: bool = False
    done: int = 0
    of: int = 0
    lines: tuple[str, ...] = ()
    result: Any = None
    error: str | None = None


class Jobs:
    """One job at a time; every method may be called from any thread."""

    def __init__(self) -> None:
        self._lock, self._state = Lock(), State()

    @property
    def state(self) -> State:
        return self._state

    def tell(self, line: str) -> None:
        """Keep a line of the job at work."""
        with self._lock:
            self._state = replace(self._state, lines=(*self._state.lines, line)[-LINES:])

    def progress(self, done: int, of: int) -> None:
        """So much of the job is done."""
        with self._lock:
            self._state = replace(self._state, done=done, of=of)

    def start(self, what: What, work: Callable[[], Any], language: Language) -> bool:
        """Begin to `work`; whether it was begun: not while another job is at work."""
        with self._lock:
            if self._state.running:
                return False
            self._state = State(self._state.number + 1, what, running=True)
        Thread(target=self._do, args=(work, language), daemon=True).start()
        return True

    def _do(self, work: Callable[[], Any], language: Language) -> None:
        result, error = None, None
        try:
            with speaking(language):
                result = work()
        except Exception as raised:  # whatever it is, the desk goes on and tells it
            error = in_words(raised)
        with self._lock:
            self._state = replace(self._state, running=False, result=result, error=error)
