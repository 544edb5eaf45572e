"""Jobs of a publish in this process, or in several at once: started apart, warmed once, ended at once."""

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
from reportgen.failures import lost
from reportgen.publishing.shared_parts import PartsJob, make_parts
from reportgen.publishing.starting import safe_path, silently
from reportgen.publishing.student_job import BuildContext, Made, StudentJob, failed, make

Job = StudentJob | PartsJob

MOST_TRIES = 3
"""How many workers may die over one job before the publish gives up."""


class WorkerLostError(ReportgenError):
    """Workers died over one job, again and again; the message says which."""


RETIRES_AFTER = 150
"""Lessons after which a worker is replaced, so that memory stays flat. The layout engine never gives back what it takes
for the features of a face, some 60 kB a recap."""


def made_here(student_jobs: Sequence[StudentJob], context: BuildContext) -> Iterator[Made]:
    """The results of the jobs in their order, made in this process."""
    with _hardly_any_collections():
        for number, job in enumerate(student_jobs):
            if number:
                gc.collect()
            yield make(job, context)


def made_by_workers(work: Sequence[Job], context: BuildContext, jobs: int) -> Iterator[Made]:
    """The students of the `work` as they come, made by `jobs` processes; each takes the next job when it has done one.

    A worker that is lost is replaced, and its job done again; a student over whom MOST_TRIES are lost has a problem.
    Raises what a job raised, WorkerLostError over what belongs to no student.
    """
    waiting = [*reversed(work)]
    tries: Counter[str] = Counter()
    with _crew(context, min(jobs, len(work))) as crew:
        for worker in crew:
            worker.give(waiting.pop())
        while any(worker.job for worker in crew):
            ready = wait([worker.pipe for worker in crew if worker.job])
            for number, worker in enumerate(crew):
                if worker.pipe not in ready or worker.job is None:
                    continue
                job = worker.job
                try:
                    done = worker.taken()
                except (EOFError, ConnectionError):
                    whose = job.student if isinstance(job, StudentJob) else "the drill library"
                    tries[whose] += 1
                    worker = crew[number] = worker.replaced(context)
                    if tries[whose] < MOST_TRIES:
                        worker.give(job)
                        continue
                    if not isinstance(job, StudentJob):
                        raise WorkerLostError(
                            f"{MOST_TRIES} workers were lost over {whose}. Is there memory enough? Try --jobs 1."
                        ) from None
                    done = failed(job.student, None, lost(job.student, MOST_TRIES))
                if waiting:
                    if worker.lessons >= RETIRES_AFTER:
                        worker = crew[number] = worker.replaced(context)
                    worker.give(waiting.pop())
                if done is not None:
                    yield done


@dataclass
class _Worker:
    process: SpawnProcess
    pipe: Connection
    job: Job | None = None
    lessons: int = 0

    @classmethod
    def hired(cls) -> "_Worker":
        """A process that has begun to start."""
        context = get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(target=_work, args=(theirs,), daemon=True)
        with safe_path(), silently():
            process.start()
        theirs.close()
        return cls(process, ours)

    def told(self, context: BuildContext) -> None:
        """Give what is common to all jobs; as an argument of the process it would stop us where that dies at once."""
        with suppress(ConnectionError):  # then it is found out when its result is asked for
            self.pipe.send(context)

    def give(self, job: Job) -> None:
        """Give a job."""
        self.job = job
        with suppress(ConnectionError):
            self.pipe.send(job)

    def taken(self) -> Made | None:
        """The student, where the job was one. Raises what the job raised, EOFError where the worker is gone."""
        done = self.pipe.recv()
        self.job = None
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

    def replaced(self, context: BuildContext) -> "_Worker":
        """Another one in this one's place, which knows what is common to all jobs."""
        self.end()
        other = _Worker.hired()
        other.told(context)
        return other


@contextmanager
def _crew(context: BuildContext, jobs: int) -> Iterator[list[_Worker]]:
    """Workers who are ended whatever happens, in the middle of their job too: what they write is not yet published."""
    crew: list[_Worker] = []
    try:
        crew += (_Worker.hired() for _ in range(jobs))
        for worker in crew:
            worker.told(context)
        yield crew
    finally:
        for worker in crew:
            worker.process.kill()  # all at once, and only then is one after the other waited for
        for worker in crew:
            worker.end()


def _work(pipe: Connection) -> None:
    """Make jobs until nobody is there to give one. The interrupt is for the one who gives them."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # A layout makes objects by the hundred thousand and keeps them to its end: to look through them for garbage in
    # circles takes a quarter of its time. One look after each student keeps memory flat.
    gc.set_threshold(100_000, 20, 20)
    with suppress(EOFError, ConnectionError):
        context = pipe.recv()
        while True:
            job = pipe.recv()
            try:
                done: Made | Exception | None = _made(job, context)
            except Exception as error:
                done = error
            pipe.send(done)
            gc.collect()
            if not gc.get_freeze_count():
                gc.freeze()  # what the first job has loaded stays, and is looked through no more


def _made(job: Job, context: BuildContext) -> Made | None:
    if isinstance(job, StudentJob):
        return make(job, context)
    make_parts(job, context)
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
