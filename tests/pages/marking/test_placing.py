"""Points placed by pointer and by keys, and the lines for the sheet that come of it."""

import shutil

import pytest
from click.testing import CliRunner
from selenium.webdriver.common.keys import Keys

from reportgen.cli import main
from reportgen.records.lesson import Lesson
from reportgen.records.told import ToldLesson
from reportgen.saying.wording import amount
from reportgen.sheets.reading import read_sheet
from tests.pages.marking.conftest import SHEET, STILLS, demo_stills, fill_in

DEMO_STILLS = {still.file: still for still in demo_stills()}
TOP = DEMO_STILLS["../stills/2026-11-19-top-fo.png"]


def focus_picture(paper):
    paper.run("document.getElementById('picture').focus({focusVisible: true})")


def near(place, other, by=2.0):
    """Whether two places are one, as far as a screen shows a large picture small."""
    return all(abs(a - b) <= by for a, b in zip(place, other, strict=True))


def test_view_and_checkpoint_come_from_the_name_of_the_file(paper):
    paper.open("top")
    assert paper.run("return [still().view, still().checkpoint]") == ["face-on", "top"]


def test_a_picture_without_such_a_name_waits_for_its_view_and_checkpoint(paper, tmp_path):
    picture = tmp_path / "IMG 0042.png"
    shutil.copy(STILLS / "2026-11-19-top-dtl.png", picture)
    paper.open("empty")
    paper.add_picture(picture)
    paper.click((400, 700))
    assert paper.points == {}
    assert paper.yaml == ""
    paper.pick("#view", "down-the-line")
    paper.pick("#checkpoint", "top")
    paper.click((400, 700))
    assert list(paper.points) == ["stick-near"]
    assert paper.yaml.splitlines()[1] == '  - file: "../stills/IMG 0042.png"'


def test_clicks_set_the_points_of_the_list_one_after_another(paper):
    paper.open("top")
    names = []
    for place in ((560, 1330), (550, 1240), (230, 1250), (730, 1250), (581, 1215)):
        names.append(paper.next_point)
        paper.click(place)
        assert near(paper.points[names[-1]], place)
    assert names == ["stick-near", "stick-far", "scale-from", "scale-to", "lead-ankle"]
    assert paper["[data-point=lead-ankle] .sr"].get_attribute("textContent").startswith(" set at 5")


def test_the_seat_is_a_point_of_the_down_the_line_view_only(paper):
    paper.open("top")
    assert paper.run("return !document.querySelector('[data-point=seat]')")
    paper.pick("#view", "down-the-line")
    assert paper.run("return Boolean(document.querySelector('[data-point=seat]'))")


def test_a_point_that_is_not_for_this_view_is_not_written(paper):
    paper.open("top")
    paper.pick("#view", "down-the-line")
    paper.run("choosePoint('seat', false)")
    paper.click((340, 800))
    assert "seat:" in paper.yaml
    paper.pick("#view", "face-on")
    assert "seat:" not in paper.yaml


def test_keys_alone_move_the_cross_place_a_point_nudge_it_and_go_on(paper):
    paper.open("top")
    focus_picture(paper)
    start = paper.run("return page.cross")
    step = paper.run("return picture.step(false)")
    paper.press(Keys.ARROW_LEFT, Keys.ARROW_UP, Keys.ARROW_UP, Keys.ENTER)
    placed = paper.points["stick-near"]
    assert near(placed, (start[0] - step, start[1] - 2 * step), 0.11)
    paper.press(Keys.ARROW_RIGHT, Keys.SHIFT + Keys.ARROW_DOWN)
    assert near(paper.points["stick-near"], (placed[0] + 1, placed[1] + 10), 0.11)
    paper.press(Keys.ENTER, Keys.ARROW_RIGHT, Keys.ENTER)
    assert near(paper.points["stick-far"], (placed[0] + 1 + step, placed[1] + 10), 0.11)


def test_keys_skip_go_back_and_take_away(paper):
    paper.open("top")
    focus_picture(paper)
    paper.press(Keys.PAGE_DOWN, Keys.ENTER)
    assert list(paper.points) == ["stick-far"]
    paper.press(Keys.PAGE_UP)
    assert paper.next_point == "stick-near"
    paper.press(Keys.PAGE_DOWN, Keys.DELETE)
    assert paper.points == {}


def test_the_picture_grows_about_the_cross_by_keys_and_points_land_finer(paper):
    paper.open("top")
    focus_picture(paper)
    far = paper.run("return picture.step(false)")
    paper.press("+", "+", "+", "+")
    assert paper.run("return picture.step(false)") < far / 3
    paper.press("0")
    assert paper.run("return picture.step(false)") == far


def test_the_wheel_makes_the_picture_larger_about_the_pointer(paper):
    paper.open("top")
    place = paper.on_screen((581, 1215))
    paper.run(
        """const [x, y] = arguments[0]; document.getElementById("picture").dispatchEvent(
        new WheelEvent("wheel", {deltaY: -800, clientX: x, clientY: y, cancelable: true}))""",
        list(place),
    )
    assert near(paper.on_screen((581, 1215)), place, 3)
    paper.click((581, 1215))
    assert near(paper.points["stick-near"], (581, 1215), 0.8)


