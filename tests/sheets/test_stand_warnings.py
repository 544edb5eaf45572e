"""Cameras that do not stand as they should: warnings of `check`, each with file, line and column."""

from pathlib import Path

import pytest

from reportgen.pipeline import load
from reportgen.sheets.mark_problems import mark_warnings
from tests.judging.academies import ID, write_academy
from tests.measuring.drawn import write_pictures

DAY = "2026-03-05"
SHEET = """\
stills:
  - file: ../stills/setup-fo.png
    view: face-on
    checkpoint: setup
    scale: {from: [230, 1250], to: [730, 1252], length: 1.00 m}
    camera: {distance: 4.40 m}
    marks: {ball: [505, 1265]}
  - file: ../stills/setup-dtl.png
    view: down-the-line
    checkpoint: setup
    stick: {from: [700, 1160], to: [650, 1030]}
    camera: {distance: 4.20 m}
    marks: {lead-ankle: [470, 1210], trail-ankle: [474, 1212]}
  - file: ../stills/impact-fo.png
    view: face-on
    checkpoint: impact
    marks: {ball: [508, 1267]}
"""


def warnings(root: Path, sheet: str) -> list[str]:
    write_academy(root, {DAY: sheet})
    write_pictures(
        root / "students" / ID / "lessons",
        [{"file": f"../stills/{name}.png"} for name in ("setup-fo", "setup-dtl", "impact-fo")],
    )
    folder = load(root)
    assert folder.problems == []
    start = f"students/{ID}/lessons/{DAY}.yaml:"
    found = list(mark_warnings(folder))
    assert all(warning.startswith(start) for warning in found)
    return [warning.removeprefix(start) for warning in found]


def changed(written: str, to: str) -> str:
    assert SHEET.count(written) == 1
    return SHEET.replace(written, to)


def test_a_stand_that_is_as_it_should_be_has_no_warning(tmp_path):
    assert warnings(tmp_path, SHEET) == []


@pytest.mark.parametrize(("right_end", "slope"), [("[730, 1266]", "1.8"), ("[730, 1232]", "2.1")])
def test_a_level_scale_that_slopes(tmp_path, right_end, slope):
    (warning,) = warnings(tmp_path, changed("[730, 1252]", right_end))
    assert warning == (
        f"8:12: the scale lies level and slopes by {slope}° in the picture: the camera leans, or is turned. "
        "Set the phone level by its own level, and square to the target line."
    )


@pytest.mark.parametrize("end", ["[230, 750]", "[330, 1200]", "[730, 1262]"])
def test_a_scale_that_stands_or_hardly_slopes_has_none(tmp_path, end):
    assert warnings(tmp_path, changed("[730, 1252]", end)) == []


def test_a_scale_that_is_a_stick_on_the_ground_is_meant_level_however_it_slopes(tmp_path):
    sloping = changed("to: [730, 1252], length: 1.00 m", "to: [700, 1350], length: 1.00 m, is_stick: true")
    (warning,) = warnings(tmp_path, sloping)
    assert "slopes by 12.0°" in warning


def test_a_camera_that_moved_between_two_stills_of_a_swing(tmp_path):
    (warning,) = warnings(tmp_path, changed("[508, 1267]", "[545, 1235]"))
    assert warning == (
        "20:19: the ball lies 50 px from where the first face-on still of this swing shows it: the camera moved. "
        "The shift is taken out; look whether the ball is marked right, and fix the phone to its stand."
    )


def test_a_ball_that_lies_elsewhere_in_the_next_swing_is_none(tmp_path):
    other = changed("[508, 1267]", "[545, 1235]").replace("checkpoint: impact", "checkpoint: impact\n    swing: 2")
    assert warnings(tmp_path, other) == []


def test_a_stick_without_the_distance_of_its_camera(tmp_path):
    (warning,) = warnings(tmp_path, changed("    camera: {distance: 4.20 m}\n", ""))
    assert warning == (
        "14:12: the stick tells how the camera is turned only where the camera's distance is known. "
        "Add camera: {distance: 4.10 m} with what the tape says."
    )


def test_a_scale_that_is_a_stick_which_the_other_view_shows_has_none(tmp_path):
    assert warnings(tmp_path, changed("length: 1.00 m", "length: 1.00 m, is_stick: true")) == []


def test_a_scale_that_is_a_stick_which_nothing_else_shows(tmp_path):
    alone = changed("length: 1.00 m", "length: 1.00 m, is_stick: true").replace("trail-ankle", "trail-knee")
    (warning,) = warnings(tmp_path, alone)
    assert warning == (
        "8:75: the scale is said to be a stick, and no down-the-line still shows that stick with both ankles. "
        "Mark stick: and both ankles on a down-the-line still, or take is_stick out."
    )
