"""Somebody types at the desk, and the desk, the browser or both are killed at a moment of chance."""

import os
import random
import shutil
import signal
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from threading import Event, Timer
from time import monotonic
from typing import Literal

import yaml
from selenium import webdriver
from selenium.common.exceptions import WebDriverException
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

from tests.desk.conftest import Browser, opened
from tests.publishing.small import sheets

Killed = Literal["desk", "browser", "both"]
WORDS = ("heel ", "hips ", "slow, ", "then the arms. ", "Well done! ", "\n\nNext: ", "7-iron ", "20 swings ", "“so” ")

A_WORD = 0.2
"""Seconds for a word: twice as fast as anybody types on and on. Nothing between the keys would leave a browser no time
for anything else."""


@dataclass(frozen=True)
class Moment:
    """What came of one kill: what had been typed in all, the notes on disk, and how old in seconds the oldest word is
    that is lost; the sheet was `whole` if it could be read and had its other lines."""

    killed: Killed
    typed: str
    kept: str
    age: float
    whole: bool


def moments(academy: Path, student: str, seed: int, count: int) -> Sequence[Moment]:
    """So many kills, one after the other, all in the same draft."""
    chance = random.Random(seed)
    return [_one(academy, student, chance, ("desk", "browser", "both")[number % 3]) for number in range(count)]


def _one(academy: Path, student: str, chance: random.Random, killed: Killed) -> Moment:
    desk, profile = opened(academy, "-m", "reportgen"), tempfile.mkdtemp(prefix="killed-")
    driver = _browser(profile)
    over, words, at = Event(), [""], [monotonic()]
    try:
        browser = Browser(driver)
        browser.driver.get(desk.home)
        browser.find(f"[data-begin='{student}']").click()
        browser.until("document.getElementById('form')")
        sheet = sheets(academy, student)[-1]
        before = _read(sheet)
        letter = browser.find("#letter textarea")
        words[0] = letter.get_attribute("value") or ""

        def kill() -> None:
            at[0] = monotonic()
            if killed != "browser":
                desk.process.kill()
            if killed != "desk":
                _kill_browser(driver)
            over.set()

        timer = Timer(chance.uniform(0.2, 6.0), kill)
        timer.start()
        times = [monotonic()]
        while not over.wait(A_WORD):
            try:
                letter.send_keys(word := chance.choice(WORDS))
            except (WebDriverException, OSError):
                break
            words.append(words[-1] + word)
            times.append(monotonic())
        timer.join()
    finally:
        desk.end()
        _end(driver)
        shutil.rmtree(profile, ignore_errors=True)
    after = _read(sheet)
    kept = after.get("notes") or ""
    lost = next((when for text, when in zip(words, times, strict=True) if not _holds(kept, text)), at[0])
    same = {key: value for key, value in after.items() if key != "notes"}
    whole = same == {key: value for key, value in before.items() if key != "notes"}
    return Moment(killed, words[-1], kept, max(0.0, at[0] - lost), whole)


def _holds(kept: str, typed: str) -> bool:
    """Whether the notes begin with what was typed; how many empty signs end a line is nobody's loss."""
    return " ".join(kept.split()).startswith(" ".join(typed.split()))


def _read(sheet: Path) -> dict[str, object]:
    return dict(yaml.safe_load(sheet.read_text(encoding="utf-8")))


def _browser(profile: str) -> webdriver.Chrome:
    options = Options()
    options.binary_location = str(shutil.which("chromium"))
    for flag in ("--headless=new", "--no-sandbox", "--disable-gpu", f"--user-data-dir={profile}"):
        options.add_argument(flag)
    return webdriver.Chrome(options=options, service=Service(str(shutil.which("chromedriver"))))


def _kill_browser(driver: webdriver.Chrome) -> None:
    """Kill the browser as a power cut would: what it would still send when it closes is not sent."""
    parent = driver.service.process.pid
    for child in Path(f"/proc/{parent}/task/{parent}/children").read_text(encoding="ascii").split():
        os.kill(int(child), signal.SIGKILL)


def _end(driver: webdriver.Chrome) -> None:
    try:
        driver.quit()
    except (WebDriverException, OSError):
        driver.service.stop()
