"""The published demo in a browser, from the file system: it fits a phone and a desk, asks for nothing, says nothing."""

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

from tests.site.published import Site

FLAGS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
PAGES = (
    "home", "lesson", "progress", "drills", "drill", "safety", "stopped home", "stopped lesson", "library",
    "library drill", "desk",
)  # fmt: skip


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    options = Options()
    options.binary_location = str(shutil.which("chromium"))
    for flag in (*FLAGS, f"--user-data-dir={tmp_path_factory.mktemp('browser')}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(str(shutil.which("chromedriver"))))
    yield driver
    driver.quit()


def _file(site: Site, page: str) -> Path:
    student = site.areas["duarte-pemberlow"]
    stopped = site.areas["bettina-halloran"]
    library = site.folder / "upload" / "library"
    return {
        "home": student / "index.html",
        "lesson": student / "2026-11-19" / "index.html",
        "progress": student / "progress.html",
        "drills": student / "drills" / "index.html",
        "drill": next(p for p in sorted((student / "drills").glob("*.html")) if p.name != "index.html"),
        "safety": student / "safety.html",
        "stopped home": stopped / "index.html",
        "stopped lesson": stopped / "2026-11-18" / "index.html",
        "library": library / "index.html",
        "library drill": library / "chair-behind-the-seat.html",
        "desk": site.folder / "desk" / "index.html",
    }[page]


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("page", PAGES)
def test_a_page_fits_and_keeps_to_itself(browser: webdriver.Chrome, site: Site, page: str, width: int) -> None:
    size = {"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": width < 600}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    browser.get_log("performance")
    browser.get(_file(site, page).as_uri())
    browser.execute_async_script("document.fonts.ready.then(arguments[0])")

    scroll, seen = browser.execute_script(
        "const page = document.documentElement; return [page.scrollWidth, page.clientWidth]"
    )
    assert scroll <= seen
    assert browser.get_log("browser") == []
    unseen = "return [...document.images].filter(i => !i.complete || i.naturalWidth === 0).map(i => i.src)"
    assert browser.execute_script(unseen) == []
    assert "Text" in browser.execute_script("return [...document.fonts].map(f => f.status === 'loaded' && f.family)")
    events = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    assert [event["params"] for event in events if event["method"] == "Network.loadingFailed"] == []
    assert [url for url in _asked_for(events) if not url.startswith(("file://", "data:"))] == []


def _asked_for(events: list[dict[str, Any]]) -> list[str]:
    asked = [e["params"]["request"]["url"] for e in events if e["method"] == "Network.requestWillBeSent"]
    assert asked
    return asked
