"""Pictures are marked a second time at the desk, unseen, and kept where the academy keeps its second looks."""

from pathlib import Path
from typing import Any

import pytest
import yaml
from selenium.webdriver.support.ui import WebDriverWait

from tests.desk.conftest import DEADLINE, OpenDesk
from tests.desk.marking.page import CALLUM, KEYS, LESSON, Marking, stills
from tests.publishing.small import contents, reportgen


def rounds(academy: Path) -> dict[str, dict[str, Any]]:
    return {file.name: yaml.safe_load(file.read_bytes()) for file in sorted(academy.glob("rounds/*.yaml"))}


@pytest.fixture
def look(academy: Path, desk: OpenDesk, page: Marking) -> dict[str, bytes]:
    """A second look by Ada is open; every file as it was when it was begun."""
    before = contents(academy)
    WebDriverWait(desk, DEADLINE, 0.05).until(lambda desk: desk.ask("POST", "again/begin", "{}")[0] == 200)
    page.driver.get(f"{desk.home}again")
    page.find("#by").send_keys("Ada “Bo”")
    page.find("#begin").click()
    page.until("document.getElementById('which')?.innerText && document.getElementById('picture').dataset.proposals")
    page.looked()
    return before


def test_neither_whose_it_is_nor_an_earlier_mark_is_told(look: dict[str, bytes], page: Marking) -> None:
    source = page.driver.page_source
    assert not [name for name in ("Callum", "Weirbridge", CALLUM, LESSON, "stills/") if name in source]
    assert page.shown("hollow") == page.shown("set") == page.shown("before") == set()
    shown = [name for name in ("#values", "#length", "#view", "#others") if page.find(name).is_displayed()]
    assert shown == []


def test_it_asks_for_the_points_that_the_sheet_has(look: dict[str, bytes], academy: Path, page: Marking) -> None:
    names = page.driver.execute_script(
        "return [...document.querySelectorAll('#points li')].map((one) => one.dataset.name)"
    )
    assert page.find("#where").text == "set-up, face-on"
    (same,) = [one for one in stills(academy) if (one["checkpoint"], one["view"]) == ("setup", "face-on")]
    assert set(names) == same["marks"].keys()


def test_every_point_is_on_disk_and_there_after_a_reload(look: dict[str, bytes], academy: Path, page: Marking) -> None:
    page.click((500, 400))
    page.click((560, 402))
    page.saved()
    ((name, kept),) = rounds(academy).items()
    assert name.endswith("-ada-bo.yaml")
    assert kept["marked_by"] == "Ada “Bo”"
    ((still,),) = [kept["stills"]]
    assert (still["student"], str(still["lesson"])) == (CALLUM, LESSON)
    assert list(still["marks"].values()) == [pytest.approx([500, 400], abs=1), pytest.approx([560, 402], abs=1)]
    page.driver.refresh()
    page.until("document.querySelectorAll('#picture [data-set]').length === 2")


def test_it_changes_nothing_but_the_round_and_check_finds_that_sound(
    look: dict[str, bytes], academy: Path, page: Marking
) -> None:
    page.click((500, 400))
    page.saved()
    after = contents(academy)
    assert {name for name in after if after[name] != look.get(name)} == {f"rounds/{next(iter(rounds(academy)))}"}
    assert reportgen("check", academy).exit_code == 0


def test_a_point_taken_away_is_gone_and_the_last_takes_the_file_along(
    look: dict[str, bytes], academy: Path, page: Marking
) -> None:
    page.click((500, 400))
    page.saved()
    page.keys("\ue017")
    page.until("document.getElementById('saved').innerText === 'Saved' && !document.querySelector('[data-set]')")
    page.driver.get("about:blank")
    assert rounds(academy) == {}


def test_the_same_marker_goes_on_with_a_round_of_today_and_somebody_else_begins_another(
    look: dict[str, bytes], academy: Path, desk: OpenDesk, page: Marking
) -> None:
    page.click((500, 400))
    page.saved()
    (name,) = rounds(academy)
    begun = [desk.ask("POST", "again/begin", f'{{"by": {by}}}')[2] for by in ('"Ada “Bo”"', "null")]
    assert name.removesuffix(".yaml") in begun[0]
    assert "ada" not in begun[1]


def test_a_picture_withdrawn_meanwhile_is_not_marked(
    look: dict[str, bytes], academy: Path, desk: OpenDesk, page: Marking
) -> None:
    student = academy / "students" / CALLUM / "student.yaml"
    text = student.read_text(encoding="utf-8")
    student.write_text(text.replace("2026-09-04}", "2026-09-04, withdrawn_on: 2026-11-20}"), encoding="utf-8")
    page.until(
        "fetch(location.pathname + '/still').then((one) => { window.gone = one.status === 404; }) && window.gone"
    )
    page.click((500, 400))
    page.until("document.getElementById('saved').innerText.includes('Not saved')")
    assert rounds(academy) == {}


def test_keys_alone_go_through_the_pictures(look: dict[str, bytes], academy: Path, page: Marking) -> None:
    page.keys(KEYS["right"], KEYS["enter"], KEYS["page down"])
    page.until("document.getElementById('which').innerText.startsWith('2 ')")
    page.looked()
    page.keys(KEYS["right"], KEYS["enter"])
    page.saved()
    ((_, kept),) = rounds(academy).items()
    assert len(kept["stills"]) == 2
