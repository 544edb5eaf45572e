"""`check` names pictures of two views that are not of one moment."""

import numpy as np
import pytest

from reportgen.measuring.moment_warnings import moment_warnings
from reportgen.pipeline import load
from tests.judging.academies import ID, sheet, write_academy
from tests.measuring.drawn import POSES, block, stills, write_pictures

DAY = "2026-03-05"
FRAMES = {"setup": 4, "top": 150, "delivery": 181, "impact": 186}
SWING = {**POSES, "delivery": POSES["impact"]}
PATH = f"students/{ID}/lessons/{DAY}.yaml"


def warnings(root, taken, more=""):
    write_pictures(root / "students" / ID / "lessons", taken)
    return list(moment_warnings(load(write_academy(root, {DAY: sheet("", block(taken), more)}))))


def of(taken, checkpoint, view):
    return next(still for still in taken if (still["checkpoint"], still["view"]) == (checkpoint, view))


def raised(checkpoint, wrist, by):
    """The stills with a wrist of a down-the-line one moved up by so many pixels."""
    taken = stills(SWING)
    marks = of(taken, checkpoint, "down-the-line")["marks"]
    marks[wrist] = [float(v) for v in np.subtract(marks[wrist], [0, by])]
    return taken


def framed(clocks_apart=1000, **late):
    """The stills of two films of 60 frames a second; `late` moves frames of the down-the-line one."""
    return [
        still | {"fps": 60, "frame": FRAMES[at] + (still["view"] == "down-the-line") * (clocks_apart + late.get(at, 0))}
        for still in stills(SWING)
        for at in [still["checkpoint"]]
    ]


def test_pictures_of_one_moment_are_told_nothing_of(tmp_path):
    assert warnings(tmp_path, stills(SWING)) == []


@pytest.mark.parametrize("checkpoint", ["setup", "delivery", "impact"])
def test_a_wrist_that_stands_higher_in_one_picture_is_named_with_its_line(checkpoint, tmp_path):
    (warning,) = warnings(tmp_path, raised(checkpoint, "lead-wrist", 60))
    place, line, _, says = warning.split(":", 3)
    written = (tmp_path / PATH).read_text(encoding="utf-8").splitlines()
    assert place == PATH
    assert [checkpoint in row for row in written[: int(line)] if "checkpoint:" in row][-1]
    assert says.startswith(" lead-wrist stands ")
    assert f"cm higher over the hips than in the face-on still ({checkpoint})" in says
    assert warning.endswith("Take both from the same moment, or set wrists and hips again in both.")


def test_a_wrist_that_stands_lower_is_said_to(tmp_path):
    (warning,) = warnings(tmp_path, raised("impact", "lead-wrist", -60))
    assert "lead-wrist stands " in warning
    assert " lower over the hips" in warning


def test_an_academy_that_marks_more_coarsely_is_warned_later(tmp_path):
    taken = raised("impact", "lead-wrist", 40)
    write_pictures(tmp_path / "students" / ID / "lessons", taken)
    root = write_academy(tmp_path, {DAY: sheet("", block(taken), "")})
    assert len(list(moment_warnings(load(root)))) == 1
    with (root / "academy.yaml").open("a", encoding="utf-8") as file:
        file.write("marking: {click_px: 20}\n")
    assert list(moment_warnings(load(root))) == []


def test_the_frames_of_two_films_that_agree_are_told_nothing_of(tmp_path):
    assert warnings(tmp_path, framed()) == []


@pytest.mark.parametrize(("late", "says"), [(3, "50 ms more"), (-4, "67 ms less")])
def test_films_that_disagree_are_told_at_the_line_of_the_frame(late, says, tmp_path):
    (warning,) = warnings(tmp_path, framed(impact=late))
    line = int(warning.split(":")[1])
    assert (tmp_path / PATH).read_text(encoding="utf-8").splitlines()[line - 1].strip() == f"frame: {1186 + late}"
    assert f"from delivery to impact this film takes {says} than the face-on one" in warning


@pytest.mark.parametrize("late", [{"impact": 2}, {"top": 6}, {"setup": 400}])
def test_a_frame_or_two_and_moments_that_nobody_picks_to_a_frame_are_told_nothing_of(late, tmp_path):
    assert warnings(tmp_path, framed(**late)) == []