def test_two_fingers_make_the_picture_larger(paper):
    paper.open("top")
    before = paper.run("return picture.step(false)")
    paper.run(
        """const svg = document.getElementById("picture"), box = svg.getBoundingClientRect();
        svg.setPointerCapture = () => {};
        const at = (type, id, x) => svg.dispatchEvent(new PointerEvent(type, {pointerId: id, pointerType: "touch",
          clientX: box.x + box.width / 2 + x, clientY: box.y + box.height / 2, bubbles: true}));
        at("pointerdown", 1, -20); at("pointerdown", 2, 20); at("pointermove", 1, -80); at("pointermove", 2, 80);
        at("pointerup", 1, -80); at("pointerup", 2, 80);"""
    )
    assert paper.run("return picture.step(false)") <= before / 3
    assert paper.points == {}


def test_a_drag_on_a_point_moves_it_and_one_beside_moves_the_picture(paper):
    paper.open("top")
    paper.click((500, 700))
    paper.drag((500, 700), (560, 760))
    assert near(paper.points["stick-near"], (560, 760), 4)
    paper.act("larger")
    shown = paper.on_screen((700, 900))
    paper.drag((700, 900), (650, 860))
    assert not near(paper.on_screen((700, 900)), shown, 10)
    assert list(paper.points) == ["stick-near"]


def test_undo_and_redo_go_through_every_change(paper):
    paper.open("top")
    paper.click((500, 700))
    paper.click((600, 700))
    paper.drag((600, 700), (600, 800))
    moved = paper.points
    for points in ({"stick-near", "stick-far"}, {"stick-near"}, set()):
        paper.press(Keys.CONTROL + "z")
        assert paper.points.keys() == points
    assert not paper["[data-act=undo]"].is_enabled()
    for _ in range(3):
        paper.press(Keys.CONTROL + "y")
    assert paper.points == moved


SCALE_ENDS = "choosePoint('scale-from', false)"


def test_two_points_and_a_length_make_the_scale(paper):
    paper.open("top")
    paper.run(SCALE_ENDS)
    paper.click((230, 1250))
    paper.click((730, 1250))
    assert "needs its length" in paper["#remarks"].text
    paper.type("#length", "3,5")
    paper.pick("#unit", "ft")
    assert paper["#remarks"].text == ""
    (x1, y1), (x2, y2) = paper.points["scale-from"], paper.points["scale-to"]
    assert paper.yaml.splitlines()[-1] == f"    scale: {{from: [{x1:g}, {y1:g}], to: [{x2:g}, {y2:g}], length: 3.5 ft}}"


def test_a_scale_that_is_the_stick_of_the_other_view_says_so(paper):
    paper.open("top")
    paper.run(SCALE_ENDS)
    paper.click((230, 1250))
    paper.click((730, 1250))
    paper.type("#length", "1.00")
    paper.pick("#scaleIs", "the stick of the other view")
    assert paper.yaml.splitlines()[-1].endswith("length: 1.00 m, is_stick: true}")


def test_the_ends_of_a_stick_are_asked_for_first_and_stand_in_the_sheet(paper, academy):
    paper.open("empty")
    paper.add_picture(STILLS / "2026-11-19-setup-dtl.png")
    assert paper.next_point == "stick-near"
    paper.click((560, 1330))
    paper.click((548, 1180))
    assert "once the distance from camera to player is there" in paper["#remarks"].text
    paper.type("#distance", "4.10")
    assert paper["#remarks"].text == ""
    (x1, y1), (x2, y2) = paper.points["stick-near"], paper.points["stick-far"]
    assert f"    stick: {{from: [{x1:g}, {y1:g}], to: [{x2:g}, {y2:g}]}}" in paper.yaml.splitlines()
    lesson = academy / SHEET
    lesson.write_text(f"student: duarte-pemberlow\ndate: 2026-11-19\nclub: 7-iron\n{paper.yaml}", encoding="utf-8")
    checked = CliRunner().invoke(main, ["check", str(academy)])
    assert checked.exit_code == 0, checked.output


def test_a_stick_that_lies_across_the_picture_is_said_and_not_written(paper):
    paper.open("empty")
    paper.add_picture(STILLS / "2026-11-19-setup-dtl.png")
    paper.click((230, 1250))
    paper.click((730, 1252))
    assert "Mark the one that lies along the target line" in paper["#remarks"].text
    assert "stick:" not in paper.yaml


def test_a_second_picture_of_the_view_borrows_the_stick_and_the_scale(paper):
    paper.open("top")
    for place in ((560, 1330), (550, 1240), (230, 1250), (730, 1250)):
        paper.click(place)
    paper.type("#length", "1.00")
    paper.add_picture(STILLS / "2026-11-19-impact-fo.png")
    paper.choose(2)
    assert not paper.next_point.startswith(("scale", "stick"))
    assert "2026-11-19-top-fo.png counts here too" in paper["#borrowed"].text


