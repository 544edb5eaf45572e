"""The season in the instructor's words and units: each line with the names of what it counts."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from reportgen.judging.reliability import Agreement
from reportgen.planning.repeatability import Repeatability, TwoWays
from reportgen.planning.scatter import PooledScatter
from reportgen.planning.season import DrillCourses, Fault, NotMoved, Season
from reportgen.records.content import Metric
from reportgen.records.units import convert
from reportgen.saying.readers import Reader, library_for
from reportgen.sheets.library import Library


@dataclass(frozen=True)
class ToldFault(Fault):
    """By the name of its metric."""

    name: str


@dataclass(frozen=True)
class ToldNotMoved(NotMoved):
    """By the name of its metric."""

    name: str


@dataclass(frozen=True)
class ToldCourses(DrillCourses):
    """By the title of its drill and the name of its metric."""

    title: str
    name: str


@dataclass(frozen=True)
class ToldRepeatability(Repeatability):
    """By the name of its metric, with as many decimals as are shown."""

    name: str
    decimals: int


@dataclass(frozen=True)
class ToldTwoWays(TwoWays):
    """By the name of its metric, with as many decimals as are shown."""

    name: str
    decimals: int


@dataclass(frozen=True)
class ToldScatter(PooledScatter):
    """By the name of its metric, with as many decimals as are shown."""

    name: str
    decimals: int


@dataclass(frozen=True)
class ToldSeason(Season):
    """The season, each part with its names; scatter and differences have one decimal more than a value."""

    faults: tuple[ToldFault, ...]
    not_moved: tuple[ToldNotMoved, ...]
    drills: tuple[ToldCourses, ...]
    repeatability: tuple[ToldRepeatability, ...]
    two_ways: tuple[ToldTwoWays, ...]
    scatter: tuple[ToldScatter, ...]


def told_season(season: Season, library: Library, reader: Reader) -> ToldSeason:
    """The season as the instructor reads it. `library` is that by which the lessons were judged."""
    theirs = library_for(reader, library)
    metrics, drills = theirs.metrics, theirs.drills
    return ToldSeason(
        **{
            **vars(season),
            "faults": tuple(ToldFault(**vars(one), name=metrics[one.metric].name) for one in season.faults),
            "not_moved": tuple(ToldNotMoved(**vars(one), name=metrics[one.metric].name) for one in season.not_moved),
            "drills": tuple(
                ToldCourses(**vars(one), title=drills[one.drill].title, name=metrics[one.metric].name)
                for one in season.drills
            ),
            "repeatability": tuple(_repeatability(one, metrics[one.metric]) for one in season.repeatability),
            "two_ways": tuple(_two_ways(one, metrics[one.metric]) for one in season.two_ways),
            "scatter": tuple(_scatter(one, metrics[one.metric]) for one in season.scatter),
        }
    )


def _repeatability(one: Repeatability, metric: Metric) -> ToldRepeatability:
    sem, mdc = _into([one.sem, one.mdc], one.unit, metric)
    told = replace(one, unit=metric.unit, sem=sem, mdc=mdc)
    return ToldRepeatability(**vars(told), name=metric.name, decimals=metric.decimals + 1)


def _two_ways(one: TwoWays, metric: Metric) -> ToldTwoWays:
    of = one.agreement
    bias, sd, low, high, se_bias, se_limit = _into(
        [of.bias, of.sd, *of.limits, of.se_bias, of.se_limit], one.unit, metric
    )
    agreement = Agreement(bias, sd, (low, high), se_bias, se_limit, of.pairs)
    told = replace(one, unit=metric.unit, agreement=agreement)
    return ToldTwoWays(**vars(told), name=metric.name, decimals=metric.decimals + 1)


def _scatter(one: PooledScatter, metric: Metric) -> ToldScatter:
    usual_swing, usual_day = _into([one.usual_swing, one.usual_day], one.unit, metric)
    swing, day = (None if sd is None else _into([sd], one.unit, metric)[0] for sd in (one.swing, one.day))
    told = replace(one, unit=metric.unit, swing=swing, usual_swing=usual_swing, day=day, usual_day=usual_day)
    return ToldScatter(**vars(told), name=metric.name, decimals=metric.decimals + 1)


def _into(figures: Iterable[float], unit: str, metric: Metric) -> list[float]:
    return [convert(figure, unit, metric.unit) for figure in figures]
