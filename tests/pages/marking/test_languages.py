"""The marking page in German: every word of it, and the same lines for the sheet."""

import re

import pytest

from tests.languages.conftest import english_pieces
from tests.pages.marking.conftest import fill_in
from tests.pages.marking.sheet_of_paper import Paper

EVERYTHING = """document.querySelectorAll("details").forEach((one) => { one.open = true; });
    const texts = [], walk = document.createTreeWalker(document, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const {parentElement, data} = walk.currentNode;
      if (!parentElement.closest("script, style")) texts.push(data);
    }
    const named = ["aria-label", "aria-valuetext", "placeholder", "title", "alt"];
    for (const one of document.querySelectorAll("*")) texts.push(...named.map((name) => one.getAttribute(name) ?? ""));
    return texts.join(" ")"""
SAID_WHEN = {
    "a point is moved": "put(withPointMoved(still(), 'ball', [5, 5]), says('moved', {point: spoken('ball')}))",
    "it is taken away": "page.held = 'ball'; acts.away()",
    "that is undone": "acts.undo()",
    "and done again": "acts.redo()",
    "a point is chosen": "choosePoint('neck', false)",
    "hips are swapped": "put({...still(), points: {...still().points, 'lead-hip': [9, 9], 'trail-hip': [900, 9]}})",
    "two points lie together": "put(withPoint(still(), 'neck', still().points.head))",
    "the scale has no length": "put({...still(), length: ''})",
    "the camera has a height alone": "put({...still(), distance: ''})",
    "all of the tempo is set": "page.tempo = {start: 0, top: 25, impact: 32}; showTempo()",
    "the tempo cannot be right": "page.tempo = {start: 9, top: 5, impact: 1}; showTempo()",
    "the scale is borrowed": "put({...still(), points: {}})",
    "no view is chosen": "put({...still(), view: ''}, '')",
    "the lines are copied": "copied(says('copied'))",
}


@pytest.fixture
def both(paper: Paper) -> tuple[str, dict[str, str], Paper]:
    """The lines and the values of the English page, and the German one with the same points."""
    paper.open("empty")
    fill_in(paper)
    lines, values = paper.yaml, paper.values
    paper.leave()
    paper.open("german")
    fill_in(paper)
    return lines, values, paper


def test_the_german_page_says_nothing_in_english_and_writes_the_same_lines(
    both: tuple[str, dict[str, str], Paper],
) -> None:
    lines, values, german = both
    assert german.run("return document.documentElement.lang") == "de"
    assert german.yaml == lines
    assert len(lines.splitlines()) > 50

    def figures(said: dict[str, str]) -> list[str]:
        return [re.sub(r"[^\d.,−]", "", value) for value in said.values()]

    assert figures(german.values) == [figure.replace(".", ",") for figure in figures(values)]
    assert any("," in figure for figure in figures(german.values))

    pieces = english_pieces("de")
    assert len(pieces) > 500
    german.run("choose(page.stills.find((one) => one.file === '2026-11-19-setup-fo.png').id)")
    for when, script in {"all is filled in": "", **SAID_WHEN}.items():
        german.run(script)
        text = " ".join(german.run(EVERYTHING).split())
        assert [piece for piece in pieces if piece in text] == [], when


@pytest.mark.parametrize("width", [360, 820, 1280, 1600])
def test_the_german_page_fits_every_window(paper: Paper, width: int) -> None:
    paper.open("german")
    paper.run("by('film').hidden = false")
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 600}
    paper.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    assert paper.run("return document.documentElement.scrollWidth") <= width
    paper.browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
