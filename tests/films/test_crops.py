"""A crop goes to the model and its points come back to the picture, turned, mirrored and scaled."""

from math import pi

import numpy as np
import pytest

from reportgen.films.crops import SIDE, Crop, Cutter, around, scaled, to_picture

CORNERS = np.array([[0.0, 0.0], [SIDE, 0.0], [SIDE, SIDE], [0.0, SIDE]])
SQUARE = [[50, 100], [150, 100], [150, 200], [50, 200]]


@pytest.mark.parametrize(
    ("crop", "corners"),
    [
        (Crop(100, 150, 100), SQUARE),
        (Crop(100, 150, 100, turn=pi / 2), [SQUARE[1], SQUARE[2], SQUARE[3], SQUARE[0]]),
        (Crop(100, 150, 100, mirrored=True), [SQUARE[1], SQUARE[0], SQUARE[3], SQUARE[2]]),
        (scaled(Crop(50, 75, 50), 2), SQUARE),
    ],
)
def test_the_corners_of_a_crop(crop: Crop, corners: list[list[int]]) -> None:
    assert to_picture(crop, CORNERS) == pytest.approx(np.array(corners))


@pytest.mark.parametrize("turn", [0.0, 0.4, -1.0])
@pytest.mark.parametrize("mirrored", [False, True])
def test_what_is_cut_at_a_point_is_what_the_picture_has_there(turn: float, mirrored: bool) -> None:
    picture = np.zeros((300, 400, 3), np.uint8)
    picture[120:140, 210:230] = 255
    crop = Crop(200, 150, 200, turn, mirrored)
    seen = Cutter(picture).cut(crop)[0, :, :, 0]
    rows, columns = np.nonzero(seen > 0.5)
    middle = to_picture(crop, np.array([[columns.mean() + 0.5, rows.mean() + 0.5]]))[0]
    assert middle == pytest.approx([220, 130], abs=0.5)


def test_outside_the_picture_a_crop_is_black() -> None:
    seen = Cutter(np.full((100, 100, 3), 255, np.uint8)).cut(Crop(100, 50, 100))[0]
    assert (seen[:, : SIDE // 2 - 2] == 1).all()
    assert (seen[:, SIDE // 2 + 2 :] == 0).all()


def test_a_person_who_leans_stands_upright_in_the_next_crop() -> None:
    hips, head = np.array([100.0, 100.0]), np.array([140.0, 60.0])
    crop = around(hips, head)
    assert (crop.x, crop.y, crop.side) == pytest.approx((100, 100, 2.5 * np.hypot(40, 40)))
    above = to_picture(crop, np.array([[SIDE / 2, SIDE / 2 - SIDE / 2.5]]))[0]
    assert above == pytest.approx(head)
