"""Keys alone, as whoever has no mouse goes through a page."""

from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from tests.desk.conftest import Browser

MOST_TABS = 120


def keys(browser: Browser, *typed: str) -> None:
    ActionChains(browser.driver, duration=0).send_keys(*typed).perform()


def tab_to(browser: Browser, selector: str) -> None:
    """Press Tab until what the selector names has the focus."""
    for _ in range(MOST_TABS):
        if browser.driver.execute_script("return document.activeElement.matches(arguments[0])", selector):
            return
        keys(browser, Keys.TAB)
    raise AssertionError(f"no Tab leads to {selector}")
