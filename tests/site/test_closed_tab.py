"""When the tab is closed nothing of the pages stays on the computer: no key, no word, nothing that opens them again."""

from pathlib import Path
from typing import NamedTuple

import pytest

from reportgen.sealing.keyring import read_keyring
from reportgen.sealing.privacy import keyring_of
from reportgen.sheets.academy_folder import load_academy
from tests.publishing.opening import open_library_from
from tests.publishing.small import MIRO, PETRA
from tests.site.chromium import Chromium
from tests.site.firefox import Firefox
from tests.site.profile import secrets_in, told_in
from tests.site.sealed import MINE, SealedSite
from tests.site.test_sealed_browser import ENTER, LOCKED, Browser, Reader

TEN_PAGES = (
    ("All of this lesson", "all of it"),
    ("PDF", "A document to print"),
    ("Back to the page", "all of it"),
    ("calendar", "Days for your calendar"),
    ("Your pages", "Miro: lesson"),
    ("Progress", "progress"),
    ("Safety", "Miro: "),
    ("Drills", "drills"),
    ("All drills", "Drill library"),
    ("Chair behind you", "Chair behind you"),
)
"""What is clicked, and what is shown then: the recap is among them, a drill, and the library."""


class Visit(NamedTuple):
    """A profile folder after somebody read Miro's pages, closed the tab and ended the browser; how often they were
    asked for the passphrase."""

    profile: Path
    asked: int


def _persons(name: str, profile: Path, *, again: bool = False) -> Browser:
    return Chromium(profile, again=again) if name == "chromium" else Firefox(profile, persons=True)


def _unlocks_by_hand(reader: Reader, member: str) -> None:
    """The passphrase is typed as it stands in the letter, for everybody to see."""
    reader.goes_to(reader.door(member))
    reader.browser.run("document.getElementById('look').click(); document.getElementById('passphrase').focus()")
    reader.browser.presses(reader.sealed.passphrase(member) + ENTER)


@pytest.fixture(scope="module", params=["chromium", "firefox"])
def visit(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory, sealed: SealedSite, on_the_web: str
) -> Visit:
    profile = tmp_path_factory.mktemp("visit") / "profile"
    browser = _persons(request.param, profile)
    try:
        browser.opens_a_tab()
        reader = Reader(browser, on_the_web, sealed)
        _unlocks_by_hand(reader, MIRO)
        reader.title_is("Miro: lesson")
        asked = 1
        for clicked, shown in TEN_PAGES:
            reader.clicks(clicked)
            reader.title_is(shown)
            asked += not browser.run("return document.getElementById('envelope').hidden")
        browser.closes_the_tab()
        browser.ends()
    except BaseException:
        browser.quit()
        raise
    return Visit(profile, asked)


def test_ten_pages_ask_once(visit: Visit) -> None:
    assert visit.asked == 1


def _words(sealed: SealedSite) -> set[str]:
    """Names and ids of students, drills and metrics, days of lessons in each way in which they are written."""
    folder = load_academy(sealed.academy)
    found: set[str] = set()
    for name, one in folder.students.items():
        assert one.student is not None
        found |= {name, one.student.name, one.student.name.split()[-1]}
        for sheet in one.lessons:
            day = sheet.lesson.date
            found |= {sheet.name, f"{day.day} {day:%B} {day.year}", f"{day.day} {day:%B}"}
    drills, metrics = folder.library.drills, folder.library.metrics
    found |= {drill.title for drill in drills.values()} | {name for name in drills if "-" in name}
    return found | {metric.name for metric in metrics.values()} | {name for name in metrics if "-" in name}


def test_no_word_of_the_pages_is_in_the_profile(visit: Visit, sealed: SealedSite) -> None:
    pages = sealed.opened(MIRO)
    shown = b"".join(open_library_from(pages).files("").values()) + b"".join(pages.files("").values())
    words = {word for word in _words(sealed) if word.encode() in shown}
    assert len(words) > 100
    assert told_in(visit.profile, words) == set()


def test_the_address_is_in_the_profile_and_so_the_search_finds_what_is_there(visit: Visit, sealed: SealedSite) -> None:
    assert len(told_in(visit.profile, [sealed.area(MIRO)])) > 1
    assert secrets_in(visit.profile, [sealed.area(MIRO).encode()])


def test_no_key_and_no_passphrase_is_in_the_profile(visit: Visit, sealed: SealedSite) -> None:
    keyring = read_keyring(keyring_of(sealed.academy), MINE)
    member, pages = keyring.members[MIRO], sealed.opened(MIRO)
    secrets = [member.passphrase.encode(), member.passphrase.replace(" ", "").encode()]
    secrets += [member.area, keyring.library, member.wrapping, member.library_wrapping]
    for area in (pages, open_library_from(pages)):
        secrets += [area.subkey(purpose) for purpose in ("pages", "names", "keys", "nonces")]
    assert secrets_in(visit.profile, secrets) == set()


@pytest.mark.parametrize("name", ["chromium", "firefox"])
def test_a_session_that_is_taken_up_again_asks_for_the_passphrase(
    name: str, tmp_path: Path, sealed: SealedSite, on_the_web: str
) -> None:
    before = Reader(_persons(name, tmp_path / "profile"), on_the_web, sealed)
    before.unlocks(PETRA)
    before.title_is("Petra")
    before.browser.ends()
    after = Reader(_persons(name, tmp_path / "profile", again=True), on_the_web, sealed)
    after.browser.goes_to_the_tab_at(after.door(PETRA))
    after.sees(LOCKED)
    assert "Petra" not in after.text
    after.types(sealed.passphrase(PETRA))
    after.title_is("Petra")
    after.browser.quit()


def test_a_closed_tab_that_is_opened_again_asks_for_the_passphrase(
    firefox: Firefox, sealed: SealedSite, on_the_web: str
) -> None:
    reader = Reader(firefox, on_the_web, sealed)
    firefox.get("about:blank")  # an earlier test may have left its own pages in the tab that stays open
    firefox.opens_a_tab()
    reader.unlocks(PETRA)
    reader.title_is("Petra")
    firefox.closes_the_tab()
    firefox.undoes_closing_the_tab()
    firefox.goes_to_the_tab_at(reader.door(PETRA))
    reader.sees(LOCKED)
    assert "Petra" not in reader.text
    firefox.closes_the_tab()
