"""A swing to step through: by mouse, keys and touch, in the open from disk and sealed; and nothing moves unasked."""

from collections.abc import Iterator

import pytest

from tests.site.chromium import Chromium
from tests.site.firefox import Firefox
from tests.site.published import Site
from tests.site.sealed import SealedSite
from tests.site.test_sealed_browser import Reader

Browser = Chromium | Firefox

DUARTE, LESSON = "duarte-pemberlow", "2026-11-19"
SHOWN = "[...document.querySelectorAll('.live .side:not([hidden])')]"
FRAMES = f"return {SHOWN}.map(side => +side.dataset.frame)"
HERE = f"return {SHOWN}.map(side => side.querySelector('.here .at')?.textContent.trim().split(/\\s+/)[0])"
STILL = """
const done = arguments[arguments.length - 1];
const frames = () => document.querySelector('.side:not([hidden])').dataset.frame;
const before = frames();
let left = 45;
(function look() {
  if (frames() !== before || !left--) done(frames() === before ? 'still' : 'moved');
  else requestAnimationFrame(look);
})();
"""
MOVES = """
const done = arguments[arguments.length - 1], before = document.querySelector('.side:not([hidden])').dataset.frame;
new MutationObserver(() => done(before !== document.querySelector('.side:not([hidden])').dataset.frame))
  .observe(document.querySelector('.side:not([hidden])'), { attributeFilter: ['data-frame'] });
"""
RIGHT, HOME, ESCAPE = "\ue014", "\ue011", "\ue00c"
"""The keys of these names, in the WebDriver standard's table of keys (W3C WebDriver, keyboard actions; from memory)."""


@pytest.fixture(scope="module", params=["chromium", "firefox"])
def open_browser(request: pytest.FixtureRequest) -> Browser:
    found: Browser = request.getfixturevalue(request.param)
    return found


@pytest.fixture
def browser(open_browser: Browser, site: Site) -> Iterator[Browser]:
    """A phone with the page from disk."""
    open_browser.size(500, 900)
    open_browser.get((site.areas[DUARTE] / LESSON / "index.html").as_uri())
    yield open_browser
    open_browser.size(1280, 900)


def test_it_opens_at_what_is_worked_on(browser: Browser) -> None:
    assert browser.run(HERE) == ["Impact", "Impact"]


def test_a_press_on_a_checkpoint_brings_both_there(browser: Browser) -> None:
    for place in range(1, 8):
        browser.clicks_on(f".jumps li:nth-child({place}) button")
        first, second = browser.run(HERE)
        assert first == second is not None


@pytest.mark.parametrize("pair", [1, 2, 3])
def test_at_every_frame_both_are_in_one_part_of_the_swing(browser: Browser, pair: int) -> None:
    browser.clicks_on(f".pairs label:nth-of-type({pair}) input")
    apart = browser.run(
        "const slider = document.querySelector('.slider'), found = [];"
        "for (let at = 0; at <= +slider.max; at++) {"
        "  slider.value = at; slider.dispatchEvent(new Event('input'));"
        f"  const [a, b] = {SHOWN}.map(side => JSON.parse(side.dataset.swing).parts[+side.dataset.frame]);"
        "  found.push(Math.abs(a - b)); }"
        "return found"
    )
    assert len(apart) == 24
    assert max(apart) < 0.25


def test_keys_step_and_the_slider_says_where(browser: Browser) -> None:
    browser.run("document.querySelector('.slider').focus()")
    browser.presses(HOME)
    assert browser.run(FRAMES) == [0, 0]
    browser.presses(RIGHT * 3)
    assert browser.run(FRAMES) == [3, 3]
    assert browser.run("return document.querySelector('.slider').getAttribute('aria-valuetext')") == (
        "Between set-up and takeaway"
    )
    browser.run("document.querySelector('.jumps button').focus()")
    browser.presses(RIGHT)
    assert browser.run(FRAMES) == [4, 4]


def test_a_finger_takes_it_along(browser: Browser) -> None:
    browser.clicks_on(".jumps li:first-child button")
    browser.swipes(".side:not([hidden]) .stage", 60)
    (first, second) = browser.run(FRAMES)
    assert first == second == 5


