"""The marking page as a person has it before them."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.select import Select
from selenium.webdriver.support.wait import WebDriverWait

Place = tuple[float, float]


class Paper:
    """Opens a page, points, types and reads what it says."""

    def __init__(self, browser: webdriver.Chrome, pages: Mapping[str, Path]) -> None:
        self.browser = browser
        self._pages = pages

    def open(self, name: str) -> None:
        self.browser.get(self._pages[name].as_uri())
        if name in ("top", "followed"):
            self.until("page.stills.length === 1")
        if name == "film":
            self.until(
                "!document.getElementById('film').hidden && document.getElementById('frames').textContent !== '0'"
            )

    def leave(self) -> None:
        """The page would ask before it lets points go that nobody has copied."""
        self.run("page.unsaved = false")

    def until(self, condition: str) -> None:
        WebDriverWait(self.browser, 10, 0.02).until(lambda driver: driver.execute_script(f"return {condition}"))

    def run(self, script: str, *arguments: Any) -> Any:
        return self.browser.execute_script(script, *arguments)

    def __getitem__(self, selector: str) -> WebElement:
        return self.browser.find_element("css selector", selector)

    def add_picture(self, file: Path) -> None:
        count = self.run("return page.stills.length")
        self["#files"].send_keys(str(file))
        self.until(f"page.stills.length === {count + 1}")

    def choose(self, number: int) -> None:
        self[f"#stills li:nth-child({number}) button"].click()

    def pick(self, selector: str, text: str) -> None:
        Select(self[selector]).select_by_visible_text(text)

    def type(self, selector: str, text: str) -> None:
        self.run("arguments[0].closest('details')?.setAttribute('open', '')", self[selector])
        self[selector].clear()
        self[selector].send_keys(text)

    def act(self, word: str) -> None:
        self[f"[data-act={word}]"].click()

    def on_screen(self, place: Place) -> tuple[int, int]:
        """Where a place of the picture is in the window."""
        x, y = self.run(
            """const svg = document.getElementById("picture"); svg.scrollIntoView({block: "center"});
            const p = new DOMPoint(...arguments[0]).matrixTransform(svg.getScreenCTM()); return [p.x, p.y];""",
            list(place),
        )
        return round(x), round(y)

    def click(self, place: Place) -> None:
        chain = ActionChains(self.browser, duration=0)
        chain.w3c_actions.pointer_action.move_to_location(*self.on_screen(place))
        chain.w3c_actions.pointer_action.click()
        chain.perform()

    def drag(self, place: Place, to: Place) -> None:
        chain = ActionChains(self.browser, duration=0)
        pointer = chain.w3c_actions.pointer_action
        start, end = self.on_screen(place), self.on_screen(to)
        pointer.move_to_location(*start)
        pointer.pointer_down()
        for part in (0.3, 0.7, 1.0):
            pointer.move_to_location(*(round(a + (b - a) * part) for a, b in zip(start, end, strict=True)))
        pointer.pointer_up()
        chain.perform()

    def press(self, *keys: str) -> None:
        """Keys on whatever has the focus; one of several signs is a chord, as in Shift and an arrow."""
        chain = ActionChains(self.browser)
        for key in keys:
            *held, last = key
            for modifier in held:
                chain.key_down(modifier)
            chain.send_keys(last)
            for modifier in held:
                chain.key_up(modifier)
        chain.perform()

    @property
    def points(self) -> dict[str, Place]:
        return {name: tuple(place) for name, place in self.run("return still().points").items()}

    @property
    def next_point(self) -> str:
        return str(self.run("return page.current"))

    @property
    def yaml(self) -> str:
        return str(self["#yaml"].get_property("value"))

    @property
    def values(self) -> dict[str, str]:
        """What the page says of each measure, by its name."""
        cells = "[...document.querySelectorAll('#values tr')].map((row) => [...row.children].map((c) => c.textContent))"
        return dict(self.run(f"return {cells}"))

    def assert_kept_to_itself(self) -> None:
        assert [entry["message"] for entry in self.browser.get_log("browser")] == []
        events = [json.loads(entry["message"])["message"] for entry in self.browser.get_log("performance")]
        asked = [e["params"]["request"]["url"] for e in events if e["method"] == "Network.requestWillBeSent"]
        elsewhere = {url for url in asked if not url.startswith(("data:", "blob:"))}
        assert elsewhere <= {path.as_uri() for path in self._pages.values()}
