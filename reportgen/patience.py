"""Files and folders that another program has open for a moment."""

from collections.abc import Callable
from time import monotonic, sleep
from typing import TypeVar

T = TypeVar("T")

TRIES_FOR = 3.0
"""Seconds after which whoever has a file open will not let go of it soon."""
_FIRST_WAIT = 0.01

_IN_USE = (5, 32)
"""ERROR_ACCESS_DENIED and ERROR_SHARING_VIOLATION: what Windows says of a folder and of a file that are open."""


def patiently(act: Callable[[], T]) -> T:
    """Do what Windows refuses while another program has a file open: to rename it, to replace or to delete it. What
    looks for viruses or makes an index opens each new file, and lets go of it within moments.

    Tries for TRIES_FOR; raises what the last try raised. Other systems refuse for no such reason, and are asked once.
    """
    until, wait = monotonic() + TRIES_FOR, _FIRST_WAIT
    while True:
        try:
            return act()
        except OSError as error:
            if getattr(error, "winerror", None) not in _IN_USE or monotonic() + wait > until:
                raise
        sleep(wait)
        wait *= 2
