"""Marks are set at the desk with mouse, keys and fingers."""

import json
import re
from pathlib import Path
from time import time
from typing import Any

import pytest
import yaml

from tests.desk.conftest import OpenDesk, opened
from tests.desk.marking.page import (
    ASKED,
    CALLUM,
    FILMED,
    IMPACT,
    KEYS,
    LESSON,
    NOBODY,
    STRUCK,
    Marking,
    filmed_sheet_of,
    marks,
    sheet_of,
    stills,
    within,
    without_marks,
)
from tests.publishing.small import reportgen


def test_the_list_asks_for_what_the_metrics_in_focus_need(desk: OpenDesk, page: Marking) -> None:
    page.open(desk)
    names = page.driver.execute_script(
        "return [...document.querySelectorAll('#points li')].map((one) => one.dataset.name)"
    )
    assert [name for name in names if not name.startswith("scale")] == list(ASKED)
    page.keys("a")
    page.until(f"document.querySelectorAll('#points li').length > {len(names)}")


def test_marks_are_set_within_a_pixel_by_the_mouse_and_stay_after_a_reload(
    academy: Path, desk: OpenDesk, page: Marking
) -> None:
    truth = without_marks(academy)
    page.open(desk)
    for name in ASKED:
        page.click(tuple(truth[name]))
    page.saved()
    written = marks(academy)
    assert set(written) == set(ASKED)
    assert within(written, truth, ASKED, 1.0)
    page.driver.refresh()
    page.ready()
    assert page.shown("set") >= set(ASKED)
    assert marks(academy) == written


def test_values_are_those_of_findings(academy: Path, desk: OpenDesk, page: Marking) -> None:
    page.open(desk)
    page.keys("a")
    page.until("document.querySelectorAll('#values li').length > 9")
    told = json.loads(reportgen("findings", academy, CALLUM, LESSON, "--json").output)
    of_stills = {one["metric"]: one for one in told["findings"] if one["how"] == "still"}
    shown = {metric: re.findall(r"[\d.]+", said) for metric, said in page.values().items() if "u " in said}
    assert set(shown) == set(of_stills)
    for metric, (value, *_, u) in shown.items():
        assert float(value) == pytest.approx(abs(of_stills[metric]["value"]), abs=0.5)
        assert float(u) == pytest.approx(of_stills[metric]["u"], abs=0.05)


def test_a_value_and_its_uncertainty_follow_the_mark_that_is_dragged_before_it_is_let_go(
    academy: Path, desk: OpenDesk, page: Marking
) -> None:
    before = sheet_of(academy).read_bytes()
    page.open(desk)
    value = page.values()["side-bend-impact"]
    page.drag((407, 586), (470, 586), let_go=False)
    page.until(f"document.querySelector('[data-metric=side-bend-impact] .value').innerText !== '{value}'")
    assert page.find("#lens").value_of_css_property("visibility") == "visible"
    assert sheet_of(academy).read_bytes() == before
    page.mouse("mouseReleased", (470, 586))
    page.saved()
    assert marks(academy)["neck"]["at"] == pytest.approx([470, 586], abs=2)


def test_the_arrows_move_a_set_mark_by_a_pixel_and_set_no_other(academy: Path, desk: OpenDesk, page: Marking) -> None:
    without_marks(academy)
    page.open(desk)
    page.looked()
    page.find("#points [data-name=lead-hip] button").click()
    page.click((610, 1190))
    page.saved()
    first = marks(academy)["lead-hip"]["at"]
    page.keys(KEYS["right"], KEYS["right"], KEYS["down"])
    page.until("document.getElementById('saved').innerText === 'Saving'")
    page.saved()
    assert marks(academy) == {"lead-hip": {"at": pytest.approx([first[0] + 2, first[1] + 1]), "by": "hand"}}


