"""How near the measured values come to the truth, and how long measuring takes.

    python -m tests.bench.measuring

prints the median absolute error of every metric over invented bodies: clicks of 2 px, no placement error, the player
filling 80 % of a 1080-pixel picture's height, cameras 3 to 8 m away and 0.8 to 1.5 m high; then the time for one lesson
of 12 stills.
"""

import sys
from time import perf_counter
from types import SimpleNamespace
from typing import Any

import numpy as np

from reportgen.measuring.metrics import MEASURES
from reportgen.measuring.sights import Noise
from reportgen.measuring.stills import measure
from tests.measuring import figures

FACE_ON, DOWN = "face-on", "down-the-line"
MODES: dict[str, tuple[tuple[str, ...], bool]] = {
    "two views, distances": ((FACE_ON, DOWN), True),
    "two views, parallel": ((FACE_ON, DOWN), False),
    "face-on, distance": ((FACE_ON,), True),
    "down-the-line, distance": ((DOWN,), True),
}
METRICS: dict[str, Any] = {m.metric: SimpleNamespace(id=m.metric, name=m.metric, unit=m.unit) for m in MEASURES}
"""Only these words of a metric count here."""


def cameras(views: tuple[str, ...], pixels_per_metre: float, random: np.random.Generator) -> tuple[figures.View, ...]:
    """Cameras as an instructor may place them: 3 to 8 m away, 0.8 to 1.5 m high, down the line aimed at the hands."""
    return tuple(
        figures.View(
            view,
            distance=random.uniform(3, 8),
            height=random.uniform(0.8, 1.5),
            aside=random.normal(0, 0.15) if view == FACE_ON else random.uniform(0, 0.5),
            pixels_per_metre=pixels_per_metre,
        )
        for view in views
    )


def errors(
    mode: str, count: int, seed: int, click_px: float | None = 2.0, placement_mm: float = 0.0, samples: int = 100
) -> dict[str, np.ndarray]:
    """By metric, (n, 2): error of the value and its u, for `count` bodies; `click_px` None draws 1 to 6 px."""
    views, distances = MODES[mode]
    random = np.random.default_rng(seed)
    figure = figures.bodies(count, random)
    truth = figures.truths(figure)
    found: dict[str, list[tuple[float, float]]] = {}
    for number in range(count):
        click = random.uniform(1, 6) if click_px is None else click_px
        seen = cameras(views, figures.filling(figure, number), random)
        taken = figures.stills(figure, number, seen, random, click, placement_mm, distances)
        noise = Noise(click, placement_mm, click)
        for reading in measure(taken, METRICS, "right", figures.sizes(taken), noise=noise, samples=samples)[0]:
            error = reading.value - truth[reading.metric][number]
            found.setdefault(reading.metric, []).append((error, reading.u))
    return {metric: np.array(pairs) for metric, pairs in found.items()}


def table(count: int, seed: int) -> list[str]:
    """The table of median absolute errors, as Markdown."""
    by_mode = {mode: errors(mode, count, seed) for mode in MODES}
    lines = ["| metric | unit | " + " | ".join(MODES) + " |", "| --- | --- |" + " ---: |" * len(MODES)]
    for wanted in MEASURES:
        cells = [
            f"{np.median(np.abs(found[wanted.metric][:, 0])):.2f}" if wanted.metric in found else "–"
            for found in by_mode.values()
        ]
        lines.append(f"| `{wanted.metric}` | {wanted.unit} | " + " | ".join(cells) + " |")
    return lines


def lesson_ms(times: int = 15) -> float:
    """Median time in milliseconds to measure one lesson of 12 stills, all metrics, both views."""
    random = np.random.default_rng(1)
    figure = figures.bodies(1, random)
    taken = figures.stills(figure, 0, cameras((FACE_ON, DOWN), 500.0, random), random, 3.0)
    sizes = figures.sizes(taken)
    spent = []
    for _ in range(times):
        start = perf_counter()
        measure(taken, METRICS, "right", sizes)
        spent.append(1000 * (perf_counter() - start))
    return float(np.median(spent))


if __name__ == "__main__":
    sys.stdout.write("\n".join(table(count=400, seed=7)) + "\n\n")
    sys.stdout.write(f"one lesson of 12 stills: {lesson_ms():.0f} ms (target 60 ms)\n")
