"""A general model of poses: where 33 points of one person are in a crop. What it is and whence: weights/ORIGIN.txt."""

from pathlib import Path
from threading import local
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from reportgen.films.crops import SIDE, Array, Crop, Cutter, to_picture
from reportgen.films.needs import needed

if TYPE_CHECKING:
    from ai_edge_litert.interpreter import Interpreter

WEIGHTS = Path(__file__).parent / "weights" / "pose_landmark_full.tflite"
POINTS = 33
"""Of a body; two more tell the model's next crop."""
EXCHANGED = np.array(
    [0, 4, 5, 6, 1, 2, 3, 8, 7, 10, 9, *(i + 1 if i % 2 else i - 1 for i in range(11, POINTS)), 33, 34]
)
"""Where the left of each pair of points is the right, and the other way about."""
CELLS = 64
"""Of a side of the model's maps of warmth: 4 pixels each of what it sees."""
_GIVEN = 39
_NEAR, _WARM = 3, 0.5
"""Cells about a point that are looked at, and how warm one must be for the point to be moved."""
_OF_THREAD = local()
"""The model keeps what it saw last: each thread has one of its own."""


class Pose(NamedTuple):
    """What the model sees in one crop: `score` whether somebody is there (0 to 1), `points` (35, 2) in pixels of the
    picture, `seen` (33,) how sure the model is that each is in sight (0 to 1)."""

    score: float
    points: Array
    seen: Array


def _model() -> tuple["Interpreter", int, dict[str, int]]:
    if not hasattr(_OF_THREAD, "model"):
        _OF_THREAD.model = _loaded()
    model: tuple[Interpreter, int, dict[str, int]] = _OF_THREAD.model
    return model


def _loaded() -> tuple["Interpreter", int, dict[str, int]]:
    with needed("Proposing moments and marks"):
        from ai_edge_litert.interpreter import Interpreter
    model = Interpreter(model_path=str(WEIGHTS), num_threads=1)
    model.allocate_tensors()
    shapes = {tuple(map(int, one["shape"])): one["index"] for one in model.get_output_details()}
    outputs = {
        "points": shapes[1, _GIVEN * 5],
        "score": shapes[1, 1],
        "warmth": shapes[1, CELLS, CELLS, _GIVEN],
        "outline": shapes[1, SIDE, SIDE, 1],
    }
    return model, model.get_input_details()[0]["index"], outputs


def pose_in(cutter: Cutter, crop: Crop) -> Pose:
    """The pose in a crop of a picture. Raises MissingFilmLibraryError without the extra `film`."""
    model, given, outputs = _model()
    model.set_tensor(given, cutter.cut(crop))
    model.invoke()
    rows = np.asarray(model.get_tensor(outputs["points"]), dtype=float).reshape(_GIVEN, 5)
    score = float(model.get_tensor(outputs["score"])[0, 0])
    points = rows[: POINTS + 2, :2]
    points[:POINTS] = _refined(points[:POINTS], model.get_tensor(outputs["warmth"])[0])
    seen = _logistic(rows[:POINTS, 3])
    if crop.mirrored:
        points, seen = points[EXCHANGED], seen[EXCHANGED[:POINTS]]
    return Pose(score, to_picture(crop, points), seen)


def outline() -> NDArray[np.bool_]:
    """(256, 256) which pixels of the crop last looked at are of the person."""
    model, _, outputs = _model()
    return np.asarray(model.get_tensor(outputs["outline"])[0, :, :, 0] > 0)


def _refined(points: Array, warmth: Any) -> Array:
    """The points (n, 2), each moved to the middle of what is warm near it in the map (64, 64, n) that the model gives
    along with them; a point without warmth stays."""
    cell = SIDE / CELLS
    near = np.arange(-_NEAR, _NEAR + 1)
    at = np.floor(points / cell).astype(int)
    rows, columns = at[:, 1, None, None] + near[:, None], at[:, 0, None, None] + near[None, :]
    inside = (rows >= 0) & (rows < CELLS) & (columns >= 0) & (columns < CELLS)
    which = np.arange(len(points))[:, None, None]
    warm = _logistic(warmth[rows.clip(0, CELLS - 1), columns.clip(0, CELLS - 1), which]) * inside
    whole = warm.sum(axis=(1, 2))
    moved = np.stack(((warm * columns).sum(axis=(1, 2)), (warm * rows).sum(axis=(1, 2))), axis=1) * cell
    trusted = warm.max(axis=(1, 2)) >= _WARM
    return np.asarray(np.where(trusted[:, None], moved / np.maximum(whole, 1e-9)[:, None], points))


def _logistic(values: Any) -> Array:
    return np.asarray(1 / (1 + np.exp(-np.clip(values, -50, 50))), dtype=float)
