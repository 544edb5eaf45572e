"""What a machine does: too little memory, a full disk, no descriptors, no terminal. Each is one line in words with exit
code 2, and what was published before stands."""

import os
import resource
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from reportgen.errors import no_memory
from tests.publishing.conftest import Small
from tests.publishing.small import PETRA, ROOT, change_sheet, contents

MB = 1 << 20
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT), "REPORTGEN_PASSPHRASE": "seven herons at low tide"}

Limit = tuple[int, int]
MEMORY, SMALL_FILES, NO_FILES = (resource.RLIMIT_AS, 60 * MB), (resource.RLIMIT_FSIZE, 4096), (resource.RLIMIT_FSIZE, 0)
DESCRIPTORS = (resource.RLIMIT_NOFILE, 5)


def _under(limit: Limit | None) -> Callable[[], None]:
    def set_it() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)  # otherwise the system kills whoever writes too much
        if limit is not None:
            resource.setrlimit(limit[0], (limit[1], limit[1]))

    return set_it


def _run(small: Small, *words: str, limit: Limit | None = None, **more: object) -> subprocess.CompletedProcess[str]:
    places = {"ACADEMY": small.academy, "SITE": small.site, "HERE": small.academy.parent}
    command = [sys.executable, "-m", "reportgen", *(str(places.get(word, word)) for word in words)]
    options: dict[str, object] = {"stdout": subprocess.PIPE, "cwd": small.academy.parent, **more}
    return subprocess.run(  # type: ignore[call-overload, no-any-return]
        command, stderr=subprocess.PIPE, text=True, env=ENVIRONMENT, preexec_fn=_under(limit), **options
    )


PUBLISH = ("publish", "ACADEMY", "--to", "SITE")
TWO = (*PUBLISH, "--afresh", "--jobs", "2")
SEND = ("send", "ACADEMY", "--to-outbox", "outbox")
EXPORT = ("export", "ACADEMY", PETRA, "--to", "all.zip")
RECAP = ("recap", "ACADEMY", PETRA, "--to", "recap.pdf")
MEMBERS = ("members", "add", "ACADEMY", "--all")
FORGET = ("forget", "ACADEMY", PETRA)


@pytest.mark.parametrize(
    ("limit", "command", "says"),
    [
        (MEMORY, PUBLISH, "There is not enough memory."),
        (MEMORY, TWO, "There is not enough memory."),
        (MEMORY, SEND, "There is not enough memory."),
        (MEMORY, EXPORT, "There is not enough memory."),
        (MEMORY, MEMBERS, "There is not enough memory."),
        (SMALL_FILES, PUBLISH, "File too large."),
        (SMALL_FILES, TWO, "File too large."),
        (NO_FILES, SEND, "disk I/O error"),
        (NO_FILES, RECAP, "No usable temporary directory"),
        (NO_FILES, MEMBERS, "File too large"),
        (NO_FILES, FORGET, "File too large"),
        (DESCRIPTORS, PUBLISH, "Too many open files"),
        (DESCRIPTORS, TWO, "Too many open files"),
        (DESCRIPTORS, SEND, "unable to open database file"),
    ],
)
def test_what_a_machine_has_not_enough_of_is_told_in_a_line(
    small: Small, limit: Limit, command: tuple[str, ...], says: str
) -> None:
    change_sheet(small.academy, PETRA)
    before = contents(small.site / "upload")
    ended = _run(small, *command, limit=limit)
    assert ended.returncode == 2
    assert says in ended.stderr
    assert len([line for line in ended.stderr.splitlines() if not line.startswith("warning: ")]) == 1
    assert contents(small.site / "upload") == before


def test_afterwards_the_same_command_does_its_work(small: Small) -> None:
    change_sheet(small.academy, PETRA)
    for limit in (MEMORY, SMALL_FILES, DESCRIPTORS):
        assert _run(small, *PUBLISH, limit=limit).returncode == 2
    ended = _run(small, *PUBLISH)
    assert (ended.returncode, ended.stdout) == (0, f"1 student made, 1 unchanged: {small.site}\n")


def test_where_even_the_error_found_no_place_it_is_memory_that_lacks() -> None:
    """As the interpreter says it; seen under the limit above, where it is rare."""
    assert no_memory(SystemError("<function _find_and_load at 0x7f> returned NULL without setting an exception"))
    assert no_memory(SystemError("error return without exception set"))


@pytest.mark.parametrize(
    "command", [PUBLISH, ("check", "ACADEMY"), ("findings", "ACADEMY", PETRA), ("schema", "lesson")]
)
def test_a_full_disk_behind_what_is_printed_is_told(small: Small, command: tuple[str, ...]) -> None:
    with open("/dev/full", "w", encoding="utf-8") as full:
        ended = _run(small, *command, stdout=full)
    assert ended.returncode == 2
    assert "No space left on device" in ended.stderr
    assert "Traceback" not in ended.stderr


@pytest.mark.parametrize("closed", [0, 1, 2], ids=["nothing to read from", "nowhere to print", "nowhere to complain"])
def test_a_publish_needs_no_terminal(small: Small, closed: int) -> None:
    change_sheet(small.academy, PETRA)
    command = [sys.executable, "-m", "reportgen", "publish", small.academy, "--to", small.site, "--jobs", "2"]
    ended = subprocess.run(command, env=ENVIRONMENT, preexec_fn=lambda: os.close(closed), cwd=small.academy.parent)
    assert ended.returncode == 0
    assert b"A new focus" in b"".join(contents(small.site / "upload").values())


def test_the_folder_in_which_one_stands_may_be_gone(small: Small, tmp_path: Path) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    change_sheet(small.academy, PETRA)
    script = (
        f"cd {gone} && rmdir {gone} && exec {sys.executable} -m reportgen publish {small.academy} --to {small.site}"
    )
    ended = subprocess.run(["/bin/sh", "-c", script], env=ENVIRONMENT, capture_output=True, text=True)
    assert ended.returncode == 0, ended.stderr


def test_a_bug_is_one_line_that_can_be_reported(small: Small, tmp_path: Path) -> None:
    """A library that fails in a way that nobody thought of."""
    (tmp_path / "broken").mkdir()
    shutil.copy(ROOT / "reportgen" / "__init__.py", tmp_path / "broken" / "icalendar.py")
    (tmp_path / "broken" / "rich.py").write_text("raise LookupError('what nobody thought of')", encoding="utf-8")
    environment = {**ENVIRONMENT, "PYTHONPATH": f"{tmp_path / 'broken'}{os.pathsep}{ROOT}"}
    command = [sys.executable, "-m", "reportgen", "findings", str(small.academy), PETRA]
    ended = subprocess.run(command, env=environment, capture_output=True, text=True, cwd=tmp_path)
    assert ended.returncode == 2
    assert ended.stderr == (
        "A fault of the program: LookupError: what nobody thought of (rich.py, line 1). "
        "What was published before is intact. Please report this line.\n"
    )
