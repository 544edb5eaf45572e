"""Colours are told apart by everybody: distances in CAM02-UCS under simulated colour blindness and in grey.

A distance of 1 is about the least that can be seen between large patches side by side. The inks stand far apart from
their ground; from each other they keep a distance where they can, and shapes with their words carry the rest. The
simulation is that of Machado, Oliveira and Fernandes (2009), at its full strength.
"""

from collections.abc import Callable
from typing import get_args

import numpy as np
import pytest
from colorspacious import cspace_convert, deltaE

from reportgen.drawing import style
from reportgen.drawing.style import CORNERS, DISCS
from reportgen.records.words import Verdict
from tests.published.test_contrast import DARK_TOKENS, LIGHT, TOKENS, contrast

FILTER = 0.92
"""How far the dark scheme inverts charts; their hue is turned back by 180 degrees."""
INKS = {"in range": style.INK, "out of range": style.OUT, "too close": style.CLOSE}
SIGHTS = ("deuteranomaly", "protanomaly", "tritanomaly", "grey")
RGB = np.ndarray


def rgb(colour: str) -> RGB:
    return np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])


def seen(colour: RGB, sight: str) -> RGB:
    """sRGB of a colour as somebody with that sight sees it, or as it is printed in grey."""
    if sight == "grey":
        lightness, *_ = cspace_convert(colour, "sRGB1", "CIELab")
        return np.clip(cspace_convert([lightness, 0, 0], "CIELab", "sRGB1"), 0, 1)
    space = {"name": "sRGB1+CVD", "cvd_type": sight, "severity": 100}
    return np.clip(cspace_convert(colour, space, "sRGB1"), 0, 1)


def in_the_dark(colour: RGB) -> RGB:
    """What `filter: invert(.92) hue-rotate(180deg)` makes of a colour, as the Filter Effects Module defines both."""
    turned = np.array([[-0.574, 1.43, 0.144], [0.426, 0.43, 0.144], [0.426, 1.43, -0.856]])
    return np.clip(turned @ (colour * (1 - 2 * FILTER) + FILTER), 0, 1)


def in_the_light(colour: RGB) -> RGB:
    return colour


def distance(one: RGB, other: RGB, sight: str) -> float:
    return float(deltaE(seen(one, sight), seen(other, sight), input_space="sRGB1", uniform_space="CAM02-UCS"))


SCHEMES = pytest.mark.parametrize("scheme", [in_the_light, in_the_dark])


@SCHEMES
@pytest.mark.parametrize("sight", SIGHTS)
@pytest.mark.parametrize("ink", INKS)
def test_every_ink_stands_off_paper_and_range(ink: str, sight: str, scheme: Callable[[RGB], RGB]) -> None:
    for ground in (style.PAPER, style.RANGE):
        assert distance(scheme(rgb(INKS[ink])), scheme(rgb(ground)), sight) > 30


@SCHEMES
@pytest.mark.parametrize("sight", SIGHTS)
def test_the_accent_of_a_figure_stands_off_paper_and_off_the_inks_of_verdicts(
    sight: str, scheme: Callable[[RGB], RGB]
) -> None:
    accent = scheme(rgb(style.FEEL))
    assert distance(accent, scheme(rgb(style.PAPER)), sight) > 30
    if sight != "grey":
        assert min(distance(accent, scheme(rgb(ink)), sight) for ink in (style.OUT, style.CLOSE)) > 16


@SCHEMES
@pytest.mark.parametrize("sight", SIGHTS)
def test_the_range_stands_off_paper(sight: str, scheme: Callable[[RGB], RGB]) -> None:
    assert distance(scheme(rgb(style.RANGE)), scheme(rgb(style.PAPER)), sight) > 7
    assert distance(scheme(rgb(style.EDGE)), scheme(rgb(style.PAPER)), sight) > 25


@SCHEMES
@pytest.mark.parametrize("sight", SIGHTS)
@pytest.mark.parametrize("ink", [style.OUT, style.CLOSE])
def test_what_is_out_or_close_stands_off_what_is_in(ink: str, sight: str, scheme: Callable[[RGB], RGB]) -> None:
    assert distance(scheme(rgb(ink)), scheme(rgb(style.INK)), sight) > (7 if sight == "grey" else 16)


@SCHEMES
@pytest.mark.parametrize("sight", SIGHTS)
def test_out_and_too_close_still_differ(sight: str, scheme: Callable[[RGB], RGB]) -> None:
    assert distance(scheme(rgb(style.OUT)), scheme(rgb(style.CLOSE)), sight) > 2.5


def test_where_colour_cannot_tell_shapes_do() -> None:
    """Between `out` and `too close` colours come near: no two verdicts have one shape."""
    shapes = {verdict: CORNERS.get(verdict) or DISCS[verdict] for verdict in get_args(Verdict)}
    assert len(set(shapes.values())) == len(shapes) == 5


@pytest.mark.parametrize("token", ["paper", "range", "out", "close"])
def test_words_and_charts_agree_in_the_dark(token: str) -> None:
    assert np.abs(in_the_dark(rgb(TOKENS[token])) - rgb(DARK_TOKENS[token])).max() < 2 / 255


def test_pages_and_charts_use_the_same_inks() -> None:
    drawn = {"paper": style.PAPER, "ink": style.INK, "muted": style.MUTED, "range": style.RANGE, "edge": style.EDGE}
    drawn |= {"out": style.OUT, "close": style.CLOSE}
    assert {name: TOKENS[name] for name in drawn} == drawn
    assert LIGHT.count("--paper: ") == 1


@pytest.mark.parametrize("token", ["ink", "muted", "out", "close"])
def test_text_can_be_read_in_the_dark(token: str) -> None:
    for ground in ("paper", "range", "sheet"):
        assert contrast(DARK_TOKENS[token], DARK_TOKENS[ground]) >= 4.5


@pytest.mark.parametrize("token", ["edge", "hold", "out"])
def test_lines_can_be_seen_in_the_dark(token: str) -> None:
    assert contrast(DARK_TOKENS[token], DARK_TOKENS["paper"]) >= 3
