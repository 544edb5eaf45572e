"""Kill -9 of the desk, the browser or both: the sheet is whole, and nothing older than two seconds is lost."""

import sys
from pathlib import Path

import pytest

from tests.desk.typing_and_killing import moments
from tests.publishing.small import PETRA

SEED, MOMENTS = 20261201, 3
OLDEST = 2.0
"""Seconds."""


@pytest.mark.skipif(sys.platform != "linux", reason="processes are found in /proc")
def test_whatever_is_killed_at_any_moment_the_sheet_is_whole_and_two_seconds_are_all_that_is_lost(
    academy: Path,
) -> None:
    seen = moments(academy, PETRA, SEED, MOMENTS)
    assert all(one.whole for one in seen)
    assert max(one.age for one in seen) <= OLDEST, [(one.killed, one.age) for one in seen]
