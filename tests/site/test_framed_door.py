"""The door of sealed pages inside another page, and on hosts that forbid that: it is unlocked only on its own."""

from collections.abc import Iterator
from functools import partial
from html import escape
from pathlib import Path

import pytest

from tests.publishing.small import PETRA, ROOT
from tests.site.sealed import QuietHandler, SealedSite, served
from tests.site.test_sealed_browser import Reader, browser

__all__ = ["browser"]
HEADER = "frame-ancestors 'self'"


class Strict(QuietHandler):
    """A host that lets no other site show its pages inside of its own."""

    def end_headers(self) -> None:
        self.send_header("Content-Security-Policy", HEADER)
        super().end_headers()


@pytest.fixture(scope="module")
def on_a_strict_host(sealed: SealedSite, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with served(tmp_path_factory.mktemp("strict"), partial(Strict, directory=str(sealed.upload))) as address:
        yield address


@pytest.fixture
def others_site(tmp_path: Path) -> Iterator[str]:
    """Somebody else's site; what lies in `pages` there can be asked for."""
    (tmp_path / "pages").mkdir()
    with served(tmp_path, partial(QuietHandler, directory=str(tmp_path / "pages"))) as address:
        yield address


def _framed(reader: Reader, others_site: str, pages: Path) -> None:
    """Petra's door inside of somebody else's page."""
    frame = f'<iframe src="{escape(reader.door(PETRA))}" width="900" height="700"></iframe>'
    (pages / "index.html").write_text(f"<!doctype html><title>Other</title>{frame}", encoding="utf-8")
    reader.browser.get(f"{others_site}index.html")
    reader.browser.enters_the_frame()


def test_inside_another_page_nothing_can_be_unlocked(
    browser, sealed: SealedSite, on_the_web: str, others_site: str, tmp_path: Path
) -> None:
    reader = Reader(browser, on_the_web, sealed)
    _framed(reader, others_site, tmp_path / "pages")
    reader.sees("document.getElementById('framed') && !document.getElementById('framed').hidden")
    assert "It asks for your passphrase only when you open it on its own." in reader.text
    assert browser.run("return document.getElementById('lock').hidden")
    reader.types(sealed.passphrase(PETRA))
    assert browser.run("return document.getElementById('told').textContent") == ""
    assert browser.run("return document.getElementById('open').innerHTML") == ""
    browser.complaints()


def test_from_there_a_link_leads_to_the_door_on_its_own(
    browser, sealed: SealedSite, on_the_web: str, others_site: str, tmp_path: Path
) -> None:
    reader = Reader(browser, on_the_web, sealed)
    _framed(reader, others_site, tmp_path / "pages")
    reader.sees("document.getElementById('framed') && !document.getElementById('framed').hidden")
    browser.clicks_on("#alone")
    browser.goes_to_the_tab_at(reader.door(PETRA))
    reader.sees("!document.getElementById('lock').hidden")
    reader.types(sealed.passphrase(PETRA))
    reader.title_is("Petra")
    browser.complaints()


def test_a_host_that_forbids_other_frames_opens_as_every_other(
    browser, sealed: SealedSite, on_a_strict_host: str
) -> None:
    reader = Reader(browser, on_a_strict_host, sealed)
    reader.unlocks(PETRA)
    reader.title_is("Petra")
    reader.clicks("All drills")
    reader.title_is("Drill library")
    assert browser.complaints() == []


def test_the_guide_names_that_header() -> None:
    guide = (ROOT / "content" / "guide" / "publishing.md").read_text(encoding="utf-8")
    assert f"Content-Security-Policy: {HEADER}" in guide
