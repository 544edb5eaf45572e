"""Publish, upload and send with one press each, and what would happen before it does."""

import json
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from reportgen.delivery.entry import Reach
from reportgen.delivery.journal import journal_of, open_journal, read_entries
from reportgen.delivery.rows import MailToSend, note, queue
from reportgen.sealing.privacy import keyring_of
from tests.desk.conftest import Browser, OpenDesk, opened
from tests.publishing.small import (
    BETTINA,
    PETRA,
    areas,
    break_sheet,
    contents,
    reportgen,
    say_in,
    sheets,
    small_academy,
)

WORD = "five words that nobody guesses"


@pytest.fixture(scope="module")
def sealed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenDesk]:
    """The desk of an academy whose pages are sealed; whoever opened it has not given the passphrase."""
    academy = small_academy(tmp_path_factory.mktemp("sealed") / "academy", PETRA, lessons=1)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", WORD)
        assert reportgen("members", "add", academy, PETRA).exit_code == 0
    desk = opened(academy)
    yield desk
    desk.end()


def press(browser: Browser, what: str, dry: bool = False) -> str:
    """Press a button of the page, and what stands there when it is done."""
    for button in browser.driver.find_elements("css selector", "[data-start]"):
        asked = json.loads(button.get_attribute("data-start") or "")
        if asked["what"] == what and asked.get("dry", False) == dry:
            browser.driver.execute_script("document.getElementById('came').removeAttribute('aria-busy')")
            button.click()
            browser.until("document.getElementById('came').getAttribute('aria-busy') === 'false'")
            return browser.find("#came").text
    raise AssertionError(what)


def site_of(desk: OpenDesk) -> Path:
    return desk.academy.with_name("academy-site")


def test_what_would_happen_is_told_and_nothing_is_written(desk: OpenDesk, browser: Browser) -> None:
    browser.driver.get(desk.home + "publishing")
    before = contents(desk.academy.parent)
    assert "2 students to make, 0 unchanged. Nothing was written." in press(browser, "publish", dry=True)
    assert "petra@example.org" in press(browser, "send", dry=True)
    assert contents(desk.academy.parent) == before


def test_one_press_publishes(desk: OpenDesk, browser: Browser) -> None:
    browser.driver.get(desk.home + "publishing")
    assert "2 students made, 0 unchanged." in press(browser, "publish")
    assert len(areas(site_of(desk))) == 2
    assert "0 students made, 2 unchanged." in press(browser, "publish")


def test_problems_are_told_in_their_words_and_others_are_published(desk: OpenDesk, browser: Browser) -> None:
    break_sheet(desk.academy, PETRA)
    browser.driver.get(desk.home + "publishing")
    told = press(browser, "publish")
    assert "1 student made" in told
    assert "no-such-" in told
    assert len(areas(site_of(desk))) == 1


def test_what_is_taken_down_is_told(desk: OpenDesk, browser: Browser) -> None:
    browser.driver.get(desk.home + "publishing")
    press(browser, "publish")
    (desk.academy / "students" / BETTINA).rename(desk.academy.parent / "gone")
    assert "To be taken down: bettina-halloran" in press(browser, "publish", dry=True)
    assert len(areas(site_of(desk))) == 2
    assert "Taken down: bettina-halloran, who is no longer in the academy." in press(browser, "publish")
    assert len(areas(site_of(desk))) == 1


def test_a_mail_is_seen_whole_before_it_goes_and_goes_as_it_was_seen(desk: OpenDesk, browser: Browser) -> None:
    browser.driver.get(desk.home + f"mail/{PETRA}")
    head = browser.find(".head").text
    assert "petra@example.org" in head
    assert "recap-" in head
    browser.until("document.querySelector('iframe.body')")
    status, headers, body = desk.ask("GET", f"mail/{PETRA}/body")
    assert status == 200
    assert "cid:" not in body
    assert {name.lower(): value for name, value in headers.items()}["content-security-policy"].startswith(
        "default-src 'none'"
    )
    browser.find(".main[data-start]").click()
    browser.until("document.getElementById('came')?.innerText.includes('Written into the outbox')")
    (mail,) = (desk.academy.with_name("academy.outbox")).glob("*.eml")
    assert f"Subject: {browser_subject(head)}" in mail.read_text(encoding="utf-8")
    browser.driver.get(desk.home + f"mail/{PETRA}")
    assert "No mail goes now." in browser.find("main").text


