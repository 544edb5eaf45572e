"""The outbox: whole files or none, whatever happens to the disk."""

import os
import resource
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from reportgen.delivery.outbox import outbox_of, write_letter
from reportgen.delivery.rows import entries
from reportgen.delivery.sending import write_all
from tests.delivery.post_office import letters
from tests.delivery.sending_at_once import Queued


def test_it_stands_beside_the_academy(tmp_path: Path) -> None:
    assert outbox_of(tmp_path / "school") == tmp_path / "school.outbox"


def test_each_mail_is_a_file_for_its_owner_alone(tmp_path: Path, journal: sqlite3.Connection, queued: Queued) -> None:
    mails = queued(letters(3))
    write_all(mails, tmp_path / "out", journal, lambda line: None)
    files = sorted((tmp_path / "out").iterdir())
    assert [file.name for file in files] == [f"2026-11-19-student-{n}-00000000.eml" for n in (1, 2, 3)]
    assert [file.read_bytes() for file in files] == [mail.data for mail in mails]
    assert {stat.S_IMODE(file.stat().st_mode) for file in files} == {0o600}
    assert [entry.state for entry in entries(journal)] == ["sent"] * 3


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 256 kB, where this user may mount one; elsewhere a limit on the size of files is as good."""
    place = tmp_path / "disk"
    place.mkdir()
    mounted = (
        os.geteuid() == 0
        and not subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(place)], capture_output=True
        ).returncode
    )
    if mounted:
        yield place
        subprocess.run(["umount", str(place)], check=True)
    else:
        limits = resource.getrlimit(resource.RLIMIT_FSIZE)
        resource.setrlimit(resource.RLIMIT_FSIZE, (90_000, limits[1]))
        yield place
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)


def test_a_full_disk_leaves_whole_mails_and_a_queue(
    small_disk: Path, tmp_path: Path, journal: sqlite3.Connection, queued: Queued
) -> None:
    mails = queued([*letters(2, size=60_000), *letters(5, size=120_000)[2:]])
    with pytest.raises(OSError, match=r"No space left|File too large"):
        write_all(mails, small_disk, journal, lambda line: None)
    there = {file.name: file.read_bytes() for file in small_disk.iterdir()}
    states = [entry.state for entry in entries(journal)]
    written = states.count("sent")
    assert 2 <= written < 5
    assert states == ["sent"] * written + ["queued"] * (5 - written)
    assert [there[name] for name in sorted(there)] == [mail.data for mail in mails[:written]]
    write_all(mails[written:], tmp_path / "larger", journal, lambda line: None)
    assert [entry.state for entry in entries(journal)] == ["sent"] * 5


def test_a_mail_that_was_about_to_appear_when_the_run_was_killed_leaves_no_half_file(tmp_path: Path) -> None:
    code = (
        "import os, signal, sys\nfrom pathlib import Path\n"
        "from reportgen.delivery.outbox import write_letter\nfrom tests.delivery.post_office import letter\n"
        "write_letter(letter(1), Path(sys.argv[1]), lambda: os.kill(os.getpid(), signal.SIGKILL))"
    )
    done = subprocess.run([sys.executable, "-c", code, str(tmp_path)], cwd=Path(__file__).parents[2])
    assert done.returncode == -9
    assert list(tmp_path.glob("*.eml")) == []
    place = write_letter(letters(1)[0], tmp_path, lambda: None)
    assert list(tmp_path.iterdir()) == [place]
