"""Means of shots over a season of a player who does not change: how often it is said of them that something moved."""

from datetime import date, timedelta
from math import radians, tan
from random import Random

from reportgen.judging.course import course
from reportgen.judging.covariance import Taken
from reportgen.judging.scatter import with_own_scatter
from reportgen.judging.shot_means import main_shots
from reportgen.judging.shot_readings import shot_readings
from reportgen.measuring.shot_u import device_u
from reportgen.records.academy import ShotError
from reportgen.records.shot_table import Shot, ShotTable
from tests.judging.academies import library

PLAYER = {
    "face-angle": 1.0, "club-path": -2.0, "attack-angle": -3.0, "dynamic-loft": 24.0, "launch-angle": 17.0,
    "spin": 6000.0, "carry": 140.0, "height": 27.0, "strike-across": -3.0, "strike-up": 0.0,
}  # fmt: skip
SHARE = 0.78
"""Of the face in the start, as of an iron (measuring/ball.py)."""


def table(chance: Random) -> ShotTable:
    """Ten shots of one day: they scatter as the metrics say, days and the device too."""
    metrics, errors = library().metrics, ShotError()
    off = {
        word: chance.gauss(0, metrics[word].scatter.day) + chance.gauss(0, device_u(word, value, errors) or 0.0)
        for word, value in PLAYER.items()
    }
    shots = []
    for line in range(2, 12):
        one = {w: PLAYER[w] + off[w] + chance.gauss(0, metrics[w].scatter.swing) for w in PLAYER}
        start = SHARE * one["face-angle"] + (1 - SHARE) * one["club-path"]
        bent = 0.0085 * one["carry"] * (2.3 * (one["face-angle"] - one["club-path"]) + chance.gauss(0, 3))
        one |= {"start-direction": start, "side": one["carry"] * tan(radians(start)) + bent}
        numbers = {word.replace("-", "_"): value for word, value in one.items()}
        shots.append(Shot(file="shots.csv", line=line, club="7-iron", **numbers))
    return ShotTable(file="shots.csv", shots=tuple(shots))


def test_of_a_player_who_does_not_change_hardly_a_page_says_that_club_or_ball_has_moved():
    """Lessons 8 to 14 of 30 seasons, a lesson a week: 2 of 100 pages at most; drawn longer, it is one of 200."""
    chance, metrics = Random(3), library().metrics
    said = []
    for _ in range(30):
        past: dict[str, list[Taken]] = {}
        for week in range(14):
            moved = False
            for reading in shot_readings(main_shots((table(chance),), "7-iron", ShotError(), ()), "7-iron", metrics):
                taken = past.setdefault(reading.metric, [])
                taken.append(Taken(date(2026, 1, 5) + timedelta(weeks=week), reading))
                if week >= 7:
                    found = course(with_own_scatter(taken, metrics[reading.metric]), None, in_focus=False)
                    moved |= found is not None and found.rung == "has moved"
            if week >= 7:
                said.append(moved)
    assert sum(said) / len(said) <= 0.02
