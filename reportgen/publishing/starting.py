"""Processes that this one starts: they run nothing that lies in the folder where the program was called, and write
nothing to its terminal."""

import os
from collections.abc import Iterator
from contextlib import contextmanager

VARIABLE = "PYTHONSAFEPATH"
"""With it an interpreter does not look for modules in the current folder, where any file may lie, gzip.py say."""


@contextmanager
def silently() -> Iterator[None]:
    """A process that is started within it has no terminal to write to: what ends it is told by whoever misses it."""
    try:
        kept = os.dup(2)
    except OSError:  # it is closed already
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)
    try:
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


@contextmanager
def safe_path() -> Iterator[None]:
    """Interpreters that are started within it take modules from where they are installed alone."""
    before = os.environ.get(VARIABLE)
    os.environ[VARIABLE] = "1"
    try:
        yield
    finally:
        if before is None:
            del os.environ[VARIABLE]
        else:
            os.environ[VARIABLE] = before
