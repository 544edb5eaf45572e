"""Sealed pages in real browsers, from disk and from a web server: they open for whoever should, and for nobody else."""

import re
import shutil
from collections.abc import Callable, Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from reportgen.sheets.academy_folder import load_academy
from tests.publishing.opening import Opened
from tests.publishing.small import MIRO, PETRA
from tests.site.chromium import Chromium
from tests.site.firefox import Firefox
from tests.site.sealed import GUEST, SealedSite

Browser = Chromium | Firefox

TAB, ENTER = "\ue004", "\ue007"
"""The keys of these names, in the WebDriver standard's table of keys (W3C WebDriver, keyboard actions; from memory)."""

UNTIL = """
const [expression, done] = [arguments[0], arguments[arguments.length - 1]];
const holds = new Function(`return (${expression})`);
const until = Date.now() + 15000;
(function look() {
  if (document.readyState !== "loading" && holds()) done(null);
  else if (Date.now() > until) done(document.body.innerText);
  else setTimeout(look, 10);
})();
"""
SHOWN = "document.getElementById('says').textContent.includes({!r}) && !document.getElementById('open').hidden"
LOCKED = (
    "!document.getElementById('lock').hidden && !document.getElementById('envelope').hidden"
    " && document.getElementById('open').hidden && document.getElementById('open').innerHTML === ''"
)
OUTSIDE = (
    "performance.getEntriesByType('resource').map(entry => entry.name)"
    ".filter(name => !name.startsWith(arguments[0]) && !name.startsWith('blob:'))"
)


class Reader:
    """Somebody in front of a browser."""

    def __init__(self, browser: Browser, site: str, sealed: SealedSite) -> None:
        self.browser, self.site, self.sealed = browser, site, sealed

    def door(self, member: str) -> str:
        return f"{self.site}{'library' if member == GUEST else self.sealed.area(member)}/index.html"

    def goes_to(self, address: str) -> None:
        self.browser.get("about:blank")
        self.browser.get(address)
        self.sees("!document.getElementById('lock').hidden || !document.getElementById('open').hidden")

    def sees(self, expression: str) -> None:
        shown = self.browser.wait(UNTIL, expression)
        assert shown is None, f"{expression}\n{shown}"

    def types(self, passphrase: str) -> None:
        self.browser.run(
            "const field = document.getElementById('passphrase'); field.value = arguments[0];"
            "document.getElementById('lock').requestSubmit()",
            passphrase,
        )

    def route(self, member: str, place: str, anchor: str = "") -> str:
        """The address of a place of the member's door."""
        return f"{self.door(member)}#{self.sealed.opened(member).route(place, anchor)}"

    def unlocks(self, member: str, place: str = "", anchor: str = "") -> None:
        self.goes_to(self.route(member, place, anchor) if place else self.door(member))
        self.types(self.sealed.passphrase(member))

    def clicks(self, words: str) -> None:
        self.browser.run(
            "[...document.querySelectorAll('#open a')].find(a => a.textContent.includes(arguments[0])).click()", words
        )

    def title_is(self, words: str) -> None:
        """A page is shown, and its title is said to those who listen; that of the tab says nothing."""
        self.sees(SHOWN.format(words))

    def waits_no_longer_than(self, milliseconds: int) -> None:
        """A page that waits for a file waits so long at most, until it is left."""
        self.browser.run(
            "const wait = setTimeout; window.setTimeout = (then, ms) => wait(then, Math.min(ms, arguments[0]))",
            milliseconds,
        )

    @property
    def text(self) -> str:
        return str(self.browser.run("return document.body.innerText"))


@pytest.fixture(scope="session", params=["chromium", "firefox"])
def browser(request: pytest.FixtureRequest) -> Browser:
    found: Browser = request.getfixturevalue(request.param)
    return found


