"""axe-core finds nothing on any kind of page, in the light and in the dark scheme, sealed and in clear."""

from pathlib import Path
from typing import Any

import pytest

from tests.access.kinds import KINDS, NPM, open_details, page_of, show
from tests.publishing.small import PETRA
from tests.site.chromium import Chromium
from tests.site.published import Site
from tests.site.sealed import SealedSite
from tests.site.test_sealed_browser import Reader

AXE = NPM / "axe-core" / "axe.min.js"
RUN = """
const done = arguments[arguments.length - 1];
const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
axe.run(document, { runOnly: { type: "tag", values: tags }, resultTypes: ["violations"] }).then(
  found => done(found.violations.map(v => `${v.id}: ${v.nodes.map(n => n.target + " " + n.failureSummary)}`)),
  error => done([String(error)]));
"""


def violations(chromium: Chromium) -> Any:
    open_details(chromium)
    chromium.driver.execute_script(AXE.read_text(encoding="utf-8"))
    return chromium.wait(RUN)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("kind", KINDS)
def test_a_page_of_the_demo(chromium: Chromium, site: Site, kind: str, dark: bool) -> None:
    show(chromium, page_of(site, kind).as_uri(), 1280, dark=dark)
    assert violations(chromium) == []


@pytest.mark.parametrize("kind", ["home", "lesson", "progress", "desk"])
def test_a_page_on_a_phone(chromium: Chromium, site: Site, kind: str) -> None:
    show(chromium, page_of(site, kind).as_uri(), 360)
    assert violations(chromium) == []


def test_the_hard_cases(chromium: Chromium, extremes: Path) -> None:
    for page in sorted(extremes.glob("upload/s/*/2026-03-12/index.html")):
        show(chromium, page.as_uri(), 1280)
        assert violations(chromium) == [], page


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_a_sealed_page_before_and_after_it_is_opened(
    chromium: Chromium, sealed: SealedSite, on_the_web: str, dark: bool
) -> None:
    show(chromium, "about:blank", 1280, dark=dark)
    reader = Reader(chromium, on_the_web, sealed)
    reader.goes_to(reader.door(PETRA))
    assert violations(chromium) == []
    reader.types(sealed.passphrase(PETRA))
    reader.title_is("Petra")
    assert violations(chromium) == []
    reader.clicks("PDF")
    reader.title_is("A document")
    assert violations(chromium) == []
    chromium.clicks_on(".lock")
    reader.sees("!document.getElementById('envelope').hidden")
    assert violations(chromium) == []
    chromium.run("document.getElementById('lock').hidden = true; document.getElementById('framed').hidden = false")
    assert violations(chromium) == []
