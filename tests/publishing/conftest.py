"""A small academy and its published site; each test gets its own copy of both."""

import shutil
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.publishing.small import BETTINA, PETRA, reportgen, small_academy


class Small(NamedTuple):
    academy: Path
    site: Path


@pytest.fixture(scope="session")
def _published(tmp_path_factory: pytest.TempPathFactory) -> Small:
    folder = tmp_path_factory.mktemp("small")
    small = Small(small_academy(folder / "academy", PETRA, BETTINA), folder / "site")
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    return small


@pytest.fixture
def small(_published: Small, tmp_path: Path) -> Small:
    """Petra with one lesson and Bettina with two, published."""
    own = Small(tmp_path / "academy", tmp_path / "site")
    shutil.copytree(_published.academy, own.academy)
    shutil.copytree(_published.site, own.site)
    return own
