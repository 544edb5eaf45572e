"""A case run as its instructor would: checked, published upon an earlier publish, published again, looked at."""

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.fuzz.cases import STUDENTS, THEME, Case, write
from tests.publishing.small import contents

TIMES = 2.0
"""How much longer a command may take than the first publish of the small academy, in seconds of processors: that tells
the machine's pace."""
LONGEST = 180.0
"""Seconds on the clock after which it is ended, since a machine has other work,"""
MEBIBYTES = 600
"""and the memory of its largest process."""
TODAY = "1795608000"
MEASURED = Path(__file__).with_name("measured.py")
BUGS = ("Traceback (most recent call last)", "Please report this line", "workers were lost")
SIGNS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]")
"""Signs that a terminal acts upon, or by which a line reads otherwise than it is."""


@dataclass(frozen=True)
class Ran:
    """A command that has ended."""

    command: str
    code: int
    said: str
    seconds: float
    """Of processors."""
    mebibytes: float


class FoundError(AssertionError):
    """A case of which something does not hold; the message says what."""


def ran(arguments: Sequence[str], environment: Mapping[str, str], log: Path) -> Ran:
    """Run the program in a process of its own, which is ended when it takes far too long."""
    variables = {**os.environ, "SOURCE_DATE_EPOCH": TODAY, "PYTHONSAFEPATH": "1"}
    of_the_case = [f"{name}={value}" for name, value in environment.items()]
    program = ["env", *of_the_case, sys.executable, "-m", "reportgen", *arguments]
    done = subprocess.run(
        [sys.executable, "-S", str(MEASURED), str(log), str(LONGEST), *program],
        cwd=log.parent, env=variables, capture_output=True, check=True,
    )  # fmt: skip
    code, seconds, kibibytes = json.loads(done.stdout)
    return Ran(arguments[0], code, log.read_bytes().decode("utf-8", "replace"), seconds, kibibytes / 1024)


@cache
def earlier(scratch: Path) -> tuple[Path, float]:
    """A site of the academy as it is in the beginning, published once, and the seconds of processors that took."""
    write(Case({}), scratch / "academy")
    published = ran(["publish", "academy", "--to", "earlier"], {}, scratch / "log")
    if published.code:
        raise FoundError(f"the academy without changes: {published.said}")
    return scratch / "earlier", published.seconds


def look(case: Case, scratch: Path) -> int:
    """Run the case in `scratch`: how the publish ended. Raises FoundError."""
    before, first = earlier(scratch)
    site = scratch / "site"
    shutil.rmtree(site, ignore_errors=True)
    shutil.copytree(before, site, symlinks=True)
    write(case, scratch / "academy")
    log = scratch / "log"
    check = ran(["check", "academy"], case.environment, log)
    _look_at(check, TIMES * first)
    publish = ran(["publish", "academy", "--to", "site"], case.environment, log)
    _look_at(publish, TIMES * first)
    own_theme = any(path.startswith(f"{THEME}/") for path in case.changed)
    if not own_theme:  # templates are tried when a page is made, and areas made before the wrong one are shown
        if check.code == 0 and publish.code != 0:
            raise FoundError(f"check says that all is well, publish ends with {publish.code}:\n{publish.said}")
        if publish.code == 2 and contents(site) != contents(before) and "Taken down: " not in publish.said:
            raise FoundError(f"publish could not run, and the site is another:\n{publish.said}")
    if publish.code != 2:
        _look_at_students(case, publish, site, before)
    for arguments in _others(case):
        _look_at(ran(arguments, case.environment, log), TIMES * first)
    return publish.code


def _others(case: Case) -> Iterator[list[str]]:
    yield ["send", "academy", "--dry-run"]
    for student in sorted(case.touched & set(STUDENTS)):
        yield ["findings", "academy", student]
    if not case.touched <= set(STUDENTS):
        yield ["season", "academy", "--to", "site"]


def _look_at(one: Ran, most: float) -> None:
    """What holds for every command; it may take `most` seconds of processors."""
    told = f"{one.command} ({one.code}, {one.seconds:.1f} s, {one.mebibytes:.0f} MiB):\n{one.said[-4000:]}"
    if one.code not in (0, 1, 2):
        raise FoundError(f"ended otherwise than with 0, 1 or 2: {told}")
    if any(bug in one.said for bug in BUGS):
        raise FoundError(f"a bug: {told}")
    if one.seconds > most:
        raise FoundError(f"too slow: {told}")
    if one.mebibytes > MEBIBYTES:
        raise FoundError(f"too much memory: {told}")
    if sign := SIGNS.search(one.said):
        raise FoundError(f"a sign that a terminal acts upon ({sign[0]!r}): {told}")
    if one.code and not one.said.strip():
        raise FoundError(f"not a word: {told}")


def _look_at_students(case: Case, publish: Ran, site: Path, before: Path) -> None:
    """Whoever is not touched by the changes has the same pages as before."""
    if not case.touched <= set(STUDENTS) or case.environment:
        return
    names = {folder.name for folder in (before / "upload" / "s").iterdir()}
    kept = [
        name for name in names if contents(before / "upload" / "s" / name) == contents(site / "upload" / "s" / name)
    ]
    untouched = len(set(STUDENTS) - case.touched)
    if len(kept) < untouched:
        raise FoundError(f"{untouched} students are not touched, {len(kept)} have the pages they had:\n{publish.said}")
