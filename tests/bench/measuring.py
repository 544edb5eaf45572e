"""How near the measured values come to the truth, and how long measuring takes.

    python -m tests.bench.measuring

prints the median absolute error of every metric over invented bodies: clicks of 2 px, no placement error, the player
filling 80 % of a 1080-pixel picture's height, cameras 3 to 8 m away and 0.8 to 1.5 m high; then how
many of 100 intervals hold the truth from 1, 3 and 5 swings, and the time for one lesson of 12 stills.
"""

import sys
from dataclasses import replace
from time import perf_counter

import numpy as np
from scipy.stats import t as student

from reportgen.measuring.blur import SAMPLES, Noise
from reportgen.measuring.formulas import measures
from reportgen.measuring.stills import measure
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped
from tests.measuring import figures, pinhole

FACE_ON, DOWN = "face-on", "down-the-line"
MODES: dict[str, tuple[tuple[str, ...], bool]] = {
    "two views, distances": ((FACE_ON, DOWN), True),
    "two views, parallel": ((FACE_ON, DOWN), False),
    "face-on, distance": ((FACE_ON,), True),
    "down-the-line, distance": ((DOWN,), True),
}
METRICS = load_library(shipped("content"), shipped("content") / "no-academy")[0].metrics
MEASURES = measures(METRICS)


NONE = Noise(1.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
"""Clicks of a pixel, and nothing else."""
STILL = Noise(lag_ms=0.0)
"""What is declared, for bodies that stand still in every picture."""


def cameras(
    views: tuple[str, ...], pixels_per_metre: float, random: np.random.Generator, noise: Noise = NONE
) -> tuple[pinhole.View, ...]:
    """Cameras as an instructor may place them: 3 to 8 m away, 0.8 to 1.5 m high, down the line aimed at the hands."""
    return tuple(
        pinhole.View(
            view,
            distance=random.uniform(3, 8),
            height=random.uniform(0.8, 1.5),
            aside=random.normal(0, 0.15) if view == FACE_ON else random.uniform(0, 0.5),
            pixels_per_metre=pixels_per_metre,
            yaw_deg=random.normal(0, noise.yaw_deg),
            roll_deg=random.normal(0, noise.roll_deg),
        )
        for view in views
    )


def errors(
    mode: str, count: int, seed: int, noise: Noise = NONE, click_px: float | None = 2.0, swings: int = 1,
    samples: int = 128,
) -> dict[str, np.ndarray]:  # fmt: skip
    """By metric, (n, 3): error of the value, its u, and its degrees of freedom (infinite where it has none), for
    `count` bodies, each with a marker, a lesson and a stand of its own; `click_px` None draws 1 to 6 px."""
    views, distances = MODES[mode]
    random = np.random.default_rng(seed)
    figure = figures.bodies(count, random)
    truth = figures.truths(figure)
    found: dict[str, list[tuple[float, float, float]]] = {}
    for number in range(count):
        click = random.uniform(1, 6) if click_px is None else click_px
        seen = cameras(views, pinhole.filling(figure, number), random, noise)
        marker = pinhole.marker(figure, random, noise)
        taken = [
            still
            for _ in range(swings)
            for still in pinhole.stills(figure, number, seen, random, click, noise.still_mm, marker, distances)
        ]
        blur = replace(noise, click_px=click, scale_px=click)
        for reading in measure(taken, METRICS, "right", pinhole.sizes(taken), noise=blur, samples=samples)[0]:
            error = reading.value - truth[reading.metric][number]
            found.setdefault(reading.metric, []).append((error, reading.u, reading.dof or np.inf))
    return {metric: np.array(rows) for metric, rows in found.items()}


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


def coverage(swings: int, count: int, seed: int) -> list[str]:
    """How many of 100 intervals hold the truth, by metric, the fewest first: the noise is that which is declared."""
    found = errors("two views, distances", count, seed, STILL, click_px=None, swings=swings, samples=SAMPLES)
    held = {
        metric: 100 * float(np.mean(np.abs(rows[:, 0]) <= student.ppf(0.975, rows[:, 2]) * rows[:, 1]))
        for metric, rows in found.items()
    }
    return [f"{share:.1f} {metric}" for metric, share in sorted(held.items(), key=lambda item: item[1])]


def lesson_ms(times: int = 15) -> float:
    """Median time in milliseconds to measure one lesson of 12 stills, all metrics, both views."""
    random = np.random.default_rng(1)
    figure = figures.bodies(1, random)
    taken = pinhole.stills(figure, 0, cameras((FACE_ON, DOWN), 500.0, random), random, 3.0)
    sizes = pinhole.sizes(taken)
    spent = []
    for _ in range(times):
        start = perf_counter()
        measure(taken, METRICS, "right", sizes)
        spent.append(1000 * (perf_counter() - start))
    return float(np.median(spent))


if __name__ == "__main__":
    sys.stdout.write("\n".join(table(count=400, seed=7)) + "\n\n")
    for swings, count in ((1, 1500), (3, 800), (5, 500)):
        sys.stdout.write(f"{swings} swings: {', '.join(coverage(swings, count, seed=11))}\n")
    sys.stdout.write(f"one lesson of 12 stills: {lesson_ms():.0f} ms (target 60 ms)\n")
