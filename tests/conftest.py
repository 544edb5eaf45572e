"""What holds for all tests. Hypothesis tries the same examples on every run, without a clock, since a test machine can
be slow. A desk says what day it is: every test lives on one day, a run that goes on past midnight too.

What is printed is printed once in a run (`tests/printed_once.py`), and its folder goes with the run. The program is
compiled before the first process is started, since there are machines on which none keeps what it compiled.

The same passphrase and salt open a keyring with the same key (`tests/published/test_crypto_vectors.py` holds which), so
it is worked out once in a test process: it is made to take long.
"""

import compileall
import os
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import settings

settings.register_profile("reportgen", deadline=None, derandomize=True, database=None)
settings.load_profile("reportgen")

os.environ["SOURCE_DATE_EPOCH"] = "1795608000"  # 25 November 2026, noon in Greenwich: after the demo's last lesson

from reportgen.pages import pdf  # noqa: E402  # the engine reads the date of its PDFs when it is loaded
from reportgen.sealing import keyring  # noqa: E402
from tests.printed_once import KEPT_IN, once  # noqa: E402

if "PYTEST_XDIST_WORKER" not in os.environ:
    _prints = TemporaryDirectory(prefix="prints-")
    os.environ[KEPT_IN] = _prints.name
    compileall.compile_dir(Path(pdf.__file__).parents[1], quiet=2)

pdf._printed = once(pdf._printed)


_scrypt = keyring.Scrypt


class _StretchedOnce:
    """In the place of scrypt, which works it out."""

    def __init__(self, *how: Any) -> None:
        self._how = how

    def derive(self, passphrase: bytes) -> bytes:
        return _stretched(self._how, passphrase)


@lru_cache(maxsize=200)
def _stretched(how: tuple[Any, ...], passphrase: bytes) -> bytes:
    return _scrypt(*how).derive(passphrase)


keyring.Scrypt = _StretchedOnce  # type: ignore[misc,assignment]