@pytest.fixture(params=["chromium from disk", "firefox from the web"])
def reader(request: pytest.FixtureRequest, sealed: SealedSite, on_the_web: str) -> Reader:
    """Each browser and each place once, which is enough where it does not matter to a browser whence a page comes."""
    name, place = request.param.split(" ", 1)
    browser: Browser = request.getfixturevalue(name)
    browser.size(1280, 900)
    return Reader(browser, f"{sealed.upload.as_uri()}/" if place == "from disk" else on_the_web, sealed)


everywhere = pytest.mark.parametrize(
    "reader",
    ["chromium from disk", "chromium from the web", "firefox from disk", "firefox from the web"],
    indirect=True,
)
"""Where it matters whence a page comes: to unlock, to lock, to come back, to keep what was seen, to save a file."""


@everywhere
def test_the_passphrase_opens_the_first_page(reader: Reader) -> None:
    reader.unlocks(PETRA)
    reader.title_is("Petra")
    assert reader.browser.run("return document.getElementById('envelope').hidden")
    assert reader.browser.run("return document.querySelectorAll('#open .chart svg').length") > 0
    assert reader.browser.run("return document.activeElement.tagName") == "H1"
    assert "Petra" in reader.browser.run("return document.getElementById('says').textContent")
    assert reader.browser.run(f"return {OUTSIDE}", reader.site) == []
    assert reader.browser.complaints() == []


@everywhere
def test_one_unlock_holds_from_link_to_link_and_back(reader: Reader) -> None:
    reader.unlocks(MIRO)
    reader.title_is("Miro: lesson")
    reader.clicks("Progress")
    reader.title_is("progress")
    reader.clicks("All drills")
    reader.title_is("Drill library")
    reader.clicks("Chair behind you")
    reader.title_is("Chair behind you")
    reader.browser.back()
    reader.title_is("Drill library")
    reader.browser.back()
    reader.title_is("progress")
    reader.clicks("Latest lesson")
    reader.title_is("Miro: lesson")
    assert reader.browser.complaints() == []


def test_from_the_library_a_student_finds_the_way_back(reader: Reader) -> None:
    reader.unlocks(MIRO, "library/index.html")
    reader.title_is("Drill library")
    reader.clicks("Your pages")
    reader.title_is("Miro: lesson")


def test_a_deep_link_leads_to_its_place(reader: Reader) -> None:
    lesson = _lessons(reader.sealed, PETRA)[-1]
    reader.unlocks(PETRA, f"{lesson}/index.html", "week")
    reader.title_is("all of it")
    assert reader.browser.run("return document.activeElement.id") == "week"
    assert reader.browser.run("return document.getElementById('week').getBoundingClientRect().top") < 900


@everywhere
def test_a_reload_asks_for_the_passphrase_and_leads_to_where_the_reader_was(reader: Reader) -> None:
    lesson = _lessons(reader.sealed, PETRA)[-1]
    reader.unlocks(PETRA, f"{lesson}/index.html")
    reader.title_is("all of it")
    reader.browser.run("scrollTo(0, 400)")
    reader.sees("history.state.y === 400")
    reader.browser.reload()
    reader.sees(LOCKED)
    reader.types(reader.sealed.passphrase(PETRA))
    reader.title_is("all of it")
    assert reader.browser.run("return scrollY") == 400


@everywhere
def test_whoever_goes_to_another_site_and_back_is_asked(reader: Reader, sealed: SealedSite, on_the_web: str) -> None:
    reader.unlocks(PETRA)
    reader.title_is("Petra")
    elsewhere = f"{sealed.upload.as_uri()}/" if reader.site == on_the_web else on_the_web
    reader.browser.get(f"{elsewhere}library/keys.html")
    reader.browser.back()
    reader.sees(LOCKED)
    assert "Petra" not in reader.text
    reader.types(reader.sealed.passphrase(PETRA))
    reader.title_is("Petra")


