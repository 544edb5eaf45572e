"""axe-core finds nothing on the pages of the desk, in the light and in the dark scheme, wide and narrow."""

from collections.abc import Iterator

import pytest

from tests.access.test_axe import AXE, RUN
from tests.desk.conftest import Browser, OpenDesk, opened
from tests.publishing.small import link_only, sheets, small_academy

CALLUM = "callum-weirbridge"


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenDesk]:
    """Callum with the lesson that has pictures last."""
    academy = link_only(small_academy(tmp_path_factory.mktemp("access") / "academy", CALLUM))
    sheets(academy, CALLUM)[-1].unlink()
    desk = opened(academy)
    yield desk
    desk.end()


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [1280, 820])
@pytest.mark.parametrize("page", ["lesson", "marks", "again", "second look"])
def test_a_page_of_the_desk(desk: OpenDesk, browser: Browser, page: str, width: int, dark: bool) -> None:
    lesson = f"lesson/{CALLUM}/{sheets(desk.academy, CALLUM)[-1].stem}"
    driver = browser.driver
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [scheme]})
    second = "again/2026-12-01/marks/0"
    driver.get(desk.home + {"lesson": lesson, "marks": f"{lesson}/marks/0", "second look": second}.get(page, page))
    browser.until("document.querySelector('#pictures .taken li, #points li, #begin')")
    driver.execute_script("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    driver.execute_script(AXE.read_text(encoding="utf-8"))
    assert driver.execute_async_script(RUN) == []
    driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