def test_nothing_moves_before_somebody_asks_and_it_stops(browser: Browser) -> None:
    assert browser.wait(STILL) == "still"
    browser.clicks_on(".play")
    assert browser.wait(MOVES) is True
    browser.presses(ESCAPE)
    assert browser.wait(STILL) == "still"


def test_lines_stand_on_the_frames_of_their_checkpoints_alone(browser: Browser) -> None:
    browser.clicks_on(".jumps li:nth-child(6) button")
    assert browser.run("return document.querySelectorAll('.stage .lines .line').length") > 0
    browser.clicks_on(".jumps li:first-child button")
    assert browser.run("return document.querySelectorAll('.stage .lines *').length") == 0


@pytest.mark.parametrize("width", [360, 1280])
def test_no_value_lies_on_a_line_or_is_too_small_to_read(chromium: Chromium, site: Site, width: int) -> None:
    chromium.size(width, 900)
    chromium.get((site.areas[DUARTE] / LESSON / "index.html").as_uri())
    found = chromium.run(
        "const out = [];"
        "for (const pair of document.querySelectorAll('[name=pair]')) { pair.click();"
        "for (const jump of document.querySelectorAll('.jumps button')) { jump.click();"
        f"for (const side of {SHOWN}) for (const text of side.querySelectorAll('.stage text')) {{"
        "  const box = text.getBoundingClientRect(), frame = side.querySelector('.stage').getBoundingClientRect();"
        "  const on = [...side.querySelectorAll('.stage .line')].some((line) => {"
        "    const matrix = line.getScreenCTM(), length = line.getTotalLength();"
        "    return [...Array(41).keys()].some((n) => {"
        "      const at = line.getPointAtLength(length * n / 40).matrixTransform(matrix);"
        "      return at.x > box.left && at.x < box.right && at.y > box.top && at.y < box.bottom; }); });"
        "  const within = box.left >= frame.left - 1 && box.right <= frame.right + 1;"
        "  out.push([text.textContent, on, within, parseFloat(getComputedStyle(text).fontSize) * frame.width / 418]);"
        "}}} return out"
    )
    assert len(found) > 10
    assert [one for one in found if one[1] or not one[2] or one[3] < 12] == []
    chromium.size(1280, 900)


def test_who_wants_less_motion_is_offered_none(chromium: Chromium, site: Site) -> None:
    media = {"features": [{"name": "prefers-reduced-motion", "value": "reduce"}]}
    chromium.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", media)
    chromium.get((site.areas[DUARTE] / LESSON / "index.html").as_uri())
    assert chromium.run("return document.querySelector('.play').hidden")
    chromium.clicks_on(".jumps li:nth-child(3) button")
    assert chromium.run(HERE) == ["Top", "Top"]
    chromium.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


def test_without_a_script_the_checkpoints_stand_in_a_row(chromium: Chromium, site: Site) -> None:
    chromium.scripts(False)
    chromium.get((site.areas[DUARTE] / LESSON / "index.html").as_uri())
    chromium.scripts(True)
    seen = "[...document.querySelectorAll('.row > li > svg')].filter(one => one.getBoundingClientRect().width > 30)"
    assert chromium.run(f"return {seen}.length") == 4 * 7
    assert chromium.run("return document.querySelector('.steps').getBoundingClientRect().height") == 0


@pytest.mark.parametrize("place", ["chromium from disk", "firefox from the web"])
def test_it_is_stepped_through_sealed_and_the_page_does_not_wait(
    request: pytest.FixtureRequest, sealed: SealedSite, on_the_web: str, place: str
) -> None:
    name, where = place.split(" ", 1)
    browser: Browser = request.getfixturevalue(name)
    reader = Reader(browser, f"{sealed.upload.as_uri()}/" if where == "from disk" else on_the_web, sealed)
    reader.unlocks(DUARTE, f"{LESSON}/index.html")
    reader.sees(
        f"{SHOWN}.length === 2 && {SHOWN}.every(s => s.querySelector('.stage image').href.baseVal.startsWith('blob:'))"
    )
    browser.clicks_on(".jumps li:nth-child(3) button")
    assert browser.run(HERE) == ["Top", "Top"]
    browser.clicks_on(".pairs label:nth-of-type(3) input")
    reader.sees(f"{SHOWN}.every(s => s.querySelector('.stage image').href.baseVal.startsWith('blob:'))")
    assert browser.run(HERE) == ["Top", "Top"]
