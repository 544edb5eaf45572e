"""One lesson, measured in a process that has loaded nothing else: what a process began with counts as its peak memory,
and it begins with that of the one who starts it."""

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.bench.lesson import OneLesson


def one_lesson_alone(times: int) -> "OneLesson":
    """What `one_lesson` measures."""
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as alone:
        return alone.submit(_measured, times).result()


def _measured(times: int) -> "OneLesson":
    from tests.bench.lesson import one_lesson

    return one_lesson(times)
