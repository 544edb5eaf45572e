"""The marking page of a second look, as a person has it before them."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver

from tests.pages.marking.sheet_of_paper import Paper
from tests.publishing.small import reportgen, small_academy

PLACES = {"lead-hip": [500.0, 400.0], "trail-hip": [560.5, 402.0]}


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    return small_academy(tmp_path / "academy", "duarte-pemberlow", lessons=1)


@pytest.fixture
def paper(browser: webdriver.Chrome, academy: Path) -> Iterator[Paper]:
    """The page of an academy with six stills. Afterwards it has said nothing on the console, and asked nobody."""
    to = academy.parent / "again.html"
    assert reportgen("again", academy, "--by", "Ada “Bo”", "--to", to).exit_code == 0
    for log in ("browser", "performance"):
        browser.get_log(log)
    sheet = Paper(browser, {"again": to})
    sheet.open("again")
    sheet.until("page.stills.length === 6")
    yield sheet
    sheet.leave()
    sheet.assert_kept_to_itself()


def shown(paper: Paper, selector: str) -> bool:
    return paper[selector].is_displayed()


def test_view_moment_and_points_are_given_and_nothing_else_is_asked(paper: Paper) -> None:
    assert paper.run("return page.stills.every((one) => one.view && one.checkpoint)")
    assert paper.run("return pointsOf(still()).needed.length") > 10
    assert not any(shown(paper, name) for name in ("#length", "#view", "#date", "#values", "#further", "#film"))
    assert shown(paper, "#picture")
    assert "A second look at the stills" in paper["h1"].text


def test_no_point_is_set_before_one_sets_it(paper: Paper) -> None:
    assert paper.run("return page.stills.every((one) => !Object.keys(one.points).length)")
    assert paper.yaml == ""


def test_what_it_hands_over_is_read_and_kept(paper: Paper, academy: Path) -> None:
    paper.run(
        "for (const [name, place] of Object.entries(arguments[0])) { choosePoint(name); setPoint(place); }", PLACES
    )
    handed = academy.parent / "second-look.yaml"
    handed.write_text(paper.yaml, encoding="utf-8")
    assert paper.yaml.splitlines()[1] == 'marked_by: "Ada “Bo”"'
    assert reportgen("again", academy, "--read", handed).exit_code == 0
    (kept,) = (academy / "rounds").iterdir()
    assert kept.name.endswith("-ada-bo.yaml")
    assert kept.read_text(encoding="utf-8").splitlines()[-2:] == [
        "      lead-hip: [500, 400]",
        "      trail-hip: [560.5, 402]",
    ]


@pytest.mark.parametrize(("plays", "said"), [("left", 0), ("right", 1)])
def test_each_picture_knows_how_its_player_plays(paper: Paper, plays: str, said: int) -> None:
    """Several players are on one page: what is swapped for one is right for another."""
    paper.run(
        """choose(page.stills.find((one) => one.view === "face-on" && one.checkpoint === "setup").id);
        put({...still(), plays: arguments[0], points: {"lead-hip": [9, 9], "trail-hip": [900, 9]}}, "");""",
        plays,
    )
    assert len(paper["#remarks"].find_elements("css selector", "li")) == said


@pytest.mark.parametrize("width", [360, 820, 1280])
def test_it_fits_every_window(paper: Paper, width: int) -> None:
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 600}
    paper.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    assert paper.run("return document.documentElement.scrollWidth") <= width
    paper.browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
