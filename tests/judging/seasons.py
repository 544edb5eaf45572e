"""Seasons of lessons drawn at random: a player whose true values are known, blurred as the program declares it."""

from datetime import date, timedelta
from functools import cache
from math import sqrt
from statistics import NormalDist

import numpy as np

from reportgen.judging.conformity import chances, given_the_range, too_coarse, verdict
from reportgen.judging.course import course
from reportgen.judging.covariance import Taken
from reportgen.judging.difference import RESIDUE
from reportgen.judging.level import level
from reportgen.measuring.stills import measure
from reportgen.records.findings import BandUsed, Parts, Reading
from tests.bench.measuring import METRICS
from tests.judging.academies import library
from tests.measuring import figures, pinhole

DAYS = [date(2026, 1, 1) + timedelta(weeks=week) for week in range(14)]


@cache
def parts_of(swings: int) -> dict[str, Parts]:
    """The parts of all metrics of stills, from one body seen by two cameras 4.4 and 4.2 m away."""
    random = np.random.default_rng(1)
    views = pinhole.View("face-on", 4.4, 1.1), pinhole.View("down-the-line", 4.2, 1.1, 0.3)
    stills = pinhole.stills(figures.bodies(1, random), 0, views, random)
    frames = {
        "delivery": 95,
        "impact": 100,
    }  # as the marking page writes them: the films tell that they are of one moment
    filmed = [still.model_copy(update={"fps": 120.0, "frame": frames.get(still.checkpoint)}) for still in stills]
    found = {}
    for reading in measure(filmed, METRICS, "right", pinhole.sizes(filmed))[0]:
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


def ranges():
    """The two-sided range of each metric of stills that is for adults."""
    found = {}
    for name in parts_of(1):
        bands = [b for b in library().bands.get(name, ()) if not b.context and b.low is not None and b.high is not None]
        if bands:
            found[name] = BandUsed(band=bands[0].id, low=bands[0].low, high=bands[0].high, basis=bands[0].basis)
    return found


def called(lessons, metric, band):
    """The verdict of lessons; None where the range is only shown."""
    found = level(lessons, METRICS[metric], band)
    if too_coarse(found.u, band.low, band.high, 0.8):
        return None
    return verdict(chances(*given_the_range(found.value, found.u, band.low, band.high), band.low, band.high), 0.8)


def _halves(band):
    return (band.low + band.high) / 2, (band.high - band.low) / 2


def said_outside(players, seed):
    """Of pages of lessons 8 to 14 the share with a false "out of range", and of all "out of range" the false share."""
    random, bands = np.random.default_rng(seed), ranges()
    pages = wrong_pages = out = wrong = 0
    for _ in range(players):
        truths = {name: random.normal(_halves(band)[0], 0.6 * _halves(band)[1]) for name, band in bands.items()}
        seasons = {name: season(parts_of(1)[name], np.full(14, truths[name]), random, kept=False) for name in bands}
        for count in (8, 10, 12, 14):
            said = {name: called(seasons[name][:count], name, band) for name, band in bands.items()}
            outside = [name for name, verdict in said.items() if verdict in ("below range", "above range")]
            false = [name for name in outside if bands[name].low <= truths[name] <= bands[name].high]
            pages, wrong_pages = pages + 1, wrong_pages + bool(false)
            out, wrong = out + len(outside), wrong + len(false)
    return wrong_pages / pages, wrong / out


def found_outside(players, seed):
    """Of players who are out by half a half-width or more, the share that is found in lessons 8, 11 and 14."""
    random, normal, found = np.random.default_rng(seed), NormalDist(), []
    for name, band in ranges().items():
        middle, half = _halves(band)
        for _ in range(players):
            beyond = 0.6 * normal.inv_cdf(random.uniform(normal.cdf(2.5), 1 - 1e-9)) * random.choice([-1, 1])
            lessons = season(parts_of(1)[name], np.full(14, middle + half * beyond), random, kept=False)
            right = "above range" if beyond > 0 else "below range"
            verdicts = [called(lessons[:count], name, band) for count in (8, 11, 14)]
            found += [verdict == right for verdict in verdicts if verdict is not None]
    return np.mean(found)


def said_moved_falsely(players, seed):
    """Of pages of players who do not change (18 metrics, three in focus, lessons 3 to 14, one swing each, the stand put
    up anew) the share that says of something that it has moved."""
    random, pages, false = np.random.default_rng(seed), 0, 0
    for _ in range(players):
        lessons = [season(parts, np.zeros(14), random, kept=False) for parts in parts_of(1).values()]
        for last in range(3, 15):
            said = [course(one[:last], None, in_focus=k < 3).rung for k, one in enumerate(lessons)]
            pages, false = pages + 1, false + ("has moved" in said)
    return false / pages


def found_moving(players, seed, lesson=12):
    """Of players whose pelvis turns less by 20° along 14 lessons (three swings, the stand kept, in focus) the share of
    whom that is said by a lesson."""
    random, parts = np.random.default_rng(seed), parts_of(3)["pelvis-open-impact"]
    seasons = [season(parts, np.linspace(0, -20, 14), random, kept=True) for _ in range(players)]
    return np.mean([course(lessons[:lesson], None, in_focus=True).rung == "has moved" for lessons in seasons])
