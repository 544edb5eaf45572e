"""The instructor's own command that brings the published site to its host."""

import os
import subprocess
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

SITE = "{site}"
"""Stands in the words of the command for the folder to upload."""


@dataclass(frozen=True)
class Uploaded:
    """The exit code of the command; None where there is no program of that name, `missing`."""

    code: int | None
    missing: str | None = None


def command_of(words: Sequence[str], site: Path) -> list[str]:
    """The command for a folder `site`."""
    return [word.replace(SITE, str(site)) for word in words]


def run(
    command: Sequence[str], at: Path, tell: Callable[[str], None], begun: Callable[[subprocess.Popen[str]], None]
) -> Uploaded:
    """Run a command in the folder `at`, without a shell and with nothing to read; `tell` is called with each line that
    it prints, `begun` with the process. It learns nothing of the passphrases and passwords of the program."""
    known = {name: value for name, value in os.environ.items() if not name.startswith("REPORTGEN_")}
    try:
        process = subprocess.Popen(  # noqa: S603  the instructor's own command, shown before it runs
            command,
            cwd=at,
            env=known,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        )
    except (FileNotFoundError, PermissionError):
        return Uploaded(None, command[0])
    with process:
        begun(process)
        for line in process.stdout or ():
            tell(line.rstrip())
    return Uploaded(process.returncode)
