"""axe-core finds nothing on the pages of the desk, in the light and in the dark scheme, wide and narrow."""

from pathlib import Path

import pytest

from tests.access.test_axe import AXE, RUN
from tests.desk.conftest import Browser, OpenDesk
from tests.publishing.small import link_only, sheets, small_academy

CALLUM = "callum-weirbridge"


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """Callum with the lesson that has pictures last."""
    academy = link_only(small_academy(tmp_path / "academy", CALLUM))
    sheets(academy, CALLUM)[-1].unlink()
    return academy


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [1280, 820])
@pytest.mark.parametrize("page", ["lesson", "marks"])
def test_a_page_of_the_desk(desk: OpenDesk, browser: Browser, page: str, width: int, dark: bool) -> None:
    lesson = f"lesson/{CALLUM}/{sheets(desk.academy, CALLUM)[-1].stem}"
    driver = browser.driver
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [scheme]})
    driver.get(desk.home + (lesson if page == "lesson" else f"{lesson}/marks/0"))
    browser.until("document.querySelector('#pictures .taken li, #values li')")
    driver.execute_script("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    driver.execute_script(AXE.read_text(encoding="utf-8"))
    assert driver.execute_async_script(RUN) == []
    driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