@everywhere
def test_the_lock_control_leaves_nothing_behind(reader: Reader) -> None:
    reader.unlocks(MIRO, f"{_lessons(reader.sealed, MIRO)[-1]}/index.html")
    reader.title_is("Miro")
    reader.sees("document.images.length > 0 && [...document.images].every(i => i.complete && i.naturalWidth > 0)")
    pictures = reader.browser.run("return [...document.images].map(one => one.src)")
    assert reader.browser.run("return document.querySelectorAll('#open .top .lock').length") == 1
    reader.browser.run("document.querySelector('.lock').click()")
    reader.sees(LOCKED)
    assert "Locked." in reader.text
    assert "Miro" not in reader.browser.run("return document.documentElement.outerHTML")
    assert reader.browser.run("return document.activeElement.id") == "passphrase"
    gone = "const done = arguments[arguments.length - 1]; const picture = new Image();"
    gone += "picture.onload = () => done(false); picture.onerror = () => done(true); picture.src = arguments[0]"
    # Firefox paints a photograph again that it has painted, until the page is loaded anew
    assert isinstance(reader.browser, Firefox) or reader.browser.wait(gone, f"{pictures[0]}#again")
    reader.types(reader.sealed.passphrase(MIRO))
    reader.title_is("Miro")
    reader.browser.complaints()


def test_the_keyboard_locks(reader: Reader) -> None:
    reader.unlocks(PETRA)
    reader.title_is("Petra")
    reader.browser.run("document.querySelector('#open .top li:nth-last-child(2) a').focus()")
    reader.browser.presses(TAB)
    assert reader.browser.run("return document.activeElement.className") == "lock"
    reader.browser.presses(ENTER)
    reader.sees(LOCKED)


def test_after_the_lock_no_script_of_the_page_has_a_key(chromium: Chromium, sealed: SealedSite) -> None:
    reader = Reader(chromium, f"{sealed.upload.as_uri()}/", sealed)
    reader.unlocks(MIRO)
    reader.title_is("Miro")
    keys = "[areas.own, areas.library].filter(Boolean).flatMap(Object.values).filter(one => one instanceof CryptoKey)"
    found = chromium.run(f"return {keys}.map(key => [key.extractable, key.usages])")
    assert len(found) == 7
    assert {usage for _, usages in found for usage in usages} == {"decrypt", "sign", "unwrapKey"}
    assert not any(extractable for extractable, _ in found)
    chromium.run("document.querySelector('.lock').click()")
    assert chromium.run("return Object.keys(areas)") == []


def test_every_kind_of_opened_page_can_be_locked(reader: Reader) -> None:
    lesson = _lessons(reader.sealed, PETRA)[-1]
    reader.unlocks(PETRA)
    places = ("index.html", f"{lesson}/index.html", f"{lesson}/recap.pdf", f"{lesson}/week.ics", "progress.html")
    for place in (*places, "library/index.html", "library/cards.pdf", "safety.html"):
        reader.title_is("")
        reader.browser.run("location.href = arguments[0]", reader.route(PETRA, place))
        reader.sees("document.querySelectorAll('#open .lock').length === 1")
        assert reader.browser.run("return document.querySelector('.lock').checkVisibility()"), place


def test_addresses_and_titles_say_nothing(reader: Reader) -> None:
    reader.unlocks(MIRO)
    title = reader.browser.run("return document.title")
    assert title == "Lanternfold Golf School"
    for words, shown in (("Progress", "progress"), ("All drills", "Drill library"), ("Chair behind", "Chair behind")):
        reader.title_is("")
        reader.clicks(words)
        reader.title_is(shown)
        route = reader.browser.run("return location.hash")
        assert re.fullmatch(r"#[a-z2-7]{16}([a-z2-7]{8})?", route), route
        assert reader.browser.run("return document.title") == title
        assert reader.browser.run("return JSON.stringify(history.state)") == '{"y":0}'


