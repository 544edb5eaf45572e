"""How wide a line of text is, against how matplotlib sets it: another way to the same face."""

import subprocess
import sys
from itertools import pairwise

import pytest
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from reportgen.drawing.letters import face_path, text_width

LINES = [
    "12.5°",
    "1–3 −4 38 %",
    "Größe, naïve, Tomáš, Łódź",
    "fjord, flag",
    "Ώρα για ύπνο",
    "Жанна Ёлкина",
]
WEIGHTS = ["regular", "semibold"]


@pytest.mark.parametrize("weight", WEIGHTS)
@pytest.mark.parametrize("text", LINES)
def test_a_line_is_as_wide_as_another_library_sets_it(text: str, weight: str) -> None:
    """Up to the white beside its first and last letter."""
    set_there = TextPath((0, 0), text, prop=FontProperties(fname=str(face_path(weight)), size=8.6))
    left, _, right, _ = set_there.get_extents().extents
    assert text_width(text, 8.6, weight) == pytest.approx(right - left, abs=1.2)


def test_a_longer_line_is_wider() -> None:
    for size in (6, 8.6, 12):
        for one, longer in pairwise(["", "i", "in", "in r", "in range"]):
            assert text_width(one, size) < text_width(longer, size)


def test_the_width_goes_with_the_size() -> None:
    assert text_width("in range", 12) == pytest.approx(2 * text_width("in range", 6))


def test_a_line_of_nothing_has_no_width() -> None:
    assert text_width("", 9) == 0


def test_pairs_of_letters_come_nearer() -> None:
    assert text_width("To", 10) < text_width("T", 10) + text_width("o", 10)


@pytest.mark.parametrize("locale", ["C.UTF-8", "tr_TR.UTF-8", "sr_RS.UTF-8"])
def test_a_line_is_the_same_in_every_locale(locale: str) -> None:
    code = "from reportgen.drawing.letters import text_width; print(text_width('fi б г ı', 9, 'regular'))"
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env={"LC_ALL": locale, "LANG": locale}
    )
    assert float(told.stdout) == text_width("fi б г ı", 9, "regular")