class TestOnABarePicture:
    """One of which nothing is proposed."""

    @pytest.fixture
    def bare(self, filmed: Path, desk: OpenDesk, page: Marking) -> Path:
        page.open(desk, NOBODY, FILMED)
        page.looked()
        return filmed_sheet_of(filmed)

    def test_a_mark_is_by_hand(self, bare: Path, page: Marking) -> None:
        page.click((300, 700))
        page.saved()
        assert first_marks(bare)["lead-ankle"]["by"] == "hand"

    def test_the_keyboard_alone_sets_a_mark(self, bare: Path, page: Marking) -> None:
        page.keys(*[KEYS["right"]] * 3, KEYS["enter"], KEYS["right"], KEYS["enter"], KEYS["enter"])
        page.saved()
        assert list(first_marks(bare)) == ["lead-ankle", "trail-ankle"]

    def test_a_finger_sets_a_mark_where_it_lets_go(self, bare: Path, page: Marking) -> None:
        page.touch("touchStart", (300, 700))
        assert page.find("#lens").value_of_css_property("visibility") == "visible"
        page.touch("touchEnd")
        page.saved()
        assert first_marks(bare)["lead-ankle"]["at"] == pytest.approx([300, 700], abs=1)

    def test_a_slow_finger_aims_by_a_quarter_of_its_way(self, bare: Path, page: Marking) -> None:
        start, slid = (300, 700), 40
        a_pixel = page.on_screen((301, 700))["x"] - page.on_screen(start)["x"]
        begun = time()
        page.touch("touchStart", start, timestamp=begun)
        for step in range(1, slid + 1):  # a pixel of the screen each twentieth of a second
            page.touch("touchMove", start, right=step, timestamp=begun + step / 20)
        page.touch("touchEnd", timestamp=begun + 4)
        page.saved()
        across = first_marks(bare)["lead-ankle"]["at"][0] - start[0]
        assert across == pytest.approx(slid / 4 / a_pixel, abs=1)


def first_marks(sheet: Path) -> dict[str, Any]:
    """The marks of the picture of nobody."""
    found: dict[str, Any] = yaml.safe_load(sheet.read_bytes())["stills"][NOBODY].get("marks", {})
    return found


def test_lead_and_trail_of_the_limb_under_the_pointer_change_places(
    academy: Path, desk: OpenDesk, page: Marking
) -> None:
    before = marks(academy)
    page.open(desk)
    page.mouse("mouseMoved", tuple(before["lead-knee"]), buttons=0)
    page.keys("x")
    page.saved()
    after = marks(academy)
    for joint in ("knee", "ankle", "heel", "toe"):
        assert after[f"lead-{joint}"] == before[f"trail-{joint}"]
    assert after["lead-hip"] == before["lead-hip"]


def test_undo_brings_a_mark_back(academy: Path, desk: OpenDesk, page: Marking) -> None:
    before = marks(academy)
    page.open(desk)
    page.drag(tuple(before["neck"]), (470, 500))
    page.until("document.getElementById('saved').innerText === 'Saved'")
    assert marks(academy)["neck"] != before["neck"]
    page.keys(KEYS["control"], "z")
    page.until("document.getElementById('told').innerText.startsWith('Undone')")
    page.driver.refresh()
    page.ready()
    assert marks(academy)["neck"] == before["neck"]


def test_the_scale_is_a_line_with_its_length(academy: Path, desk: OpenDesk, page: Marking) -> None:
    text = sheet_of(academy).read_text(encoding="utf-8")
    scale = "    scale: {from: [230, 1250], to: [730, 1250], length: 1.00 m}\n"
    sheet_of(academy).write_text(text.replace(scale, ""), encoding="utf-8")
    page.open(desk)
    page.find("#points [data-name=scale-from] button").click()
    page.click((230, 1250))
    page.click((730, 1250))
    page.find("#length").send_keys("1.00 m")
    page.saved()
    page.until("document.activeElement.id === 'length'")
    page.driver.refresh()
    page.ready()
    written = stills(academy)[IMPACT]["scale"]
    assert written["length"] == "1.00 m"
    assert written["from"] == pytest.approx([230, 1250], abs=1)


