"""Chromium from Debian's package, driven by selenium, with the same few methods as Firefox."""

import base64
import shutil
from pathlib import Path
from typing import Any

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

FLAGS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--ignore-certificate-errors",
)  # fmt: skip


class Chromium:
    """One browser with one tab."""

    name = "chromium"

    def __init__(self, profile: Path) -> None:
        options = Options()
        options.binary_location = str(shutil.which("chromium"))
        for flag in (*FLAGS, f"--user-data-dir={profile}"):
            options.add_argument(flag)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
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

    def quit(self) -> None:
        self.driver.quit()
