"""Runs the program with what it prints kept for the whole test run: `python -m tests.printed_once publish ACADEMY`.

The same page in the same style gives the same PDF (`tests/publishing/test_same_bytes.py` sees it with the program as it
is), and the cards of the library's drills take most of a small publish: they are printed once for all processes of a
run, in a folder that `tests/conftest.py` makes. A worker of the program runs this module too, as its main module.
"""

import os
import pickle
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

try:
    import fcntl
except ModuleNotFoundError:  # as on Windows, where two print twice
    fcntl = None  # type: ignore[assignment]

from reportgen.pages import printing
from reportgen.pages.printing import Printed, ToPrint

KEPT_IN = "TESTS_KEEP_PRINTS_IN"
Print = Callable[[ToPrint], Printed]


def once(to_print: Print) -> Print:
    """The same, but that what any process of this run has printed is taken from where it is kept."""
    folder = Path(os.environ[KEPT_IN])

    def kept(wanted: ToPrint) -> Printed:
        asked = (wanted.text, wanted.style, sorted(wanted.files.items()), wanted.most_pages)
        file = folder / sha256(pickle.dumps((asked, os.environ.get("SOURCE_DATE_EPOCH")))).hexdigest()
        with file.with_suffix(".lock").open("w") as lock:  # two that want the same at once: the other waits for it
            if fcntl is not None:
                fcntl.flock(lock, fcntl.LOCK_EX)
            if file.exists():
                return pickle.loads(file.read_bytes())
            printed = to_print(wanted)
            own = file.with_suffix(f".{os.getpid()}")
            own.write_bytes(pickle.dumps(printed))
            own.replace(file)
            return printed

    return kept


def keep_prints() -> None:
    """What this process prints from now on is printed once in a run, where the run keeps prints."""
    if os.environ.get(KEPT_IN):
        printing.printed = once(printing.printed)


if __name__ in ("__main__", "__mp_main__"):
    keep_prints()

if __name__ == "__main__":
    from reportgen.__main__ import main

    main()
