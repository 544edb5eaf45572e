"""What is proposed and nobody has confirmed reaches no sheet, no value and no page."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest
import yaml

from tests.desk.conftest import WITHOUT_FILM, OpenDesk, opened
from tests.desk.marking.page import (
    AT_TOP,
    CALLUM,
    FILMED,
    IMPACT,
    KEYS,
    LESSON,
    NOBODY,
    STRUCK,
    TOP,
    Marking,
    filmed_sheet_of,
    marks,
    sheet_of,
    without_marks,
)
from tests.publishing.small import ROOT, reportgen

ALL_METRICS = "a"
"""The key that asks for the points of all metrics."""


class Begun(NamedTuple):
    """A lesson, and what its sheet says while everything on the picture that is open is only proposed."""

    lesson: str
    number: int
    sheet: Path
    written: bytes

    @property
    def marks(self) -> dict[str, Any]:
        found: dict[str, Any] = yaml.safe_load(self.sheet.read_bytes())["stills"][self.number].get("marks", {})
        return found

    def untouched(self, page: Marking) -> bool:
        """Whether the sheet is as it was, after the page was left and opened again."""
        page.driver.refresh()
        page.ready()
        return self.sheet.read_bytes() == self.written


class TestAProposalCountsForNothing:
    """The model has looked at a picture on which nothing is marked."""

    @pytest.fixture
    def begun(self, filmed: Path, desk: OpenDesk, page: Marking) -> Begun:
        page.open(desk, STRUCK, FILMED)
        page.looked()
        assert page.shown("hollow") > {"lead-ankle", "trail-ankle", "neck"}
        assert not page.shown("set") - {"scale-from", "scale-to"}
        sheet = filmed_sheet_of(filmed)
        return Begun(FILMED, STRUCK, sheet, sheet.read_bytes())

    def test_it_gives_no_value(self, begun: Begun, page: Marking) -> None:
        assert set(page.values().values()) == {"–"}

    def test_it_is_in_no_sheet_after_a_reload(self, begun: Begun, page: Marking) -> None:
        assert begun.untouched(page)

    def test_the_next_picture_and_back_confirm_nothing(self, begun: Begun, page: Marking) -> None:
        page.keys(KEYS["page down"])
        page.until(f"document.getElementById('which').innerText.startsWith('{begun.number + 2}')")
        page.keys(KEYS["page up"])
        page.until(f"document.getElementById('which').innerText.startsWith('{begun.number + 1}')")
        assert begun.untouched(page)

    def test_closing_confirms_nothing(self, begun: Begun, desk: OpenDesk, page: Marking) -> None:
        page.driver.get(desk.home)
        page.until("document.getElementById('students')")
        assert begun.sheet.read_bytes() == begun.written

    def test_ready_confirms_nothing(self, begun: Begun, filmed: Path, desk: OpenDesk, page: Marking) -> None:
        status, _, _ = desk.ask("POST", f"lesson/{CALLUM}/{begun.lesson}/ready", "")
        assert status == 200
        assert b"draft" not in begun.sheet.read_bytes()
        assert not begun.marks
        told = json.loads(reportgen("findings", filmed, CALLUM, begun.lesson, "--json").output)
        assert not [one for one in told["findings"] if one["how"] == "still" and one["metric"] == "side-bend-impact"]

    def test_keys_that_are_not_enter_confirm_nothing(self, begun: Begun, page: Marking) -> None:
        page.keys("n", "n", "x", "b", "l", "a", "a", "0", "+", "-")
        assert begun.untouched(page)

    def test_undo_and_redo_confirm_nothing(self, begun: Begun, page: Marking) -> None:
        page.keys(KEYS["enter"])
        page.saved()
        page.keys(KEYS["control"], "z")
        page.until("document.getElementById('told').innerText.startsWith('Undone')")
        page.until("!document.querySelector('#picture [data-set=lead-ankle]')")
        page.saved()
        assert begun.untouched(page) or not begun.marks

    def test_a_kept_mark_beside_it_takes_none_along(self, begun: Begun, page: Marking) -> None:
        page.keys(KEYS["enter"])
        page.saved()
        assert list(begun.marks) == ["lead-ankle"]

    def test_enter_held_down_confirms_one(self, begun: Begun, page: Marking) -> None:
        page.keys("")
        for repeat in (False, True, True, True):
            held = {"type": "keyDown", "key": "Enter", "code": "Enter", "windowsVirtualKeyCode": 13}
            page.driver.execute_cdp_cmd("Input.dispatchKeyEvent", {**held, "autoRepeat": repeat})
        page.saved()
        assert list(begun.marks) == ["lead-ankle"]

    def test_a_touch_that_a_second_finger_breaks_off_sets_none(self, begun: Begun, page: Marking) -> None:
        page.touch("touchStart", (200, 300))
        page.touch("touchStart", (200, 300), (300, 500))
        page.touch("touchEnd")
        assert begun.untouched(page)


def test_a_mark_that_the_picture_before_lends_counts_for_nothing_either(
    academy: Path, desk: OpenDesk, page: Marking
) -> None:
    without_marks(academy)
    page.open(desk)
    page.looked()
    page.keys(ALL_METRICS)
    assert "ball" in page.shown("hollow")
    assert set(page.values().values()) == {"–"}
    page.keys("n", "x", "b")
    assert Begun(LESSON, IMPACT, sheet_of(academy), sheet_of(academy).read_bytes()).untouched(page)
    assert not marks(academy)


def proposed(desk: OpenDesk, number: int, lesson: str = FILMED) -> dict[str, Any]:
    """What the desk tells the page."""
    status, _, said = desk.ask("GET", f"lesson/{CALLUM}/{lesson}/marks/{number}/proposed")
    assert status == 200
    told: dict[str, Any] = json.loads(said)
    return told


def test_what_the_model_tells_is_near_the_truth(filmed: Path, desk: OpenDesk) -> None:
    told, truth = proposed(desk, STRUCK), rendered("delivery")
    assert len(told["marks"]) >= 5
    off = [np.hypot(*np.subtract(at, truth[mark])) / 280.0 for mark, at in told["marks"].items()]
    assert np.median(off) < 0.03
    assert "ball" not in told["marks"]


def rendered(moment: str) -> dict[str, tuple[float, float]]:
    """Where the points are in a picture of the rendered swing, which is 480 pixels wide and shown mirrored."""
    told = json.loads((ROOT / "tests" / "films" / "swing.json").read_text(encoding="utf-8"))["films"]["face-on"]
    return {mark: (479 - x, y) for mark, (x, y) in told["marks"][moment].items()}


def test_confirmed_by_enter_it_is_in_the_sheet_as_confirmed(filmed: Path, desk: OpenDesk, page: Marking) -> None:
    page.open(desk, STRUCK, FILMED)
    page.looked()
    page.keys(KEYS["enter"])
    page.saved()
    at = proposed(desk, STRUCK)["marks"]["lead-ankle"]
    assert Begun(FILMED, STRUCK, filmed_sheet_of(filmed), b"").marks == {"lead-ankle": {"at": at, "by": "confirmed"}}


class TestAPlaceToStartFrom:
    """Hips at impact are proposed wrong to one side: they must be moved."""

    @pytest.fixture
    def hip(self, filmed: Path, desk: OpenDesk, page: Marking) -> Begun:
        """The lead hip is what comes next."""
        page.open(desk, STRUCK, FILMED)
        page.looked()
        page.find("#points [data-name=lead-hip] button").click()
        sheet = filmed_sheet_of(filmed)
        return Begun(FILMED, STRUCK, sheet, sheet.read_bytes())

    def test_it_looks_otherwise_and_says_so_in_words(self, hip: Begun, page: Marking) -> None:
        assert "start" in str(page.find("#picture [data-hollow=lead-hip]").get_attribute("class"))
        assert page.find("#told").text.startswith("Only a place to start from: lead hip")
        assert "a place to start from" in str(page.find("#points [data-name=lead-hip]").get_attribute("textContent"))

    def test_enter_does_not_confirm_it(self, hip: Begun, page: Marking) -> None:
        page.keys(KEYS["enter"], KEYS["enter"])
        assert hip.untouched(page)

    def test_moved_it_counts_and_enter_goes_on(self, hip: Begun, desk: OpenDesk, page: Marking) -> None:
        x, y = proposed(desk, STRUCK)["start_only"]["lead-hip"]
        page.keys(KEYS["right"], KEYS["enter"])
        page.saved()
        assert hip.marks == {"lead-hip": {"at": pytest.approx([x + 1, y]), "by": "confirmed"}}
        assert "lead hip" not in page.find("#told").text


@pytest.mark.parametrize(
    ("number", "limb"), [(TOP, "shoulder"), (STRUCK, "hip")], ids=["shoulders at the top", "hips at impact"]
)
def test_they_are_never_more_than_a_place_to_start(filmed: Path, desk: OpenDesk, number: int, limb: str) -> None:
    told = proposed(desk, number)
    assert {f"lead-{limb}", f"trail-{limb}"} & told["start_only"].keys()
    assert not {f"lead-{limb}", f"trail-{limb}"} & told["marks"].keys()


def test_a_mark_of_another_moment_is_a_place_to_start_where_it_can_have_moved(academy: Path, desk: OpenDesk) -> None:
    without_marks(academy, AT_TOP)
    told = proposed(desk, AT_TOP, LESSON)
    assert "ball" in told["marks"]
    assert "lead-wrist" in told["start_only"]
    assert told["marks"].keys().isdisjoint(told["start_only"])


def test_a_picture_of_nobody_gets_no_proposal(filmed: Path, desk: OpenDesk, page: Marking) -> None:
    text = filmed_sheet_of(filmed).read_text(encoding="utf-8")
    marked = "length: 1.00 m}\n    marks: {lead-ankle: [200, 700], neck: [220, 350]}\n"
    filmed_sheet_of(filmed).write_text(text.replace("length: 1.00 m}\n", marked), encoding="utf-8")
    assert proposed(desk, NOBODY) == {"marks": {}, "start_only": {}, "lacks": None}
    page.open(desk, NOBODY, FILMED)
    page.looked()
    assert not page.shown("hollow")


def test_lead_and_trail_of_proposed_marks_change_places(filmed: Path, desk: OpenDesk, page: Marking) -> None:
    page.open(desk, STRUCK, FILMED)
    page.looked()
    page.keys("x", KEYS["enter"])
    page.saved()
    at = proposed(desk, STRUCK)["marks"]["trail-ankle"]
    assert Begun(FILMED, STRUCK, filmed_sheet_of(filmed), b"").marks == {"lead-ankle": {"at": at, "by": "confirmed"}}


def test_what_is_not_confirmed_is_counted_and_listed(filmed: Path, desk: OpenDesk, page: Marking) -> None:
    page.open(desk, STRUCK, FILMED)
    page.looked()
    listed = "[...document.querySelectorAll('#points [data-state=proposed], #points [data-state=start]')].length"
    before = page.driver.execute_script(f"return {listed}")
    assert page.find("#unconfirmed").text == f"Not yet confirmed: {before}"
    page.keys(KEYS["enter"])
    page.until(f"document.getElementById('unconfirmed').innerText.endsWith(' {before - 1}')")
    assert page.driver.execute_script(f"return {listed}") == before - 1


class TestWithoutTheExtra:
    """The libraries of the extra `film` are not installed."""

    @pytest.fixture
    def bare(self, filmed: Path) -> Iterator[OpenDesk]:
        desk = opened(filmed, *WITHOUT_FILM)
        yield desk
        desk.end()

    def test_the_page_says_once_what_would_be_there_and_marks_are_carried_on(
        self, bare: OpenDesk, filmed: Path, page: Marking
    ) -> None:
        without_marks(filmed)
        page.open(bare)
        page.looked()
        assert page.find("#lacks").text.endswith("pip install 'reportgen[film]'")
        page.keys(ALL_METRICS)
        assert "lead-ankle" in page.shown("hollow")
        page.keys(KEYS["enter"])
        page.saved()
        assert list(marks(filmed)) == ["trail-heel"]
