"""Pages at any width and enlargement, for the keyboard, for eyes that motion disturbs: nothing is cut off or lost."""

import re
from pathlib import Path

import pytest
import tinycss2
from selenium.webdriver import ActionChains, Keys

from tests.access.kinds import KINDS, open_details, page_of, show
from tests.site.chromium import Chromium
from tests.site.published import ROOT, Site

TOO_WIDE = """
const page = document.documentElement;
const inside = one => one.closest('.scroll') || one.closest('.sr') || one.ownerSVGElement
  || one.matches('.skip, .skip *');
const out = [...document.body.querySelectorAll('*')].filter(one => !inside(one) && one.getClientRects().length
  && getComputedStyle(one).position !== 'absolute'
  && (one.getBoundingClientRect().right > page.clientWidth + 1 || one.getBoundingClientRect().left < -1));
return [page.scrollWidth > page.clientWidth, out.slice(0, 3).map(one => one.outerHTML.slice(0, 120))];
"""
FITS = [False, []]
SMALLEST_LETTER = """
const letters = [...document.querySelectorAll('svg text')].filter(one => one.getClientRects().length);
return Math.min(...letters.map(one => parseFloat(one.getAttribute('font-size'))
  * one.ownerSVGElement.getBoundingClientRect().width / one.ownerSVGElement.viewBox.baseVal.width));
"""
"""In CSS pixels, of all drawings of a page."""


@pytest.mark.parametrize("kind", KINDS)
def test_at_640_pixels_enlarged_to_200_percent(chromium: Chromium, site: Site, kind: str) -> None:
    show(chromium, page_of(site, kind).as_uri(), 640, zoom=2)
    open_details(chromium)
    assert chromium.run(TOO_WIDE) == FITS


@pytest.mark.parametrize("kind", ["home", "lesson", "progress", "drills", "safety"])
def test_with_letters_of_200_percent(chromium: Chromium, site: Site, kind: str) -> None:
    show(chromium, page_of(site, kind).as_uri(), 1280)
    chromium.run("document.documentElement.style.fontSize = '212.5%'")
    open_details(chromium)
    assert chromium.run(TOO_WIDE) == FITS


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_the_drawings_of_shots(chromium: Chromium, site: Site, width: int) -> None:
    show(chromium, page_of(site, "lesson with shots").as_uri(), width)
    open_details(chromium)
    assert chromium.run(TOO_WIDE) == FITS
    widths = chromium.run("return [...document.querySelectorAll('.seen svg')].map(one => one.clientWidth)")
    assert len(widths) == 6
    assert min(widths) >= 220  # as they are drawn, so that their letters can be read


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("kind", ["home", "lesson with shots", "progress"])
def test_no_letter_of_a_drawing_is_smaller_than_12_pixels(
    chromium: Chromium, site: Site, kind: str, width: int
) -> None:
    show(chromium, page_of(site, kind).as_uri(), width)
    open_details(chromium)
    assert chromium.run(SMALLEST_LETTER) >= 11.99


@pytest.mark.parametrize("width", [320, 768, 1280])
def test_the_hard_cases(chromium: Chromium, extremes: Path, width: int) -> None:
    pages = [
        page
        for name in ("index.html", "progress.html", "2026-03-12/index.html")
        for page in sorted(extremes.glob(f"upload/s/*/{name}"))
    ]
    assert len(pages) == 15
    for page in [*pages, extremes / "desk" / "index.html"]:
        show(chromium, page.as_uri(), width)
        open_details(chromium)
        assert chromium.run(TOO_WIDE) == FITS, page


@pytest.mark.parametrize("kind", KINDS)
def test_the_keyboard_reaches_everything_in_the_order_of_reading(chromium: Chromium, site: Site, kind: str) -> None:
    show(chromium, page_of(site, kind).as_uri(), 1280)
    wanted = chromium.run(
        "window.wanted = [...document.querySelectorAll('a[href], summary, input, button, [tabindex=\"0\"]')]"
        ".filter(one => one.checkVisibility() && (one.type !== 'radio' || one.checked)); return wanted.length"
    )
    reached = []
    for _ in range(min(wanted, 30)):
        ActionChains(chromium.driver).send_keys(Keys.TAB).perform()
        reached.append(
            chromium.run(
                "const at = document.activeElement, look = getComputedStyle(at);"
                "return [wanted.indexOf(at), look.outlineStyle, parseFloat(look.outlineWidth) >= 2,"
                "at.getBoundingClientRect().left >= 0]"
            )
        )
    assert reached == [[place, "solid", True, True] for place in range(len(reached))]


def test_nothing_moves() -> None:
    """There is no motion at all, so that nobody need ask for less of it."""
    styles = list((ROOT / "themes").rglob("*.css"))
    assert styles
    for style in styles:
        text = style.read_text(encoding="utf-8")
        assert not re.search(r"transition|animation|@keyframes|scroll-behavior", text), style


def test_styles_are_read_without_a_complaint() -> None:
    for style in (ROOT / "themes").rglob("*.css"):
        rules = tinycss2.parse_stylesheet(style.read_text(encoding="utf-8"), skip_comments=True, skip_whitespace=True)
        assert [rule.message for rule in rules if rule.type == "error"] == [], style
