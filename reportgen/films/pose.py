"""A general model of poses: where 33 points of one person are in a crop. What it is and whence: weights/ORIGIN.md."""

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from reportgen.films.crops import SIDE, Array, Crop, Cutter, to_picture
from reportgen.films.needs import needed

if TYPE_CHECKING:
    from ai_edge_litert.interpreter import Interpreter

WEIGHTS = Path(__file__).parent / "weights" / "pose_landmark_full.tflite"
POINTS = 33
"""Of a body; two more tell the model's next crop."""
_GIVEN = 39


class Pose(NamedTuple):
    """What the model sees in one crop: `score` whether somebody is there (0 to 1), `points` (35, 2) in pixels of the
    picture, `seen` (33,) how sure the model is that each is in sight (0 to 1)."""

    score: float
    points: Array
    seen: Array


@cache
def _model() -> tuple["Interpreter", int, dict[str, int]]:
    with needed("Proposing moments and marks"):
        from ai_edge_litert.interpreter import Interpreter
    model = Interpreter(model_path=str(WEIGHTS), num_threads=1)
    model.allocate_tensors()
    outputs: dict[tuple[int, ...], int] = {tuple(one["shape"]): one["index"] for one in model.get_output_details()}
    named = {"points": outputs[1, 195], "score": outputs[1, 1], "outline": outputs[1, SIDE, SIDE, 1]}
    return model, model.get_input_details()[0]["index"], named


def pose_in(cutter: Cutter, crop: Crop) -> Pose:
    """The pose in a crop of a picture. Raises MissingFilmLibraryError without the extra `film`."""
    model, given, outputs = _model()
    model.set_tensor(given, cutter.cut(crop))
    model.invoke()
    rows = np.asarray(model.get_tensor(outputs["points"]), dtype=float).reshape(_GIVEN, 5)
    score = float(model.get_tensor(outputs["score"])[0, 0])
    return Pose(score, to_picture(crop, rows[: POINTS + 2, :2]), _logistic(rows[:POINTS, 3]))


def _logistic(values: Any) -> Array:
    return np.asarray(1 / (1 + np.exp(-np.clip(values, -50, 50))), dtype=float)
