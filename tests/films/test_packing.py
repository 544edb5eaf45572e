"""Frames of a filmed swing packed into one picture: which, cut where, how heavy, and made once."""

import io
import json
from pathlib import Path
from time import process_time
from typing import Any

import numpy as np
import pytest
from PIL import Image

from reportgen.films.needs import FilmError
from reportgen.films.packing import FRAMES, HEAVIEST, HIGH, Packed, packed
from reportgen.films.swings import FilmedSwing, read_swing
from reportgen.records.words import CHECKPOINTS, View

HERE = Path(__file__).parent
TRUTH: dict[str, Any] = json.loads((HERE / "swing.json").read_text(encoding="utf-8"))
BOTH_S = 6.0
"""Seconds of one core for the frames of both films of a lesson."""


@pytest.fixture(scope="module", params=["face-on", "down-the-line"])
def view(request: pytest.FixtureRequest) -> View:
    found: View = request.param
    return found


@pytest.fixture(scope="module")
def film(view: View) -> Path:
    return HERE / str(TRUTH["films"][view]["file"])


@pytest.fixture(scope="module")
def swing(film: Path, view: View) -> FilmedSwing:
    return read_swing(film, view, TRUTH["plays"])


@pytest.fixture(scope="module")
def made(film: Path, view: View, swing: FilmedSwing) -> tuple[Packed, float]:
    """The frames, and the seconds of a processor that they took."""
    begun = process_time()
    return packed(film, view, swing, swing.moments, "../swings/one"), process_time() - begun


def test_the_picture_holds_all_frames_and_is_light(made: tuple[Packed, float]) -> None:
    (data, record), seconds = made
    with Image.open(io.BytesIO(data)) as picture:
        assert picture.size == record.packed_size
        assert not picture.getexif()
    assert len(record.times) == FRAMES
    assert record.frame[1] == HIGH
    assert len(data) <= HEAVIEST
    assert seconds < BOTH_S / 2


def test_every_moment_is_a_frame_and_the_others_are_even_in_time(
    made: tuple[Packed, float], swing: FilmedSwing
) -> None:
    record = made[0].record
    assert list(record.checkpoints) == list(CHECKPOINTS)
    assert (record.checkpoints["setup"], record.checkpoints["finish"]) == (0, FRAMES - 1)
    for one in swing.moments:
        assert record.times[record.checkpoints[one.moment]] == pytest.approx(one.time, abs=0.02)
    even = (record.times[-1] - record.times[0]) / (FRAMES - 1)
    assert np.diff(record.times).max() < 2 * even


def test_the_whole_player_is_in_every_frame(made: tuple[Packed, float], swing: FilmedSwing) -> None:
    cut = made[0].record.cut
    assert cut is not None
    sure = swing.track.points[swing.track.seen > 0.9]
    assert ((sure >= np.array(cut.from_)) & (sure <= np.array(cut.to))).all()


def test_it_is_made_once(
    film: Path, view: View, swing: FilmedSwing, made: tuple[Packed, float], tmp_path: Path
) -> None:
    first = packed(film, view, swing, swing.moments, "../swings/one", kept=tmp_path)
    begun = process_time()
    again = packed(film, view, swing, swing.moments, "../swings/two", kept=tmp_path)
    assert process_time() - begun < 0.1
    assert again.data == first.data == made[0].data
    assert again.record == first.record.model_copy(update={"file": again.record.file})
    assert again.record.file.startswith("../swings/two.")


def test_without_moments_it_says_what_to_do(film: Path, view: View, swing: FilmedSwing) -> None:
    with pytest.raises(FilmError, match="Set its moments first"):
        packed(film, view, swing, (), "../swings/one")
