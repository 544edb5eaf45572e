"""Two publishes into one folder: the second is told who is at work, and leaves."""

import os
import re
import subprocess
import sys

from reportgen.publishing.lock import locked
from tests.publishing.conftest import Small
from tests.publishing.small import PETRA, ROOT, change_sheet, contents, reportgen


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
    """What says who held it stays; the lock itself goes with the process."""
    lock = small.site / ".made" / "lock"
    holds_and_ends = (
        "import os\nfrom pathlib import Path\nfrom reportgen.publishing.lock import locked\n"
        f"with locked(Path({str(lock)!r})):\n    os._exit(9)"
    )
    assert subprocess.run([sys.executable, "-c", holds_and_ends], cwd=ROOT).returncode == 9
    assert lock.with_name("lock-holder").read_text(encoding="utf-8").startswith("A publish (process ")
    change_sheet(small.academy, PETRA)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert not lock.with_name("lock-holder").exists()