@pytest.mark.parametrize("behind", ["/2026-11-24/index.html", "aaaaaaaaaaaaaaaa", "week", "%E0%A4%A"])
def test_an_address_that_leads_nowhere_leads_to_the_first_page(reader: Reader, behind: str) -> None:
    reader.goes_to(f"{reader.door(MIRO)}#{behind}")
    reader.types(reader.sealed.passphrase(MIRO))
    reader.title_is("Miro: lesson")
    assert reader.browser.run("return location.hash") == ""


def test_a_wrong_passphrase_is_told_and_may_be_tried_again_after_a_while(reader: Reader) -> None:
    reader.goes_to(reader.door(PETRA))
    for passphrase, wait in ((reader.sealed.passphrase(MIRO), "in a second"), ("", "in 2 seconds")):
        reader.types(passphrase or "wrong")
        reader.sees(f"document.getElementById('told').textContent.includes({wait!r})")
        assert "not the passphrase of this page" in reader.text
        assert reader.browser.run("return document.getElementById('unlock').disabled")
        assert reader.browser.run("return document.getElementById('open').innerHTML") == ""
        reader.sees("!document.getElementById('unlock').disabled")
    reader.types(reader.sealed.passphrase(PETRA).upper().replace(" ", "-"))
    reader.title_is("Petra")


def test_a_guest_opens_the_library_at_its_own_door(reader: Reader) -> None:
    reader.unlocks(GUEST)
    reader.title_is("Drill library")
    reader.clicks("Chair behind you")
    reader.title_is("Chair behind you")
    assert reader.browser.complaints() == []


def test_drills_are_found_as_one_types(reader: Reader) -> None:
    reader.unlocks(GUEST)
    reader.title_is("Drill library")
    found = reader.browser.run(
        "const field = document.getElementById('sought'); field.value = 'CHAIR hip';"
        "field.dispatchEvent(new Event('input'));"
        "return [...document.querySelectorAll('[data-mark]')].filter(d => d.offsetParent).map(d => d.innerText)"
    )
    assert 0 < len(found) < 10
    assert any("Chair beside the lead hip" in drill for drill in found)
    assert f"{len(found)} of " in reader.browser.run("return document.getElementById('found').textContent")
    assert not reader.browser.run("return document.getElementById('purposes').offsetParent")


@everywhere
def test_what_is_new_since_the_last_visit_is_known_to_the_browser_alone(reader: Reader) -> None:
    reader.unlocks(GUEST)
    reader.title_is("Drill library")
    new = "return document.querySelectorAll('.pill').length"
    reader.browser.run(
        "const kept = JSON.parse(localStorage.getItem('reportgen library'));"
        "localStorage.setItem('reportgen library', JSON.stringify({...kept, at: 0, seen: kept.seen.slice(3)}))"
    )
    reader.goes_to(reader.door(GUEST))
    reader.types(reader.sealed.passphrase(GUEST))
    reader.title_is("Drill library")
    assert reader.browser.run(new) == 3
    reader.browser.reload()
    reader.sees(LOCKED)
    reader.types(reader.sealed.passphrase(GUEST))
    reader.title_is("Drill library")
    assert reader.browser.run(new) == 3
    kept = reader.browser.run("return localStorage.getItem('reportgen library')")
    reader.browser.run("localStorage.clear()")
    assert "chair" not in kept
    drills = load_academy(reader.sealed.academy).library.drills.values()
    known = {sha256(drill.model_dump_json().encode()).hexdigest()[:12] for drill in drills}
    assert not [mark for mark in known if mark in kept]  # everybody can work these out for what is shipped


