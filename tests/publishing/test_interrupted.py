"""A publish that is stopped leaves every page as it was, or whole and new."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from reportgen.publishing.replacing import replace_folder, write_tree
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, ROOT, area_of, areas, break_sheet, change_sheet, contents, reportgen

# A run that was started in the background would pass on to its children that they ignore the interrupt.
HEARING = (
    "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); from reportgen.cli import main; main()"
)
PATIENCE = 60.0
"""Seconds after which a condition that should come within two has failed."""


def _stopped_when(small: Small, begun: Callable[[], bool], jobs: int) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", HEARING, "publish", small.academy, "--to", small.site, "--jobs", str(jobs)]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        until = time.monotonic() + PATIENCE
        while not begun() and process.poll() is None and time.monotonic() < until:
            os.sched_yield()
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=PATIENCE)
    return subprocess.CompletedProcess(command, process.returncode, out, err)


@pytest.mark.parametrize("jobs", [1, 2])
def test_stopped_before_a_student_is_whole(small: Small, jobs: int) -> None:
    left_over = small.site / ".made" / "new" / "left-over"
    left_over.mkdir(parents=True)
    change_sheet(small.academy, PETRA)
    change_sheet(small.academy, BETTINA)
    before = contents(small.site)

    ended = _stopped_when(small, lambda: not left_over.exists(), jobs)

    assert (ended.returncode, ended.stdout) == (130, "")
    assert ended.stderr == "Stopped. What was published before is intact.\n"
    assert contents(small.site) == before


def test_stopped_while_students_are_put_in_place(small: Small, tmp_path: Path) -> None:
    old = {area.name: contents(area) for area in areas(small.site)}
    change_sheet(small.academy, PETRA)
    change_sheet(small.academy, BETTINA)
    staged = small.site / ".made" / "new"

    ended = _stopped_when(small, lambda: any(staged.glob(f"*/{BETTINA}")), jobs=1)

    assert ended.returncode == 130
    reportgen("publish", small.academy, "--to", tmp_path / "whole")
    for name, was in old.items():
        assert contents(small.site / "upload" / "s" / name) in (was, contents(tmp_path / "whole/upload/s" / name))
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert contents(small.site) == contents(tmp_path / "whole")


def test_killed_between_taking_away_and_putting_in_place(small: Small) -> None:
    """The last good pages come back even where the sheet has broken in between."""
    petra = area_of(small.site, "Petra")
    before = contents(small.site / "upload")
    (small.site / ".made" / "old").mkdir(exist_ok=True)
    petra.rename(small.site / ".made" / "old" / PETRA)
    break_sheet(small.academy, PETRA)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 1
    assert contents(small.site / "upload") == before


def test_a_folder_that_cannot_be_put_in_place_leaves_the_old_one(tmp_path: Path) -> None:
    write_tree(tmp_path / "place", {"index.html": b"old"})
    with pytest.raises(FileNotFoundError):
        replace_folder(tmp_path / "never-made", tmp_path / "place", tmp_path / "aside" / "old")
    assert contents(tmp_path / "place") == {"index.html": b"old"}


@pytest.mark.parametrize("name", ["../outside.html", "/outside.html", "a/../../outside.html"])
def test_no_file_is_written_outside_its_folder(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="leaves the folder"):
        write_tree(tmp_path / "area", {name: b""})
    assert not (tmp_path / "outside.html").exists()
