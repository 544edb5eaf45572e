"""Work in a process that has loaded nothing else: what a process began with counts as its peak memory, and it begins
with that of the one who starts it."""

from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import TYPE_CHECKING, ParamSpec, TypeVar

if TYPE_CHECKING:
    from tests.bench.lesson import OneLesson

P = ParamSpec("P")
T = TypeVar("T")


def apart(function: Callable[P, T], *arguments: P.args, **named: P.kwargs) -> T:
    """What the function returns, called in a process of its own."""
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as process:
        return process.submit(function, *arguments, **named).result()


def one_lesson_alone(times: int) -> "OneLesson":
    """What `one_lesson` measures."""
    return apart(_measured, times)


def _measured(times: int) -> "OneLesson":
    from tests.bench.lesson import one_lesson

    return one_lesson(times)
