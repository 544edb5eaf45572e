"""Whatever the environment says of the time: told in one line, and nothing is made."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.publishing.small import DEMO, PETRA, link_only, small_academy

NO_ZONES = [
    ":/etc/passwd",
    "/etc",
    ":/dev/null",
    "XXX-26",
    "XXX+167:59:59",
    "damaged",
]
NO_TIMES = ["253402300799", "-62135596800", "4102444800", "-2208988801", "9" * 400, "1e9", "noon\x1b[31m"]


def run(command: list[str | Path], folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "reportgen", *command],
        env={**os.environ, **environment},
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


def told_in_a_line(done: subprocess.CompletedProcess[str]) -> str:
    assert (done.returncode, done.stdout) == (2, "")
    (line,) = done.stderr.splitlines()
    assert line.isprintable()
    return line


@pytest.mark.parametrize("zone", NO_ZONES)
def test_a_time_zone_that_is_none(zone: str, tmp_path: Path) -> None:
    (tmp_path / "damaged").write_bytes(b"TZif2" + bytes(20))
    line = told_in_a_line(run(["publish", DEMO, "--to", "site"], tmp_path, TZ=zone))
    assert line == f"TZ is {zone}, and no time zone. Write one as Europe/Lisbon, or leave it out."
    assert not (tmp_path / "site").exists()


def test_a_time_zone_too_long_to_be_a_file(tmp_path: Path) -> None:
    line = told_in_a_line(run(["check", DEMO], tmp_path, TZ="x" * 4000))
    assert line.endswith("and no time zone. Write one as Europe/Lisbon, or leave it out.")


@pytest.mark.parametrize("zone", ["", "UTC", "Europe/Lisbon", ":/usr/share/zoneinfo/UTC", "XXX-23:59", "nowhere"])
def test_any_other_time_zone_does(zone: str, tmp_path: Path) -> None:
    assert run(["start", "academy"], tmp_path, TZ=zone).returncode == 0


@pytest.mark.parametrize(
    ("command", "epoch"), [*((["check"], epoch) for epoch in NO_TIMES), (["publish", "--to", "site"], "1e9")]
)
def test_a_second_in_which_nobody_teaches(command: list[str], epoch: str, tmp_path: Path) -> None:
    small_academy(tmp_path / "academy", PETRA, lessons=1)
    line = told_in_a_line(run([*command, "academy"], tmp_path, SOURCE_DATE_EPOCH=epoch))
    assert not (tmp_path / "site" / "upload").exists()
    assert line.startswith("SOURCE_DATE_EPOCH is ")
    assert line.endswith(". Give seconds since 1970, within the years 1900 to 2099, or leave it out.")


def test_an_empty_second_counts_as_none(tmp_path: Path) -> None:
    link_only(small_academy(tmp_path / "academy", PETRA, lessons=1))
    assert run(["recap", "academy", PETRA, "--to", "recap.pdf"], tmp_path, SOURCE_DATE_EPOCH="").returncode == 0


@pytest.mark.parametrize("epoch", ["-2208902400", "4102358399"])
def test_the_first_and_the_last_day(epoch: str, tmp_path: Path) -> None:
    done = run(["check", DEMO], tmp_path, SOURCE_DATE_EPOCH=epoch)
    assert "Traceback" not in done.stderr
    assert "SOURCE_DATE_EPOCH" not in done.stderr
