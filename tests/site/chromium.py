"""Chromium from Debian's package, driven by selenium, with the same few methods as Firefox."""

import base64
import os
import select
import shutil
from contextlib import suppress
from pathlib import Path
from typing import Any

from selenium import webdriver
from selenium.common import WebDriverException
from selenium.webdriver import ActionChains
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

FLAGS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--ignore-certificate-errors",
)  # fmt: skip


_MIDDLE = "const box = at.getBoundingClientRect(); return [box.left + box.width / 3, box.top + box.height / 2]"

END = 60.0
"""Seconds after which a browser that has not ended never will."""


class Chromium:
    """One browser with one tab, and as many more as are opened. With `again` it takes up the session that it ended."""

    name = "chromium"

    def __init__(self, profile: Path, *, again: bool = False) -> None:
        options = Options()
        options.binary_location = str(shutil.which("chromium"))
        for flag in (*FLAGS, f"--user-data-dir={profile}", *(["--restore-last-session"] if again else [])):
            options.add_argument(flag)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
        self._profile = profile
        self.driver = webdriver.Chrome(options=options, service=Service(str(shutil.which("chromedriver"))))
        self.driver.set_script_timeout(20)

    def get(self, address: str) -> None:
        self.driver.get(address)

    def back(self) -> None:
        self.driver.back()

    def reload(self) -> None:
        self.driver.refresh()

    def run(self, script: str, *values: Any) -> Any:
        """The value of `return ...` in the page."""
        return self.driver.execute_script(script, *values)

    def wait(self, script: str, *values: Any) -> Any:
        """What the page hands to its last argument."""
        return self.driver.execute_async_script(script, *values)

    def size(self, width: int, height: int) -> None:
        size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)

    def complaints(self) -> list[str]:
        """What the console says since it was asked last."""
        return [entry["message"] for entry in self.driver.get_log("browser")]

    def scripts(self, allowed: bool) -> None:
        self.driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": not allowed})

    def printed(self) -> bytes:
        """The page as it is printed, as PDF."""
        made = self.driver.execute_cdp_cmd("Page.printToPDF", {})
        return base64.b64decode(made["data"])

    def presses(self, keys: str) -> None:
        """Somebody types, where the focus is."""
        ActionChains(self.driver).send_keys(keys).perform()

    def clicks_on(self, selector: str) -> None:
        """A click as the mouse makes it."""
        self.driver.find_element("css selector", selector).click()

    def swipes(self, selector: str, across: int) -> None:
        """A finger goes `across` pixels to the right over an element, which is brought into sight."""
        x, y = self.run(
            f"const at = document.querySelector({selector!r}); at.scrollIntoView({{ block: 'center' }});{_MIDDLE}"
        )
        for kind, at in (("touchStart", 0), ("touchMove", across / 2), ("touchMove", across), ("touchEnd", None)):
            points = [] if at is None else [{"x": x + at, "y": y}]
            self.driver.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def enters_the_frame(self) -> None:
        """Scripts run in the page's first frame from now on."""
        self.driver.switch_to.frame(0)

    def opens_a_tab(self) -> None:
        self.driver.switch_to.new_window("tab")

    def closes_the_tab(self) -> None:
        self.driver.close()
        self.driver.switch_to.window(self.driver.window_handles[-1])

    def goes_to_the_tab_at(self, address: str) -> None:
        """One of the tabs shows this address; scripts run there from now on."""
        for tab in self.driver.window_handles:
            self.driver.switch_to.window(tab)
            if self.driver.current_url.startswith(address):
                return
        raise AssertionError(f"no tab shows {address}")

    def ends(self) -> None:
        """The browser is closed as a person closes it, and everything is on the disk."""
        process = int(os.readlink(self._profile / "SingletonLock").rpartition("-")[2])
        ended = os.pidfd_open(process)
        with suppress(WebDriverException):  # it may be gone before it has answered
            self.driver.execute_cdp_cmd("Browser.close", {})
        assert select.select([ended], [], [], END)[0], "Chromium did not end"
        os.close(ended)
        self.quit()

    def quit(self) -> None:
        self.driver.quit()
