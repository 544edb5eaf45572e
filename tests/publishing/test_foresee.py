"""What a publish would do is told, and nothing is written."""

import shutil
from pathlib import Path

import pytest

from tests.publishing.small import (
    BETTINA,
    PETRA,
    break_sheet,
    change_sheet,
    contents,
    link_only,
    reportgen,
    small_academy,
)


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    return link_only(small_academy(tmp_path / "academy", PETRA, BETTINA, lessons=1))


def test_nothing_is_written_before_the_first_publish(academy: Path, tmp_path: Path) -> None:
    done = reportgen("publish", academy, "--to", tmp_path / "site", "--dry-run")
    assert done.exit_code == 0
    assert f"would be made: {BETTINA}\nwould be made: {PETRA}\n" in done.stdout
    assert not (tmp_path / "site").exists()


def test_what_changed_is_told_and_the_site_stays(academy: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    reportgen("publish", academy, "--to", site)
    change_sheet(academy, PETRA)
    before = contents(tmp_path)
    done = reportgen("publish", academy, "--to", site, "--dry-run")
    assert done.stdout == f"would be made: {PETRA}\n1 student to make, 1 unchanged. Nothing was written.\n"
    assert contents(tmp_path) == before
    assert "1 student made, 1 unchanged" in reportgen("publish", academy, "--to", site).stdout


def test_pages_that_would_be_taken_down_are_named_and_stay(academy: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    reportgen("publish", academy, "--to", site)
    shutil.rmtree(academy / "students" / BETTINA)
    before = contents(site)
    done = reportgen("publish", academy, "--to", site, "--dry-run")
    assert done.stderr == f"To be taken down: {BETTINA}, who is no longer in the academy.\n"
    assert contents(site) == before


def test_problems_are_told_in_their_words(academy: Path, tmp_path: Path) -> None:
    break_sheet(academy, PETRA)
    done = reportgen("publish", academy, "--to", tmp_path / "site", "--dry-run")
    assert done.exit_code == 1
    assert "no-such-" in done.stderr
    assert f"would be made: {PETRA}" not in done.stdout
