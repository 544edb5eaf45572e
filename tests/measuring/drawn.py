"""The figure of the demo in a small academy on disk: its joints as marks, and blank pictures of the right size."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import yaml
from PIL import Image

from examples.draw_stills import MARKED, metre_tapes
from examples.drawn_lessons import CAMERAS, DRAWN
from examples.golfer import Camera, Pose, figure, pixel, project, true_values

LESSON = DRAWN[0]
POSES = LESSON.poses()
TRUE = true_values(*(figure(pose) for pose in POSES.values()))


def stills(
    poses: Mapping[str, Pose] = POSES,
    cameras: Sequence[Camera] = CAMERAS,
    click_px: float = 0.0,
    seed: int = 0,
    **more: Any,
) -> list[dict[str, Any]]:
    """The entries of `stills:` for some poses, the marks off by `click_px`; `more` goes into each of them."""
    hand = np.random.default_rng(seed)
    found = []
    for checkpoint, pose in poses.items():
        for camera in cameras:
            seen = project(figure(pose), camera, pose.plays)
            places = {name: np.array(seen[name]) + hand.normal(0, click_px, 2) for name in MARKED[camera.view]}
            ends = [pixel(end, camera, pose.plays) for end in metre_tapes()[camera.view]]
            found.append(
                {
                    "file": f"../stills/{checkpoint}-{camera.view}.png",
                    "view": camera.view,
                    "checkpoint": checkpoint,
                    "scale": {"from": _written(ends[0]), "to": _written(ends[1]), "length": "1.00 m"},
                    "camera": {"distance": f"{camera.distance:.2f} m"},
                    "marks": {name: _written(place) for name, place in places.items()},
                    **more,
                }
            )
    return found


def _written(place: Sequence[float]) -> list[float]:
    return [round(float(value), 3) for value in place]


def block(of: Sequence[Mapping[str, Any]]) -> str:
    """The stills as they stand in a sheet."""
    return str(yaml.safe_dump({"stills": list(of)}, sort_keys=False))


def write_pictures(lessons: Path, of: Sequence[Mapping[str, Any]]) -> None:
    """A blank picture for each of the stills, beside the folder of the sheets."""
    lessons.mkdir(parents=True, exist_ok=True)
    for still in of:
        file = (lessons / still["file"]).resolve()
        file.parent.mkdir(parents=True, exist_ok=True)
        Image.new("1", CAMERAS[0].size, 1).save(file)