def test_a_mail_in_doubt_is_told_and_settled_with_one_press(desk: OpenDesk, browser: Browser) -> None:
    file, reached = journal_of(desk.academy), {"petra@example.org": Reach("unknown", "the line was cut")}
    with open_journal(file) as journal:
        for day in ("2026-01-15", sheets(desk.academy, PETRA)[-1].stem):
            mail = MailToSend(PETRA, day, f"of-{day}", f"<{day}@example.org>", ("petra@example.org",))
            note(journal, queue(journal, mail), reached, "smtp")
    browser.driver.get(desk.home + "publishing")
    assert "the line was cut" in browser.find("#came .doubts").text
    assert "No mail goes now." in desk.ask("GET", f"mail/{PETRA}")[2]
    browser.find("#came .doubts li:first-child button:first-of-type").click()
    browser.until("document.querySelectorAll('#came .doubts li').length === 1")
    browser.find("#came .doubts button:last-of-type").click()
    browser.until("!document.querySelector('#came .doubts')")
    assert [entry.state for entry in read_entries(file)] == ["sent", "queued"]
    assert "No mail goes now." not in desk.ask("GET", f"mail/{PETRA}")[2]
    status, _, said = desk.ask("POST", "publishing/doubt", json.dumps({"mail": 1, "arrived": False}))
    assert status == 422
    assert json.loads(said)["says"] == "There is no doubt about mail 1 any more. Load the page again."
    assert desk.ask("POST", "publishing/doubt", json.dumps({"mail": 7, "arrived": True}))[0] == 422


def browser_subject(head: str) -> str:
    """The line behind the word Subject."""
    return head.splitlines()[1]


def test_an_upload_is_shown_before_it_runs_and_asked_about_once(academy: Path, browser: Browser) -> None:
    kept = academy.parent / "uploaded.txt"
    script = f"import sys, pathlib; pathlib.Path({str(kept)!r}).write_text(sys.argv[1]); print('all there')"
    say_in(academy, f"upload_with: {json.dumps([sys.executable, '-c', script, '{site}'])}")
    desk = opened(academy)
    browser.driver.get(desk.home + "publishing")
    assert "Publish first" in press_refused(browser)
    press(browser, "publish")
    status, _, body = desk.ask("POST", "publishing/start", '{"what": "upload", "seen": ["something", "else"]}')
    assert (status, kept.exists()) == (409, False)
    assert "Read it again" in json.loads(body)["says"]
    assert "Run this command" in browser.find("ol").text
    assert "all there" in press(browser, "upload")
    assert kept.read_text(encoding="utf-8") == str(site_of(desk) / "upload")
    browser.driver.get(desk.home + "publishing")
    assert "Run this command" not in browser.find("ol").text
    desk.end()


def press_refused(browser: Browser) -> str:
    browser.find("li:nth-of-type(2) [data-start]").click()
    browser.until("document.querySelector('#came [role=alert]')")
    return browser.find("#came").text


@pytest.mark.parametrize(("code", "says"), [(0, "Uploaded"), (3, "The command ended with 3")])
def test_what_became_of_an_upload_is_told(academy: Path, browser: Browser, code: int, says: str) -> None:
    (academy.with_name("academy-site") / "upload").mkdir(parents=True)
    say_in(academy, f"upload_with: {json.dumps([sys.executable, '-c', f'raise SystemExit({code})', '{site}'])}")
    desk = opened(academy)
    browser.driver.get(desk.home + "publishing")
    assert says in press(browser, "upload")
    desk.end()


def test_a_command_that_is_not_there_is_told(academy: Path, browser: Browser) -> None:
    (academy.with_name("academy-site") / "upload").mkdir(parents=True)
    say_in(academy, "upload_with: [no-such-program, '{site}']")
    desk = opened(academy)
    browser.driver.get(desk.home + "publishing")
    assert "There is no program no-such-program" in press(browser, "upload")
    desk.end()


def test_publishing_from_the_terminal_uploads_nothing(academy: Path, tmp_path: Path) -> None:
    kept = tmp_path / "uploaded"
    script = f"open({str(kept)!r}, 'w')"
    say_in(academy, f"upload_with: {json.dumps([sys.executable, '-c', script, '{site}'])}")
    assert reportgen("publish", academy, "--to", tmp_path / "site").exit_code == 0
    assert not kept.exists()


def test_sealed_pages_ask_for_the_passphrase_once(sealed: OpenDesk, browser: Browser) -> None:
    browser.driver.get(sealed.home + "publishing")
    assert "passphrase" in press(browser, "publish")
    assert not (site_of(sealed) / "upload" / "s").exists()
    browser.find("#word").send_keys("not the right one\n")
    browser.until("!document.getElementById('unlock-says').hidden")
    assert "passphrase" in browser.find("#unlock-says").text
    browser.find("#word").send_keys(WORD + "\n")
    browser.until("!document.getElementById('unlock')")
    assert "1 student made" in press(browser, "publish")
    assert (areas(site_of(sealed))[0] / "keys.html").is_file()
    browser.driver.get(sealed.home + "publishing")
    assert not browser.driver.find_elements("css selector", "#unlock")


def test_the_passphrase_reaches_no_file_and_no_page(sealed: OpenDesk) -> None:
    assert sealed.ask("POST", "publishing/word", json.dumps({"word": WORD}))[0] == 200
    assert all(WORD.encode() not in data for data in contents(sealed.academy.parent).values())
    assert all(WORD not in sealed.ask("GET", path)[2] for path in ("work", "publishing/now", "", f"mail/{PETRA}"))
    assert keyring_of(sealed.academy).exists()
