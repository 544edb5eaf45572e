"""Films are read in the background, two at a time where memory has room for both, while the desk answers."""

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from subprocess import Popen
from threading import Condition, Lock, Thread

from reportgen.desk.in_words import in_words
from reportgen.films.reader import SEEN, megabytes, read_into
from reportgen.films.reading import film_facts

AT_ONCE = 2
"""Films of one swing come in pairs."""
MOST_MEGABYTES = 700
"""What all that are read at once may take together."""


@dataclass(frozen=True)
class Progress:
    """How far the reading of a film is: the pictures read so far, whether it goes on, or what is wrong with it."""

    done: int = 0
    running: bool = True
    wrong: str | None = None


class Readers:
    """The films that are being read; every method may be called from any thread."""

    def __init__(self) -> None:
        self._lock, self._turn = Lock(), Condition()
        self._taken: list[int] = []
        self._at: dict[Path, Progress] = {}
        self._processes: dict[Path, Popen[bytes]] = {}

    def progress(self, file: Path) -> Progress:
        """How far a film is; where nobody has read it yet, as after a restart of the desk, its reading begins."""
        folder = file.parent
        with self._lock:
            if folder in self._at:
                return self._at[folder]
            if (folder / SEEN).exists():
                return Progress(running=False)
            self._at[folder] = Progress()
        Thread(target=self._read, args=(file,), daemon=True).start()
        return Progress()

    def stop(self, folder: Path) -> None:
        """End the reading of a film whose folder goes."""
        with self._lock:
            self._at.pop(folder, None)
            process = self._processes.pop(folder, None)
        if process is not None:
            process.kill()
            process.wait()

    def _read(self, file: Path) -> None:
        folder, wrong = file.parent, None
        try:
            with self._room(megabytes(film_facts(file))):
                if folder not in self._at:
                    return
                read_into(file, folder, lambda process: self._begun(folder, process), lambda n: self._put(folder, n))
        except Exception as error:  # whatever it is, the desk goes on and tells it
            wrong = in_words(error)
        with self._lock:
            self._processes.pop(folder, None)
            if folder in self._at:
                self._at[folder] = replace(self._at[folder], running=False, wrong=wrong)

    @contextmanager
    def _room(self, wanted: int) -> Iterator[None]:
        """Wait until a film that takes so many megabytes may be read, and take them meanwhile."""
        with self._turn:
            self._turn.wait_for(lambda: has_room(self._taken, wanted))
            self._taken.append(wanted)
        try:
            yield
        finally:
            with self._turn:
                self._taken.remove(wanted)
                self._turn.notify_all()

    def _begun(self, folder: Path, process: Popen[bytes]) -> None:
        with self._lock:
            self._processes[folder] = process
            gone = folder not in self._at
        if gone:
            process.kill()

    def _put(self, folder: Path, done: int) -> None:
        with self._lock:
            if folder in self._at:
                self._at[folder] = replace(self._at[folder], done=done)


def has_room(taken: Collection[int], wanted: int) -> bool:
    """Whether a film that takes `wanted` megabytes may be read beside those that take as many as `taken` has."""
    return len(taken) < AT_ONCE and sum(taken) + wanted <= MOST_MEGABYTES
