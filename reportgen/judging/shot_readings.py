"""A table of shots -> readings of club and ball: the mean of the shots of one club, as sure as shots and device are."""

from collections.abc import Iterator, Mapping
from math import hypot

from reportgen.judging.shot_means import MainShots
from reportgen.measuring.player import of_player
from reportgen.measuring.typed import dof_of
from reportgen.records.content import Metric
from reportgen.records.findings import OfShots, Parts, Reading
from reportgen.records.shot_table import UNIT_OF
from reportgen.records.units import convert, convertible


def shot_readings(main: MainShots | None, club: str, metrics: Mapping[str, Metric]) -> tuple[Reading, ...]:
    """The readings that the main shots of a lesson with this `club` give, in the metrics' units; none where they are of
    another club, which neither ranges nor earlier values of this one are for.

    A word has a reading from LEAST shots on, and where its side is not in doubt. What the device gets wrong is alike in
    all shots and does not average out; the scatter of the shots does (JCGM 100:2008, 4.2.3 and G.4.1).
    """
    if main is None or main.group.club != club:
        return ()
    return tuple(_readings(main, metrics))


def _readings(main: MainShots, metrics: Mapping[str, Metric]) -> Iterator[Reading]:
    of_shots = OfShots(club=main.group.club, surface=main.group.surface, device=main.group.device, table=True)
    for word, average in main.averages.items():
        metric = metrics.get(word)
        if metric is None or word in main.doubted or not convertible(UNIT_OF[word], metric.unit):
            continue
        to_metric = convert(1.0, UNIT_OF[word], metric.unit)
        device = average.device * to_metric or metric.uncertainty.sensor or 0.0
        u_mean, swings = average.u_mean * to_metric, tuple([value * to_metric for value in average.numbers])
        u = hypot(u_mean, device)
        if u > 0:
            yield Reading(
                metric=word,
                value=average.mean * to_metric,
                u=u,
                dof=dof_of(u, u_mean, len(swings)),
                how="sensor",
                swings=swings,
                parts=Parts(visit=device, swing=u_mean, player=of_player(metric.scatter, len(swings), u_mean)),
                of_shots=of_shots,
            )
