"""The first hour: no academy yet, five questions, and the invented student's page is there."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urljoin

import pytest
import yaml

from tests.desk.conftest import Browser, OpenDesk, opened
from tests.publishing.small import link_only, reportgen, say_in, small_academy


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[OpenDesk]:
    """A desk opened on a folder that is not there."""
    desk = opened(tmp_path / "golf")
    yield desk
    desk.end()


OWN = {
    "name": "Marram Links: Golf",
    "instructor": "Yeva Ostrander",
    "timezone": "Europe/Lisbon",
    "language": "de",
    "units": "imperial",
    "paper": "Letter",
}


def test_five_answers_make_an_academy_and_the_invented_student_is_shown(desk: OpenDesk, browser: Browser) -> None:
    browser.driver.get(desk.home)
    browser.find("[name=name]").send_keys(OWN["name"])
    browser.find("[name=instructor]").send_keys(OWN["instructor"])
    browser.find("[name=timezone]").clear()
    browser.find("[name=timezone]").send_keys("Europe/Lisbon\n")
    browser.until("document.getElementById('form')")
    browser.page_says("Tamsin")
    said = yaml.safe_load((desk.academy / "academy.yaml").read_text(encoding="utf-8"))
    assert (said["name"], said["instructor"]["name"]) == (OWN["name"], OWN["instructor"])
    assert said["timezone"] == "Europe/Lisbon"
    assert len(said["secret"]) >= 20
    assert reportgen("check", desk.academy).exit_code == 0
    browser.driver.get(desk.home)
    assert "Tamsin" in browser.find("#students").text


def test_what_was_typed_stays_when_the_page_changes_its_language(desk: OpenDesk, browser: Browser) -> None:
    browser.driver.get(desk.home)
    browser.find("[name=name]").send_keys("Marram")
    browser.driver.execute_script(
        "const one = document.querySelector('[name=language]'); one.value = 'de';one.dispatchEvent(new Event('change'))"
    )
    browser.until("document.documentElement.lang === 'de'")
    assert browser.find("[name=name]").get_attribute("value") == "Marram"


def test_language_units_and_paper_are_in_academy_yaml(desk: OpenDesk) -> None:
    assert desk.ask("POST", "start", json.dumps(OWN))[0] == 200
    said = yaml.safe_load((desk.academy / "academy.yaml").read_text(encoding="utf-8"))
    assert {key: said[key] for key in ("language", "units", "paper")} == {
        "language": "de", "units": "imperial", "paper": "Letter"
    }  # fmt: skip
    assert reportgen("check", desk.academy).exit_code == 0


@pytest.mark.parametrize(("wrong", "says"), [({"timezone": "Lisbon"}, "Europe/Lisbon"), ({"name": " "}, "name")])
def test_a_wrong_answer_is_told_and_nothing_is_written(desk: OpenDesk, wrong: dict[str, str], says: str) -> None:
    status, _, body = desk.ask("POST", "start", json.dumps({**OWN, **wrong}))
    assert status == 409
    assert says in json.loads(body)["says"]
    assert not desk.academy.exists()


def test_a_folder_of_other_things_keeps_them_and_gets_the_academy_beside_them(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("mine", encoding="utf-8")
    desk = opened(tmp_path)
    assert desk.ask("POST", "start", json.dumps({**OWN, "name": "Ö'Neill & Ça"}))[0] == 200
    desk.end()
    assert (tmp_path / "letter.txt").read_text(encoding="utf-8") == "mine"
    assert (tmp_path / "o-neill-ca" / "academy.yaml").is_file()


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "notes").write_text("", encoding="utf-8")
    done = reportgen("desk", tmp_path / "notes", "--no-browser")
    assert done.exit_code == 2
    assert "is a file" in done.stderr


@pytest.mark.parametrize(("language", "title"), [("en", "How to work with reportgen"), ("de", "reportgen")])
def test_the_guide_is_there_before_there_is_an_academy(desk: OpenDesk, language: str, title: str) -> None:
    status, _, page = desk.ask("GET", f"site/guide/index.html?language={language}")
    assert status == 200
    assert title in page
    assert f'lang="{language}"' in page
    assert desk.ask("GET", "site/assets/style.css")[0] == 200
    assert desk.ask("GET", "site/guide/guide.css")[0] == 200


@pytest.mark.parametrize("line", ["language: de", "language: de\ntheme: no-such-folder"])
def test_the_guide_is_at_the_desk_in_the_academys_language(tmp_path: Path, line: str) -> None:
    desk = opened(say_in(link_only(small_academy(tmp_path / "academy")), line))
    status, _, page = desk.ask("GET", "site/guide/index.html")
    desk.end()
    assert status == 200
    assert 'lang="de"' in page


def test_every_link_of_the_guide_leads_somewhere(desk: OpenDesk) -> None:
    for begun in (False, True):
        if begun:
            desk.ask("POST", "start", json.dumps(OWN))
        for page in ("index.html", "library.html", "publishing.html"):
            for link in set(re.findall(r'href="([^"#:]+)"', desk.ask("GET", f"site/guide/{page}")[2])):
                path = urljoin(f"{desk.base}site/guide/{page}", link)
                status, headers, _ = desk.ask("GET", path)
                if status == 307:
                    status = desk.ask("GET", {name.lower(): value for name, value in headers.items()}["location"])[0]
                assert status == 200, (begun, page, link)


def test_whoever_was_not_told_the_address_begins_nothing(desk: OpenDesk) -> None:
    assert desk.ask("POST", "/start", json.dumps(OWN))[0] == 404
    assert desk.ask("POST", "start", json.dumps(OWN), Origin="https://evil.example")[0] == 403
    assert desk.ask("POST", "start", "{}")[0] == 400
    assert not desk.academy.exists()
