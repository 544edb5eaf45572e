"""Browser, demo and hard cases for the tests of access; what the tests take from npm lies in .venv/npm."""

import fcntl
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.access.extremes import write_extremes
from tests.site.conftest import chromium, on_the_web, sealed, site
from tests.site.published import ROOT

__all__ = ["chromium", "on_the_web", "sealed", "site"]


@pytest.fixture(scope="session")
def extremes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The published academy of hard cases: its folder `upload/s` has one folder for each student."""
    own = tmp_path_factory.getbasetemp()
    shared = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    academy, site, done = shared / "extremes", shared / "extremes-site", shared / "extremes-are-whole"
    with (shared / "extremes-lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not done.exists():
            academy.mkdir()
            write_extremes(academy)
            program = [sys.executable, "-m", "tests.printed_once"]
            command = [*program, "publish", str(academy), "--to", str(site), "--jobs", "1"]
            ended = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
            assert ended.returncode == 0, ended.stderr
            done.touch()
    return site
