"""The same academy gives the same bytes: whenever, wherever, however it is published."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.publishing.conftest import Small
from tests.publishing.small import (
    BETTINA,
    MIRO,
    PETRA,
    ROOT,
    change_sheet,
    contents,
    reportgen,
    sheets,
    small_academy,
    times,
)


@pytest.fixture(scope="module")
def elsewhere(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, bytes]]:
    """What goes to the web host, published in two processes that agree on nothing but the academy."""
    folder = tmp_path_factory.mktemp("elsewhere")
    places = [
        ("here", "1", {"TZ": "Pacific/Auckland", "LC_ALL": "de_DE.UTF-8", "PYTHONHASHSEED": "1"}),
        ("over there", "2", {"TZ": "America/Los_Angeles", "LC_ALL": "C", "PYTHONHASHSEED": "2"}),
    ]
    found = []
    for place, jobs, settings in places:
        academy, site = small_academy(folder / place / "academy", MIRO, PETRA), folder / place / "site"
        inherited = {k: v for k, v in os.environ.items() if k not in ("SOURCE_DATE_EPOCH", "LANG", "LANGUAGE")}
        command = [sys.executable, "-m", "reportgen", "publish", academy, "--to", site, "--jobs", jobs]
        subprocess.run(command, cwd=ROOT, env=inherited | settings, check=True, capture_output=True)
        found.append(contents(site / "upload"))
    return found


def test_folder_zone_locale_and_workers_change_no_byte(elsewhere: list[dict[str, bytes]]) -> None:
    here, there = elsewhere
    assert {name.rsplit(".")[-1] for name in here} >= {"html", "css", "png", "pdf", "woff2"}
    assert list(here) != []
    assert sorted(here) == sorted(there)
    assert [name for name in here if here[name] != there[name]] == []


def test_nothing_changed_means_nothing_is_written(small: Small) -> None:
    before = times(small.site)
    result = reportgen("publish", small.academy, "--to", small.site)
    assert result.stdout == f"0 students made, 2 unchanged: {small.site}\n"
    assert times(small.site) == before


def test_afresh_writes_the_same_again(small: Small) -> None:
    before, written = contents(small.site), times(small.site)
    result = reportgen("publish", small.academy, "--to", small.site, "--afresh")
    assert result.stdout == f"2 students made, 0 unchanged: {small.site}\n"
    assert contents(small.site) == before
    pages = [name for name in written if name.startswith("upload/s/")]
    assert [name for name in pages if times(small.site)[name] == written[name]] == []


def test_publishing_what_changed_gives_the_same_as_publishing_it_all(small: Small, tmp_path: Path) -> None:
    change_sheet(small.academy, BETTINA)
    sheets(small.academy, BETTINA)[0].unlink()
    reportgen("publish", small.academy, "--to", small.site)
    reportgen("publish", small.academy, "--to", tmp_path / "new")
    assert contents(small.site) == contents(tmp_path / "new")