def test_marks_of_the_last_lesson_are_shown_and_are_in_no_sheet(academy: Path, desk: OpenDesk, page: Marking) -> None:
    later = academy / "students" / CALLUM / "lessons" / "2026-11-20.yaml"
    text = sheet_of(academy).read_text(encoding="utf-8").replace(f"date: {LESSON}", "date: 2026-11-20")
    later.write_text(re.sub(r"    marks:\n(      .*\n)+", "", text), encoding="utf-8")
    before = later.read_bytes()
    page.until("true")
    page.driver.get(f"{desk.home}lesson/{CALLUM}/2026-11-20/marks/{IMPACT}")
    page.ready()
    assert page.shown("before") == set(marks(academy))
    assert later.read_bytes() == before


def test_what_was_changed_in_an_editor_is_told_and_not_written_over(
    academy: Path, desk: OpenDesk, page: Marking
) -> None:
    page.open(desk)
    sheet = sheet_of(academy)
    sheet.write_text(
        sheet.read_text(encoding="utf-8").replace("neck: [407, 586]", "neck: [409, 590]"), encoding="utf-8"
    )
    page.drag((407, 586), (470, 586))
    page.until("!document.getElementById('meanwhile').hidden")
    assert marks(academy)["neck"] == [409, 590]
    page.find("#theirs").click()
    page.until("document.getElementById('meanwhile').hidden")
    assert marks(academy)["neck"] == [409, 590]


def test_a_killed_desk_has_every_mark_of_two_seconds_before(academy: Path, page: Marking) -> None:
    without_marks(academy)
    desk = opened(academy)
    page.open(desk)
    page.click((580, 1213))
    page.saved()
    desk.end()
    assert list(marks(academy)) == ["lead-hip"]
    page.click((361, 1208))
    page.until("document.getElementById('saved').innerText.includes('Not saved')")
    assert "trail-hip" in page.shown("set")


@pytest.mark.parametrize(("field", "typed", "kept"), [("fps", "240", 240), ("distance", "4.15 m", "4.15 m")])
def test_what_is_known_of_the_camera_is_typed_beside_the_picture(
    academy: Path, desk: OpenDesk, page: Marking, field: str, typed: str, kept: object
) -> None:
    page.open(desk)
    before = stills(academy)
    page.find(f"#{field}").clear()
    page.find(f"#{field}").send_keys(typed)
    page.until("document.getElementById('saved').innerText === 'Saved'")
    page.driver.get(desk.home)
    still = stills(academy)[IMPACT]
    assert (still["fps"] if field == "fps" else still["camera"]["distance"]) == kept
    assert {**still, "fps": 0, "camera": 0} == {**before[IMPACT], "fps": 0, "camera": 0}


def test_view_and_moment_are_changed_beside_the_picture_and_the_list_follows(
    filmed: Path, desk: OpenDesk, page: Marking
) -> None:
    page.open(desk, STRUCK, FILMED)
    page.choose("checkpoint", "top")
    page.until("document.querySelector('#points [data-name=lead-shoulder]')")
    assert page.find("#where").text == "top, face-on"
    written = filmed_sheet_of(filmed).read_text(encoding="utf-8")
    assert "film-delivery.jpg\n    view: face-on\n    checkpoint: top\n" in written


@pytest.mark.parametrize(("part", "value"), [("view", "behind"), ("checkpoint", None), ("file", "../other.png")])
def test_nothing_else_is_written_there(filmed: Path, desk: OpenDesk, part: str, value: str | None) -> None:
    before = filmed_sheet_of(filmed).read_bytes()
    was = yaml.safe_load(before)["stills"][STRUCK][part]
    sent = {"file": "../stills/film-delivery.jpg", "changes": [[[part], was, value]]}
    status, _, _ = desk.ask("POST", f"lesson/{CALLUM}/{FILMED}/marks/{STRUCK}/keep", json.dumps(sent))
    assert status == 409
    assert filmed_sheet_of(filmed).read_bytes() == before
