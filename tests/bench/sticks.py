"""What sticks on the ground buy.

    python -m tests.bench.sticks

prints, for lessons without sticks, with sticks, and with sticks that are the scales as well, the error of each camera's
yaw and of some values (root mean square over invented bodies) beside the u that is said: habit, visit, still, yaw, roll
and scale plane drawn as declared, clicks of 3 px, the stick across laid square to 1 degree, cameras 3 to 8 m away.
"""

import sys
from collections.abc import Sequence

import numpy as np

from reportgen.measuring.blur import Noise
from reportgen.measuring.formulas import wanted_marks
from reportgen.measuring.sights import sights
from reportgen.measuring.stills import measure
from reportgen.records.stills import Still
from tests.bench.measuring import DOWN, FACE_ON, MEASURES, METRICS, cameras
from tests.measuring import figures, pinhole

SHOWN = (
    "pelvis-closed-top", "pelvis-open-impact", "thorax-closed-top", "thorax-open-impact", "side-bend-impact",
    "trail-heel-lift-impact",
)  # fmt: skip
MODES = {"without sticks": None, "sticks": False, "sticks as scales": True}
NOISE = Noise()


def table(count: int, seed: int) -> list[str]:
    """The table as Markdown: error / u."""
    columns = {mode: column(count, seed, as_scale) for mode, as_scale in MODES.items()}
    lines = ["| error / u | " + " | ".join(MODES) + " |", "| --- |" + " ---: |" * len(MODES)]
    for row in columns["sticks"]:
        lines.append(f"| {row} | " + " | ".join(columns[mode][row] for mode in MODES) + " |")
    return lines


def column(count: int, seed: int, as_scale: bool | None) -> dict[str, str]:
    """Error and u by what they are of; `as_scale` None is without sticks."""
    random = np.random.default_rng(seed)
    figure = figures.bodies(count, random)
    truth = figures.truths(figure)
    found: dict[str, list[tuple[float, float]]] = {}
    for number in range(count):
        seen = cameras((FACE_ON, DOWN), pinhole.filling(figure, number), random, NOISE)
        marker = pinhole.marker(figure, random, NOISE)
        taken = pinhole.stills(figure, number, seen, random, 3.0, NOISE.still_mm, marker)
        if as_scale is not None:
            taken = pinhole.with_sticks(taken, seen, random, 3.0, square_deg=1.0, as_scale=as_scale)
        for reading in measure(taken, METRICS, "right", pinhole.sizes(taken), noise=NOISE, samples=256)[0]:
            if reading.metric in SHOWN:
                found.setdefault(reading.metric, []).append((reading.value - truth[reading.metric][number], reading.u))
        for name, off in _yaws(taken, seen).items():
            found.setdefault(name, []).append(off)
    return {name: "{:.2f} / {:.2f}".format(*np.sqrt(np.mean(np.square(rows), axis=0))) for name, rows in found.items()}


def _yaws(taken: Sequence[Still], seen: Sequence[pinhole.View]) -> dict[str, tuple[float, float]]:
    """By view how far the yaw is off, and its u, in degrees."""
    every = sights(taken, "right", pinhole.sizes(list(taken)), NOISE, 128, wanted_marks(MEASURES))
    read = {sight.view: np.degrees(sight.yaw) for sight in every}
    return {
        f"yaw, {view.view}": (float(read[view.view][0]) - view.yaw_deg, float(np.std(read[view.view][-128:])))
        for view in seen
    }


if __name__ == "__main__":
    sys.stdout.write("\n".join(table(count=600, seed=3)) + "\n")
