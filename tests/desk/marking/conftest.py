"""Callum's lesson with its pictures, and the page of their marks."""

from pathlib import Path

import pytest

from tests.desk.conftest import Browser
from tests.desk.marking.page import CALLUM, FOCUS, Marking, sheet_of
from tests.publishing.small import link_only, small_academy


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """Callum with two lessons; that of the pictures has two metrics in focus."""
    academy = link_only(small_academy(tmp_path / "academy", CALLUM))
    with sheet_of(academy).open("a", encoding="utf-8") as sheet:
        sheet.write(f"follow: [{', '.join(FOCUS)}]\n")
    return academy


@pytest.fixture
def page(browser: Browser) -> Marking:
    return Marking(browser.driver)
