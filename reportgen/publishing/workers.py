"""Units of a publish in this process, or in several at once: started apart, warmed once, ended at once."""

import gc
import signal
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess

from reportgen.errors import ReportgenError
from reportgen.pages.printing import Print, print_here
from reportgen.publishing.shared_parts import PartsTask, make_parts
from reportgen.publishing.unit import Made, Task, Workshop, make

Unit = Task | PartsTask

MOST_TRIES = 3
"""How many workers may die over one unit before the publish gives up."""


class WorkerLostError(ReportgenError):
    """Workers died over one unit, again and again; the message says which."""


RETIRES_AFTER = 150
"""Lessons after which a worker is replaced, so that memory stays flat. The layout engine never gives back what it takes
for the features of a face, some 60 kB a recap."""


def made_here(tasks: Sequence[Task], workshop: Workshop, begin: Print = print_here) -> Iterator[Made]:
    """The results of the tasks in their order, made in this process; recaps are printed by `begin`."""
    with _hardly_any_collections():
        for number, task in enumerate(tasks):
            if number:
                gc.collect()
            yield make(task, workshop, begin)


def made_by_workers(units: Sequence[Unit], workshop: Workshop, jobs: int) -> Iterator[Made]:
    """The students of the units as they come, made by `jobs` processes; each takes the next unit when it has done one.

    A worker that is lost is replaced, and its unit done again. Raises what a unit raised, WorkerLostError.
    """
    waiting = [*reversed(units)]
    tries: Counter[str] = Counter()
    with _crew(workshop, min(jobs, len(units))) as crew:
        for worker in crew:
            worker.give(waiting.pop())
        while any(worker.unit for worker in crew):
            ready = wait([worker.pipe for worker in crew if worker.unit])
            for number, worker in enumerate(crew):
                if worker.pipe not in ready or worker.unit is None:
                    continue
                unit = worker.unit
                try:
                    done = worker.taken()
                except (EOFError, ConnectionError):
                    whose = unit.student if isinstance(unit, Task) else "the drill library"
                    tries[whose] += 1
                    if tries[whose] == MOST_TRIES:
                        raise WorkerLostError(
                            f"{MOST_TRIES} workers were lost over {whose}. Is there memory enough? Try --jobs 1."
                        ) from None
                    crew[number] = worker.replaced(workshop)
                    crew[number].give(unit)
                    continue
                if waiting:
                    if worker.lessons >= RETIRES_AFTER:
                        worker = crew[number] = worker.replaced(workshop)
                    worker.give(waiting.pop())
                if done is not None:
                    yield done


@dataclass
class _Worker:
    process: SpawnProcess
    pipe: Connection
    unit: Unit | None = None
    lessons: int = 0

    @classmethod
    def hired(cls) -> "_Worker":
        """A process that has begun to start."""
        context = get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(target=_work, args=(theirs,), daemon=True)
        process.start()
        theirs.close()
        return cls(process, ours)

    def told(self, workshop: Workshop) -> None:
        """Give what is common to all units; as an argument of the process it would stop us where that dies at once."""
        with suppress(ConnectionError):  # then it is found out when its result is asked for
            self.pipe.send(workshop)

    def give(self, unit: Unit) -> None:
        """Give a unit."""
        self.unit = unit
        with suppress(ConnectionError):
            self.pipe.send(unit)

    def taken(self) -> Made | None:
        """The student, where the unit was one. Raises what the unit raised, EOFError where the worker is gone."""
        done = self.pipe.recv()
        self.unit = None
        if isinstance(done, BaseException):
            raise done
        if done is not None and not isinstance(done, Made):
            raise TypeError(f"a worker sent {type(done)}")
        self.lessons += done.lessons if done else 0
        return done

    def end(self) -> None:
        """End the process, whatever it is doing."""
        self.process.kill()
        self.process.join()
        self.pipe.close()

    def replaced(self, workshop: Workshop) -> "_Worker":
        """Another one in this one's place, which knows what is common to all units."""
        self.end()
        other = _Worker.hired()
        other.told(workshop)
        return other


@contextmanager
def _crew(workshop: Workshop, jobs: int) -> Iterator[list[_Worker]]:
    """Workers who are ended whatever happens, in the middle of their unit too: what they write is not yet published."""
    crew: list[_Worker] = []
    try:
        crew += (_Worker.hired() for _ in range(jobs))
        for worker in crew:
            worker.told(workshop)
        yield crew
    finally:
        for worker in crew:
            worker.process.kill()  # all at once, and only then is one after the other waited for
        for worker in crew:
            worker.end()


def _work(pipe: Connection) -> None:
    """Make units until nobody is there to give one. The interrupt is for the one who gives them."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # A layout makes objects by the hundred thousand and keeps them to its end: to look through them for garbage in
    # circles takes a quarter of its time. One look after each student keeps memory flat.
    gc.set_threshold(100_000, 20, 20)
    with suppress(EOFError, ConnectionError):
        workshop = pipe.recv()
        while True:
            unit = pipe.recv()
            try:
                done: Made | Exception | None = _made(unit, workshop)
            except Exception as error:
                done = error
            pipe.send(done)
            gc.collect()
            if not gc.get_freeze_count():
                gc.freeze()  # what the first unit has loaded stays, and is looked through no more


def _made(unit: Unit, workshop: Workshop) -> Made | None:
    if isinstance(unit, Task):
        return make(unit, workshop)
    make_parts(unit, workshop)
    return None


@contextmanager
def _hardly_any_collections() -> Iterator[None]:
    """Look for garbage in circles only when a million objects are new: a look takes as long as a third of a recap,
    and a few students leave little."""
    before = gc.get_threshold()
    gc.set_threshold(1_000_000, 20, 20)
    try:
        yield
    finally:
        gc.set_threshold(*before)