@everywhere
def test_a_recap_and_a_calendar_are_handed_over(reader: Reader) -> None:
    lesson = _lessons(reader.sealed, PETRA)[-1]
    whole = reader.sealed.opened(PETRA).files(lesson)
    reader.unlocks(PETRA, f"{lesson}/recap.pdf")
    reader.title_is("A document to print or keep")
    links = "return [...document.querySelectorAll('.as-file a')].map(a => [a.textContent, a.protocol, a.download])"
    assert reader.browser.run(links) == [
        ["Open it in a new tab", "blob:", ""],
        ["Save it", "blob:", f"{lesson}-recap.pdf"],
    ]
    assert f"{-(-len(whole['recap.pdf']) // 1000)} kB" in reader.text
    reader.clicks("Back to the page")
    reader.title_is("all of it")
    reader.clicks("calendar")
    reader.title_is("Days for your calendar")
    assert reader.browser.run(links) == [["Save it", "blob:", f"{lesson}-week.ics"]]


@pytest.mark.parametrize("width", [360, 1280])
def test_it_fits_a_phone_and_a_desk(reader: Reader, width: int) -> None:
    reader.browser.size(width, 800)  # as near as it comes: a window of Firefox is 450 wide at least
    fits = "const page = document.documentElement; return page.scrollWidth <= page.clientWidth"
    reader.goes_to(reader.door(PETRA))
    assert reader.browser.run(fits)
    reader.types("wrong")
    reader.sees("document.getElementById('told').textContent.includes('try again in')")
    assert reader.browser.run(fits)
    reader.sees("!document.getElementById('unlock').disabled")
    reader.types(reader.sealed.passphrase(PETRA))
    reader.title_is("Petra")
    for place in ("index.html", "library/index.html", f"{_lessons(reader.sealed, PETRA)[-1]}/recap.pdf"):
        reader.browser.run(
            "document.getElementById('says').textContent = ''; location.href = arguments[0]", reader.route(PETRA, place)
        )
        reader.title_is("")
        reader.sees("document.getElementById('says').textContent !== ''")
        assert reader.browser.run(fits), place


def _lessons(sealed: SealedSite, student: str) -> list[str]:
    return sorted(sheet.stem for sheet in (sealed.academy / "students" / student / "lessons").glob("*.yaml"))


Harm = Callable[[Path, Path], object]


def _flip(file: Path, other: Path) -> None:
    data = bytearray(file.read_bytes())
    at = data.index(b"<pre hidden>") + 2000
    data[at] = ord("0") if data[at] != ord("0") else ord("1")
    file.write_bytes(data)


