"""Two publishes into one folder: the second is told who is at work, and leaves."""

import fcntl
import os
import re

from reportgen.publishing.lock import locked
from tests.publishing.conftest import Small
from tests.publishing.small import PETRA, change_sheet, contents, reportgen


def test_the_second_says_who_is_at_work_and_changes_nothing(small: Small) -> None:
    before = contents(small.site)
    change_sheet(small.academy, PETRA)
    with locked(small.site / ".made" / "lock"):
        result = reportgen("publish", small.academy, "--to", small.site)
    assert (result.exit_code, result.stdout) == (2, "")
    who = rf"A publish \(process {os.getpid()} on \S+, since \d\d:\d\d:\d\d\)"
    assert re.fullmatch(
        rf"{who} is at work in {re.escape(str(small.site))}\. Try again when it has ended\.\n", result.stderr
    )
    assert contents(small.site) == before


def test_it_goes_on_when_the_first_has_ended(small: Small) -> None:
    with locked(small.site / ".made" / "lock"):
        pass
    change_sheet(small.academy, PETRA)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0


def test_the_lock_of_a_killed_publish_holds_nobody_up(small: Small) -> None:
    """What it wrote into the file stays; the lock itself goes with the process."""
    child = os.fork()
    if child == 0:
        with (small.site / ".made" / "lock").open("a+") as held:
            fcntl.flock(held, fcntl.LOCK_EX)
            held.write("A publish that is no more")
            held.flush()
            os._exit(0)
    os.waitpid(child, 0)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
