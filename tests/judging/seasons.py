"""Seasons of lessons drawn at random: a player whose true values are known, blurred as the program declares it."""

from datetime import date, timedelta
from functools import cache
from math import sqrt

import numpy as np

from reportgen.judging.change import RESIDUE
from reportgen.judging.covariance import Taken
from reportgen.measuring.stills import measure
from reportgen.records.findings import Parts, Reading
from tests.bench.measuring import METRICS
from tests.measuring import figures

DAYS = [date(2026, 1, 1) + timedelta(weeks=week) for week in range(14)]


@cache
def parts_of(swings: int) -> dict[str, Parts]:
    """The parts of all metrics of stills, from one body seen by two cameras 4.4 and 4.2 m away."""
    random = np.random.default_rng(1)
    views = figures.View("face-on", 4.4, 1.1), figures.View("down-the-line", 4.2, 1.1, 0.3)
    stills = figures.stills(figures.bodies(1, random), 0, views, random)
    filmed = [still.model_copy(update={"fps": 120.0}) for still in stills]
    found = {}
    for reading in measure(filmed, METRICS, "right", figures.sizes(filmed))[0]:
        scatter, one = METRICS[reading.metric].scatter, reading.parts
        player = sqrt(scatter.day**2 + scatter.swing**2 / swings)
        fewer = {"still": one.still / sqrt(swings), "clock": one.clock / sqrt(swings), "player": player}
        found[reading.metric] = one.model_copy(update=fewer)
    return found


def season(parts, true, random, *, kept: bool):
    """Lessons of a player whose true values are these, blurred as declared."""
    alone = sqrt(parts.visit**2 + parts.still**2 + parts.clock**2 + parts.player**2)
    habit, stand = random.normal(0, parts.habit), random.normal(0, parts.camera)
    lessons = []
    for day, value in zip(DAYS, true, strict=True):
        camera = stand + random.normal(0, RESIDUE * parts.camera) if kept else random.normal(0, parts.camera)
        read = value + habit + camera + random.normal(0, alone)
        reading = Reading(metric="x", value=read, u=1, how="still", parts=parts, stand="kept" if kept else None)
        lessons.append(Taken(day, reading))
    return lessons