def _cut(file: Path, other: Path) -> None:
    text = file.read_text(encoding="utf-8")
    start, end = text.index("<pre hidden>") + 12, text.index("</pre>")
    file.write_text(text[: (start + end) // 2] + text[end:], encoding="utf-8")


def _swap(file: Path, other: Path) -> None:
    shutil.copyfile(other, file)


@pytest.fixture
def harmed(browser: Browser, sealed: SealedSite, tmp_path: Path) -> Iterator[tuple[Reader, Opened]]:
    """A copy of the site on disk, and Petra's area in it."""
    own = SealedSite(sealed.academy, tmp_path / "site")
    shutil.copytree(sealed.upload, own.upload)
    yield Reader(browser, f"{own.upload.as_uri()}/", own), own.opened(PETRA)
    browser.complaints()


@pytest.mark.parametrize("harm", [_flip, _cut, _swap])
def test_a_changed_page_is_refused_whole(harmed: tuple[Reader, Opened], harm: Harm) -> None:
    reader, petra = harmed
    lesson = _lessons(reader.sealed, PETRA)[-1]
    harm(petra.file_of(lesson), petra.file_of("drills"))
    reader.unlocks(PETRA, f"{lesson}/index.html")
    reader.title_is("This page is not shown")
    assert "It does not open with the key of these pages" in reader.text
    assert "Petra" not in reader.text
    reader.clicks("Your first page")
    reader.title_is("Petra: lesson of")  # it lies apart from the lesson
    reader.browser.run("location.href = arguments[0]", reader.route(PETRA, "safety.html"))
    reader.title_is("Petra: ")


@pytest.mark.parametrize("harm", [_flip, _cut, _swap])
def test_a_changed_first_page_is_refused_at_the_door(harmed: tuple[Reader, Opened], harm: Harm) -> None:
    reader, petra = harmed
    harm(petra.file_of(""), petra.file_of("drills"))
    reader.unlocks(PETRA)
    reader.sees("document.getElementById('told').textContent.includes('Someone has changed')")
    assert reader.browser.run("return document.getElementById('open').innerHTML") == ""


def test_a_missing_page_is_told(harmed: tuple[Reader, Opened]) -> None:
    reader, petra = harmed
    petra.file_of("drills").unlink()
    reader.goes_to(reader.route(PETRA, "drills/index.html"))
    reader.waits_no_longer_than(3000)  # Firefox does not tell a page from disk that there is no such file
    reader.types(reader.sealed.passphrase(PETRA))
    reader.title_is("This page is not here")


def test_the_keys_of_another_area_open_nothing(harmed: tuple[Reader, Opened]) -> None:
    reader, petra = harmed
    shutil.copyfile(reader.sealed.upload / reader.sealed.area(MIRO) / "keys.html", petra.folder / "keys.html")
    reader.goes_to(reader.door(PETRA))
    reader.waits_no_longer_than(3000)
    reader.types(reader.sealed.passphrase(MIRO))
    reader.sees("document.getElementById('told').textContent.length > 20")
    assert reader.browser.run("return document.getElementById('open').innerHTML") == ""


def test_unlocking_takes_less_than_one_and_a_half_seconds(chromium: Chromium, sealed: SealedSite) -> None:
    reader = Reader(chromium, f"{sealed.upload.as_uri()}/", sealed)
    taken = []
    for _ in range(3):
        reader.goes_to(reader.door(MIRO))
        start: Any = chromium.run("window.began = performance.now(); return true")
        assert start
        reader.types(sealed.passphrase(MIRO))
        reader.title_is("Miro")
        taken.append(chromium.run("return performance.now() - window.began"))
    assert min(taken) < 1500, taken


def test_a_page_prints_as_it_is_shown(chromium: Chromium, sealed: SealedSite, tmp_path: Path) -> None:
    from tests.site.published import pdf_text, plain

    reader = Reader(chromium, f"{sealed.upload.as_uri()}/", sealed)
    reader.unlocks(PETRA)
    reader.title_is("Petra")
    (tmp_path / "printed.pdf").write_bytes(chromium.printed())
    text = plain(pdf_text(tmp_path / "printed.pdf"))
    assert "Petra, your lesson of" in text
    assert "Lock" not in text
    assert "This page is sealed" not in text


def test_without_scripts_only_the_reason_is_shown(chromium: Chromium, sealed: SealedSite) -> None:
    chromium.get("about:blank")
    chromium.scripts(allowed=False)
    try:
        chromium.get(f"{sealed.upload.as_uri()}/{sealed.area(PETRA)}/index.html")
        words = chromium.driver.find_element("tag name", "body").text
    finally:
        chromium.scripts(allowed=True)
    assert "needs JavaScript" in words
    assert "Your passphrase" not in words


@pytest.mark.parametrize("name", ["recap.pdf", "week.ics"])
def test_a_file_is_saved_byte_for_byte(chromium: Chromium, sealed: SealedSite, tmp_path: Path, name: str) -> None:
    lesson = _lessons(sealed, PETRA)[-1]
    chromium.driver.execute_cdp_cmd(
        "Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(tmp_path), "eventsEnabled": False}
    )
    reader = Reader(chromium, f"{sealed.upload.as_uri()}/", sealed)
    reader.unlocks(PETRA, f"{lesson}/{name}")
    reader.sees("document.querySelector('.as-file')")
    reader.clicks("Save it")
    wanted = sealed.opened(PETRA).files(lesson)[name]
    saved = tmp_path / f"{lesson}-{name}"
    for _ in range(400):
        if saved.exists() and saved.stat().st_size == len(wanted):
            break
        chromium.wait("setTimeout(arguments[0], 20)")
    assert saved.read_bytes() == wanted
