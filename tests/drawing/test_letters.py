"""Lines of text, against how matplotlib sets them: another library of shapes, another way to the same face."""

import re
import subprocess
import sys
from itertools import pairwise

import numpy as np
import pytest
from matplotlib.font_manager import FontProperties
from matplotlib.path import Path
from matplotlib.textpath import TextPath

from reportgen.drawing.letters import face_path, text_row, text_width
from reportgen.drawing.outlines import Row
from reportgen.drawing.style import Plate

LINES = [
    "AVATAR To W. 12.5°",
    "1–3 −4 ½ 38 %",
    "Größe, naïve, Tomáš, Łódź",
    "office, fjord, flag",
    "Ώρα για ύπνο",
    "Жанна Ёлкина",
]
WEIGHTS = ["regular", "semibold"]


def reference(text: str, size: float, weight: str) -> Path:
    return TextPath((0, 0), text, prop=FontProperties(fname=str(face_path(weight)), size=size))


def extent(outline: Row) -> np.ndarray:
    """Left, bottom, right and top of an outline's curves, not of their handles, in points."""
    figure = Plate.blank(10, 10)
    figure.shape(outline)
    return figure.figure.artists[0].get_path().get_extents().extents


@pytest.mark.parametrize("weight", WEIGHTS)
@pytest.mark.parametrize("text", LINES)
def test_letters_stand_where_another_library_puts_them(text: str, weight: str) -> None:
    wanted = reference(text, 8.6, weight).get_extents().extents
    assert extent(text_row(text, 8.6, weight)) == pytest.approx(wanted, abs=0.02)


@pytest.mark.parametrize("weight", WEIGHTS)
@pytest.mark.parametrize("text", LINES)
def test_letters_cover_the_same_paper(text: str, weight: str) -> None:
    """A grid of points lies in the one outline where it lies in the other, but for those at its very edge."""
    wanted = reference(text, 40, weight)
    plate = Plate.blank(10, 10)
    plate.shape(text_row(text, 40, weight))
    drawn = plate.figure.artists[0].get_path()
    left, bottom, right, top = wanted.get_extents().extents
    grid = np.stack(np.meshgrid(np.arange(left, right, 1.3), np.arange(bottom, top, 1.3)), axis=-1).reshape(-1, 2)
    inside = wanted.contains_points(grid)
    assert 0.1 < inside.mean() < 0.6
    assert (inside != drawn.contains_points(grid)).mean() < 0.003


def test_the_width_of_a_line_leads_to_where_the_next_would_begin() -> None:
    for size in (6, 8.6, 12):
        for one, longer in pairwise(["", "i", "in", "in r", "in range"]):
            assert text_width(one, size) < text_width(longer, size)
    begins = extent(text_row("ll", 10, "regular"))[2] - extent(text_row("l", 10, "regular"))[2]
    assert begins == pytest.approx(text_width("l", 10), abs=0.001)


def test_a_line_of_nothing_has_no_width() -> None:
    assert text_width("", 9) == 0


def test_pairs_of_letters_come_nearer() -> None:
    assert text_width("To", 10) < text_width("T", 10) + text_width("o", 10)


@pytest.mark.parametrize("locale", ["C.UTF-8", "tr_TR.UTF-8", "sr_RS.UTF-8"])
def test_a_line_is_the_same_in_every_locale(locale: str) -> None:
    code = (
        "import sys, locale\n"
        "from reportgen.drawing.letters import text_row\n"
        "sys.stdout.write(text_row('fi б г ı', 9, 'regular').pdf_way)"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env={"LC_ALL": locale, "LANG": locale}
    )
    assert told.stdout == text_row("fi б г ı", 9, "regular").pdf_way


def test_a_row_of_letters_is_written_as_the_one_outline_of_them_all() -> None:
    row = text_row("AV. fi 12.5°", 8.6, "regular")
    ours, whole = (re.findall(r"-?\d+|[mlch]", way) for way in (row.pdf_way, row.moved(0, 0).pdf_way))
    assert len(ours) == len(whole)
    for one, other in zip(ours, whole, strict=True):
        assert one == other or abs(int(one) - int(other)) <= 1
