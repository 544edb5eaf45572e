"""Swings to step through: on one clock, with what was found at their checkpoints, beside whom they may stand."""

import pytest
from PIL import Image

from reportgen.judging.shown_swings import parts_of
from tests.judging.academies import ID
from tests.judging.test_pictures import BO, COMPARED, FIRST, LEAVE, SECOND, SHARES_AND_BORN, academy, reports
from tests.measuring.drawn import stills

ROW = """swings:
  - file: ../swings/fo.webp
    view: face-on
    columns: 3
    frame: [48, 70]
    times: {times}
    checkpoints: {{setup: 0, top: 2, impact: 3, finish: 5}}
    cut: {{from: [0, 0], to: [960, 1400]}}
"""
SWING, SLOW = ROW.format(times=[0, 0.4, 0.8, 1.1, 1.3, 1.8]), ROW.format(times=[0, 0.9, 1.6, 2.4, 2.6, 3.5])


def write_packed(root, *students):
    for student in students:
        folder = root / "students" / student / "swings"
        folder.mkdir(parents=True)
        Image.new("RGB", (3 * 48, 2 * 70), "#888").save(folder / "fo.webp")


def test_a_swing_has_come_as_far_at_each_checkpoint_whatever_its_tempo():
    checkpoints = [(0, 0), (2, 2), (5, 3), (6, 5)]
    quick, slow = (parts_of(times, checkpoints) for times in ((0, 0.4, 0.8, 1.1, 1.3, 1.8), (0, 1, 1.6, 2.4, 2.6, 3.5)))
    assert [quick[at] for _, at in checkpoints] == [slow[at] for _, at in checkpoints] == [0, 2, 5, 6]
    assert list(quick) == sorted(quick)
    assert quick[1] == pytest.approx(1.0)
    assert slow[1] == pytest.approx(1.25)


def test_before_the_first_checkpoint_and_after_the_last_time_goes_on():
    assert parts_of((0, 1, 2, 3, 4), [(2, 1), (5, 3)]) == (1.75, 2, 3.5, 5, 5.25)


def test_lines_come_from_the_still_and_values_from_the_lesson(tmp_path):
    write_packed(tmp_path, ID)
    (report,) = reports(academy(tmp_path, {FIRST: (stills(), SWING)}))
    impact = next(one for one in report.swings[0].swing.moments if one.checkpoint == "impact")
    still = next(p.still for p in report.pictures if (p.view, p.checkpoint) == ("face-on", "impact"))
    assert impact.values
    assert [stroke.says for stroke in impact.strokes] == [stroke.says for stroke in still.strokes]
    for stroke, whole in zip(impact.strokes, still.strokes, strict=True):
        for (x, y), (wide, high) in zip(stroke.points, whole.points, strict=True):
            assert (x, y) == pytest.approx((wide * 48 / 960, high * 70 / 1400), abs=0.06)


def test_without_a_common_film_no_line_is_drawn(tmp_path):
    write_packed(tmp_path, ID)
    (report,) = reports(academy(tmp_path, {FIRST: (stills(), SWING.partition("    cut:")[0])}))
    assert [moment.strokes for moment in report.swings[0].swing.moments] == [()] * 4


def test_beside_stands_the_last_swing_of_the_view(tmp_path):
    write_packed(tmp_path, ID)
    _, second = reports(academy(tmp_path, {FIRST: (stills(), SWING), SECOND: (stills(), SLOW)}))
    assert [pair.name for pair in second.swing_pairs] == ["Face-on"]
    assert [side.times[-1] for side in second.swing_pairs[0].sides] == [3.5, 1.8]


def test_of_whom_one_learns_alongside_the_swing_is_shown_and_no_number(tmp_path):
    write_packed(tmp_path, ID, BO)
    bos = f"born: 1990-01-01\nshares_with: [{ID}]\n{LEAVE}"
    folder = academy(tmp_path, {SECOND: (stills(), COMPARED + SWING)}, {FIRST: (stills(), SLOW)}, SHARES_AND_BORN, bos)
    beside = reports(folder)[0].swings[0].beside
    assert beside.file == f"students/{BO}/swings/fo.webp"
    assert {(moment.verdict, moment.values, moment.strokes) for moment in beside.moments} == {(None, (), ())}


@pytest.mark.parametrize("leave", ["", LEAVE.replace("}", ", withdrawn_on: 2026-03-10}")], ids=["none", "taken back"])
def test_without_leave_there_is_no_swing(leave, tmp_path):
    write_packed(tmp_path, ID)
    (report,) = reports(academy(tmp_path, {FIRST: (stills(), SWING)}, student=f"born: 1986-05-01\n{leave}"))
    assert report.swings[0].swing is None
    assert report.swing_pairs == ()


def test_a_picture_of_another_size_is_told(tmp_path):
    write_packed(tmp_path, ID)
    folder = academy(tmp_path, {FIRST: (stills(), SWING.replace("columns: 3", "columns: 2"))})
    assert [problem.wrong for problem in folder.problems] == [
        "the picture has 144 × 140 pixels, and its frames make 96 × 210"
    ]