def test_pictures_keep_their_points_while_another_one_is_looked_at(paper):
    paper.open("top")
    paper.click((500, 700))
    kept = paper.points
    paper.add_picture(STILLS / "2026-11-19-impact-fo.png")
    paper.choose(2)
    assert paper.points == {}
    paper.choose(1)
    assert paper.points == kept


def test_what_cannot_be_right_is_said(paper):
    paper.open("empty")
    paper.add_picture(STILLS / "2026-11-19-setup-fo.png")
    for name, place in (("lead-hip", (433, 785)), ("trail-hip", (523, 782))):
        paper.run("choosePoint(arguments[0], false)", name)
        paper.click(place)
    assert "are they swapped" in paper["#remarks"].text
    paper.run("document.querySelector('[value=left]').click()")
    assert paper["#remarks"].text == ""


def test_what_happens_is_told_to_those_who_listen(paper):
    paper.open("top")
    assert paper["#told"].get_attribute("role") == "status"
    paper.click((500, 700))
    assert "Next: stick, far end" in paper["#told"].text


@pytest.fixture
def filled(paper):
    """The page with the six demo stills and every point of the demo's sheet, each nudged into its place."""
    paper.open("empty")
    fill_in(paper)
    return paper


def test_the_lines_go_through_check_and_findings_and_say_what_the_page_said(filled, academy):
    lesson = academy / SHEET
    lesson.write_text(f"student: duarte-pemberlow\ndate: 2026-11-19\nclub: 7-iron\n{filled.yaml}", encoding="utf-8")
    checked = CliRunner().invoke(main, ["check", str(academy)])
    assert checked.exit_code == 0, checked.output

    stills = read_sheet(lesson, SHEET, Lesson)[0].record.stills
    assert {still.file: still.marks for still in stills} == {file: still.marks for file, still in DEMO_STILLS.items()}
    assert {still.camera.height.value for still in stills} == {1.1}
    found = CliRunner().invoke(main, ["findings", str(academy), "duarte-pemberlow", "--json", "--language", "en"])
    assert found.exit_code == 0, found.output
    said = {
        finding.name: amount(finding.value, finding.unit, finding.decimals, finding.sign)
        for finding in ToldLesson.model_validate_json(found.stdout).findings
    }
    assert len(said) > 10
    assert filled.values == said


def test_points_set_by_mouse_and_by_keys_stand_in_the_sheet_as_they_were_set(paper, academy):
    paper.open("top")
    paper["#all-metrics"].click()
    paper.run(SCALE_ENDS)
    for place in (TOP.scale.from_, TOP.scale.to):
        paper.click(place)
    paper.type("#length", "1.00")
    while (name := paper.next_point) != "lead-shoulder":
        paper.click(TOP.marks[name])
    focus_picture(paper)
    paper.press(Keys.ENTER, *[Keys.ARROW_UP] * 5, Keys.ENTER, Keys.SHIFT + Keys.ARROW_LEFT, Keys.ARROW_DOWN)
    points = {name: place for name, place in paper.points.items() if not name.startswith("scale")}
    assert "lead-shoulder" in points
    lesson = academy / SHEET
    lesson.write_text(f"student: duarte-pemberlow\ndate: 2026-11-19\nclub: 7-iron\n{paper.yaml}", encoding="utf-8")
    checked = CliRunner().invoke(main, ["check", str(academy)])
    assert checked.exit_code == 0, checked.output
    assert read_sheet(lesson, SHEET, Lesson)[0].record.stills[0].marks == points


def test_values_change_with_the_point_under_the_keys(filled):
    filled.run(
        "choose(page.stills.find((one) => one.file === '2026-11-19-impact-fo.png').id); choosePoint('neck', true)"
    )
    before = filled.values
    filled.press(*[Keys.SHIFT + Keys.ARROW_LEFT] * 2)
    assert filled.values["Side bend at impact"] != before["Side bend at impact"]
    assert filled.values["Hips open at impact"] == before["Hips open at impact"]


def test_the_page_fits_every_window_and_fingers_find_everything(filled):
    too_small = """return [...document.querySelectorAll("button, select, summary, input, .plays label, .file")]
        .filter((one) => one.checkVisibility() && !["radio", "file"].includes(one.type))
        .filter((one) => one.offsetHeight < 44 || one.offsetWidth < 44).map((one) => one.outerHTML)"""
    for width in (360, 820, 1280, 1600):
        size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 600}
        filled.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
        assert filled.run("return document.documentElement.scrollWidth") <= width
        assert filled.run(too_small) == []
    filled.browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_everything_that_takes_the_focus_has_a_name(filled):
    filled.run("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    nodes = filled.browser.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    takes_focus = [
        n for n in nodes if any(p["name"] == "focusable" and p["value"]["value"] for p in n.get("properties", []))
    ]
    unnamed = [
        n["role"]["value"]
        for n in takes_focus
        if n["role"]["value"] != "RootWebArea" and not n.get("name", {}).get("value")
    ]
    assert len(takes_focus) > 40
    assert unnamed == []
