"""The page of marks in a real browser, and the sheet that it writes."""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

from tests.desk.conftest import Browser, OpenDesk

CALLUM, LESSON = "callum-weirbridge", "2026-10-23"
IMPACT = 4
"""The number of the face-on still of impact; the one before it of that view is that of the top."""
AT_TOP = 2
"""The face-on still of the top, in which the model sees that somebody is there."""
FOCUS = ("side-bend-impact", "pelvis-open-impact")
ASKED = ("lead-hip", "trail-hip", "neck")
"""What these metrics need in it; another picture of the view tells where the player stands."""
FILMED = "2026-11-20"
MOMENTS = ("top", "delivery")
TOP, STRUCK, NOBODY = 0, 1, 2
"""Pictures of a rendered swing, and one of nobody. What the sheet calls impact is two pictures earlier."""
FILMED_SHEET = f"""student: {CALLUM}
date: {FILMED}
club: 7-iron
focus: Turn to the top
draft: true
follow: [thorax-closed-top, side-bend-impact]
stills:
  - {{file: ../stills/film-top.jpg, view: face-on, checkpoint: top}}
  - file: ../stills/film-delivery.jpg
    view: face-on
    checkpoint: impact
    scale: {{from: [100, 820], to: [380, 820], length: 1.00 m}}
  - {{file: ../stills/film-nobody.jpg, view: face-on, checkpoint: finish}}
"""


def sheet_of(academy: Path) -> Path:
    return academy / "students" / CALLUM / "lessons" / f"{LESSON}.yaml"


def filmed_sheet_of(academy: Path) -> Path:
    return sheet_of(academy).with_stem(FILMED)


def stills(academy: Path) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = yaml.safe_load(sheet_of(academy).read_text(encoding="utf-8"))["stills"]
    return found


def marks(academy: Path, number: int = IMPACT) -> dict[str, Any]:
    found: dict[str, Any] = stills(academy)[number].get("marks", {})
    return found


def without_marks(academy: Path, number: int = IMPACT) -> dict[str, list[int]]:
    """Take the marks of a still out of its sheet; where they were."""
    truth = marks(academy, number)
    sheet = sheet_of(academy)
    blocks = re.split(r"(?m)^(?=  - file:)", sheet.read_text(encoding="utf-8"))
    blocks[number + 1] = re.sub(r"    marks:\n(      .*\n)+", "", blocks[number + 1])
    sheet.write_text("".join(blocks), encoding="utf-8")
    assert not marks(academy, number)
    return truth


class Marking(Browser):
    """A browser with the page of marks open."""

    def open(self, desk: OpenDesk, number: int = IMPACT, lesson: str = LESSON) -> None:
        self.driver.get(f"{desk.home}lesson/{CALLUM}/{lesson}/marks/{number}")
        self.ready()

    def looked(self) -> None:
        """Wait until what is proposed has appeared, and can have been seen."""
        self.until("document.getElementById('picture').dataset.proposals === 'seen'")

    def ready(self) -> None:
        self.until("document.getElementById('which').innerText && document.querySelector('#values li')")

    def on_screen(self, place: tuple[float, float]) -> dict[str, float]:
        """Where a place of the picture is on the screen, by the browser's own reckoning."""
        script = """const svg = document.getElementById('picture');
            const at = new DOMPoint(...arguments).matrixTransform(svg.getScreenCTM()); return {x: at.x, y: at.y};"""
        found: dict[str, float] = self.driver.execute_script(script, *place)
        return found

    def mouse(self, kind: str, place: tuple[float, float], **more: Any) -> None:
        at = {axis: round(value) for axis, value in self.on_screen(place).items()}
        sent = {"type": kind, "button": "left", "buttons": 0 if kind == "mouseReleased" else 1, "clickCount": 1}
        self.driver.execute_cdp_cmd("Input.dispatchMouseEvent", {**sent, **at, **more})

    def click(self, place: tuple[float, float]) -> None:
        self.mouse("mousePressed", place)
        self.mouse("mouseReleased", place)

    def drag(self, start: tuple[float, float], end: tuple[float, float], *, let_go: bool = True) -> None:
        self.mouse("mousePressed", start)
        for part in (0.5, 1.0):
            self.mouse("mouseMoved", (start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])))
        if let_go:
            self.mouse("mouseReleased", end)

    def touch(self, kind: str, *places: tuple[float, float], right: float = 0.0, **more: Any) -> None:
        """Fingers at places of the picture, so many screen pixels further to the `right`."""
        points = [{"x": at["x"] + right, "y": at["y"]} for at in map(self.on_screen, places)]
        self.driver.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points, **more})

    def keys(self, *keys: str) -> None:
        self.find("#picture").send_keys(*keys)

    def choose(self, field: str, value: str) -> None:
        script = "const [one, to] = arguments; one.value = to; one.dispatchEvent(new Event('change'));"
        self.driver.execute_script(script, self.find(f"#{field}"), value)

    def saved(self) -> None:
        """Wait until the page says that everything is kept."""
        self.until("document.getElementById('saved').innerText === 'Saved'")

    def shown(self, kind: str) -> set[str]:
        """The marks of a kind (`set` or `hollow`) that are drawn."""
        script = """return [...document.querySelectorAll(`#picture [data-${arguments[0]}]`)]
            .map((one) => one.dataset[arguments[0]])"""
        return set(self.driver.execute_script(script, kind))

    def values(self) -> Mapping[str, str]:
        """What the page says of each metric: its value, with its uncertainty."""
        script = """return [...document.querySelectorAll('#values li')]
            .map((one) => [one.dataset.metric, one.querySelector('.value').innerText])"""
        return dict(self.driver.execute_script(script))


KEYS = {
    "enter": "\ue007",
    "left": "\ue012",
    "right": "\ue014",
    "down": "\ue015",
    "page down": "\ue00f",
    "page up": "\ue00e",
    "control": "\ue009",
}


def within(written: Mapping[str, Any], truth: Mapping[str, list[int]], names: tuple[str, ...], px: float) -> bool:
    return all(abs(a - b) <= px for name in names for a, b in zip(written[name]["at"], truth[name], strict=True))


def say_in_sheet(academy: Path, line: str) -> None:
    with sheet_of(academy).open("a", encoding="utf-8") as sheet:
        sheet.write(f"{line}\n")
