"""Contrast of the theme's colours: WCAG 2.2, success criteria 1.4.3 (text, 4.5 to 1) and 1.4.11 (marks, 3 to 1)."""

import json
import re
from pathlib import Path

import pytest

from reportgen.drawing import style

CASES = json.loads((Path(__file__).parent / "cases" / "contrast.json").read_text(encoding="utf-8"))
LETTER = Path(__file__).parents[2] / "themes" / "letter"
PRINTED_ON = "#ffffff"
UNSEEN = (".running",)
"""The running title of the recap: set in the page's margin from a line without height that is itself not shown."""


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it; `colour` is #rrggbb."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    """Contrast ratio as WCAG 2.2 defines it, 1 to 21."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("case", CASES["cases"], ids=lambda case: case["fg"])
def test_the_formula_gives_the_known_ratios(case):
    """Ratios of wcag-contrast-ratio 0.9, an implementation of the same definitions."""
    assert contrast(case["fg"], case["bg"]) == pytest.approx(case["ratio"], abs=CASES["tolerance"])


SCREEN = (LETTER / "style.css").read_text(encoding="utf-8")
PRINT = (LETTER / "recap.css").read_text(encoding="utf-8")
LIGHT, _, DARK = SCREEN.partition("prefers-color-scheme: dark")
TOKENS = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", LIGHT))
DARK_TOKENS = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", DARK))


def text_colours(css):
    """(selector, colour) of every `color:` of a style sheet, its tokens looked up."""
    for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", css):
        for written in re.findall(r"(?<![\w-])color: ([^;}]+)", body):
            token = re.fullmatch(r"var\(--([\w-]+)\)", written.strip())
            colour = TOKENS[token[1]] if token else written.strip()
            if colour != "inherit" and selector.strip() not in UNSEEN:
                yield selector.strip(), colour


def test_the_parser_finds_the_text_colours():
    assert TOKENS["ink"] in {colour for _, colour in text_colours(SCREEN)}
    assert len({colour for _, colour in text_colours(PRINT)}) >= 4


@pytest.mark.parametrize(("selector", "colour"), [*text_colours(SCREEN)])
def test_every_text_on_a_page_can_be_read(selector, colour):
    assert contrast(colour, TOKENS["paper"]) >= 4.5


@pytest.mark.parametrize("name", ["ink", "muted", "out", "close"])
def test_every_text_colour_of_the_dark_scheme_can_be_read(name):
    assert contrast(DARK_TOKENS[name], DARK_TOKENS["paper"]) >= 4.5


@pytest.mark.parametrize(("selector", "colour"), [*text_colours(PRINT)])
def test_every_text_of_the_recap_can_be_read(selector, colour):
    assert contrast(colour, PRINTED_ON) >= 4.5


@pytest.mark.parametrize("paper", [style.PAPER, PRINTED_ON])
@pytest.mark.parametrize("colour", [style.INK, style.MUTED, style.OUT, style.CLOSE])
def test_every_label_of_a_chart_can_be_read_on_paper_and_over_a_range(colour, paper):
    assert contrast(colour, paper) >= 4.5
    assert contrast(colour, style.RANGE) >= 4.5


@pytest.mark.parametrize("paper", [style.PAPER, PRINTED_ON])
@pytest.mark.parametrize("colour", [*style.COLOURS.values(), style.EDGE])
def test_every_mark_and_the_edge_of_a_range_can_be_seen(colour, paper):
    assert contrast(colour, paper) >= 3


@pytest.mark.parametrize("colour", style.COLOURS.values())
def test_every_mark_can_be_seen_inside_a_range(colour):
    assert contrast(colour, style.RANGE) >= 3


@pytest.mark.parametrize("token", ["edge", "hold", "out"])
def test_the_focus_ring_and_the_rule_of_a_caution_can_be_seen(token):
    assert contrast(TOKENS[token], TOKENS["paper"]) >= 3


def test_charts_and_pages_have_the_same_colours():
    names = {"paper": style.PAPER, "ink": style.INK, "muted": style.MUTED, "range": style.RANGE, "edge": style.EDGE,
             "out": style.OUT, "close": style.CLOSE}  # fmt: skip
    assert {name: TOKENS[name] for name in names} == names
