"""Lines and values on a picture: read on bright and dark, inside it, none over another."""

import numpy as np
import pytest
from PIL import Image

from reportgen.drawing.strokes import draw_strokes
from reportgen.drawing.style import COLOURS
from tests.drawing.stills import make_stroke
from tests.published.test_contrast import contrast

SIZE = (400, 300)
GROUNDS = ("#ffffff", "#fffdf8", "#000000", "#22302f", "#7f7f7f", "#9c3a1f", "#7a5c00", "#4d7a3a")
"""Paper and snow, night and ink, fog, the colours of the lines themselves, grass."""


def drawn(*strokes, ground="#ffffff", size=SIZE):
    return np.asarray(draw_strokes(Image.new("RGB", size, ground), strokes, (0, 0), 1.0)).astype(int)


def touched(*strokes, ground="#ffffff", size=SIZE):
    """Where the picture is no longer its ground, (height, width)."""
    plain = np.asarray(Image.new("RGB", size, ground)).astype(int)
    return np.abs(drawn(*strokes, ground=ground, size=size) - plain).max(axis=2) > 8


def hexadecimal(pixel):
    return "#" + "".join(f"{value:02x}" for value in pixel)


def most_contrast(pixels, ground):
    return max(contrast(hexadecimal(pixel), ground) for pixel in pixels)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("verdict", sorted(COLOURS))
def test_a_line_reads_on_every_ground(verdict, ground):
    picture = drawn(make_stroke((60.0, 150.0), (340.0, 150.0), verdict=verdict), ground=ground)
    for x in (120, 200, 280):
        assert most_contrast(picture[130:170, x], ground) >= 3


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("kind", ["before", "plumb"])
def test_the_dashes_of_a_reference_read_on_every_ground(kind, ground):
    picture = drawn(make_stroke((200.0, 40.0), (200.0, 260.0), kind=kind), ground=ground)
    reads = [most_contrast(picture[y, 190:210], ground) >= 3 for y in range(45, 255)]
    assert 0.4 < np.mean(reads) < 0.9


@pytest.mark.parametrize("ground", GROUNDS)
def test_a_value_stands_on_a_slip_of_its_own(ground):
    stroke = make_stroke((60.0, 150.0), (200.0, 150.0), says="52° open", verdict="above range")
    slip = drawn(stroke, ground=ground)[135:165, 212:330].reshape(-1, 3)
    colours = {hexadecimal(pixel) for pixel in slip}
    assert {"#fffdf8", COLOURS["above range"]} <= colours


def box(mask):
    ys, xs = np.nonzero(mask)
    return xs.min(), ys.min(), xs.max(), ys.max()


def slip(place, says="52° open", ground="#000000"):
    """The slip alone: what a point with a value has more than one without."""
    return touched(make_stroke(place, kind="place", says=says), ground=ground) & ~touched(
        make_stroke(place, kind="place"), ground=ground
    )


@pytest.mark.parametrize(
    "place", [(3.0, 3.0), (397.0, 3.0), (3.0, 297.0), (397.0, 297.0), (200.0, 1.0), (399.0, 150.0)]
)
def test_a_value_stays_inside_the_picture(place):
    left, top, right, bottom = box(slip((200.0, 150.0)))
    near = slip(place)
    assert not near[0].any()
    assert not near[-1].any()
    assert not near[:, 0].any()
    assert not near[:, -1].any()
    near_left, near_top, near_right, near_bottom = box(near)
    assert near_right - near_left == pytest.approx(right - left, abs=8)
    assert near_bottom - near_top == pytest.approx(bottom - top, abs=2)


@pytest.mark.parametrize("place", [(200.0, 150.0), (5.0, 5.0), (395.0, 295.0)])
def test_values_at_one_place_do_not_cover_each_other(place):
    strokes = [make_stroke(place, kind="place", says=says) for says in ("52° open", "31° open", "4 cm")]
    together = touched(*strokes, ground="#000000").sum()
    alone = [touched(stroke, ground="#000000").sum() for stroke in strokes]
    disc = touched(make_stroke(place, kind="place"), ground="#000000").sum()
    assert together == pytest.approx(sum(alone) - 2 * disc, rel=0.05)


def test_a_picture_without_strokes_is_left_as_it_is():
    picture = Image.new("RGB", SIZE)
    assert draw_strokes(picture, (), (0, 0), 1.0) is picture


def test_strokes_follow_the_cut_and_the_scale_of_the_picture():
    picture = Image.new("RGB", SIZE, "#ffffff")
    stroke = make_stroke((500.0, 260.0), kind="place")
    shown = np.asarray(draw_strokes(picture, (stroke,), (400.0, 100.0), 0.5)).astype(int)
    left, top, right, bottom = box(np.abs(shown - 255).max(axis=2) > 100)
    assert ((left + right) / 2, (top + bottom) / 2) == pytest.approx((50, 80), abs=1)


def test_a_line_that_leaves_the_picture_harms_nothing():
    assert touched(make_stroke((-500.0, 150.0), (900.0, 150.0), says="52° open")).any()


@pytest.mark.parametrize("size", [(1, 1), (30, 20)])
def test_a_picture_smaller_than_a_value_harms_nothing(size):
    assert drawn(make_stroke((5.0, 5.0), (9.0, 9.0), says="52° open"), size=size).shape == (size[1], size[0], 3)
