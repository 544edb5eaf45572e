"""How well an academy measures: how single swings scatter, and how one way of measuring differs from another."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import get_args

from reportgen.judging.reliability import (
    Agreement,
    bland_altman,
    icc_one_way,
    minimal_detectable_change,
    standard_error_of_measurement,
)
from reportgen.records.findings import Finding, Reading
from reportgen.records.words import MOMENTS, How

LESSONS_AT_LEAST = 5
"""Lessons with repeated swings below which nothing is said of repeatability."""
PAIRS_AT_LEAST = 10
"""Values taken in two ways below which nothing is said of how the ways agree."""

_WAYS: Sequence[How] = get_args(How)


@dataclass(frozen=True)
class Repeatability:
    """Of single swings of one metric, measured in one way: standard error of measurement and minimal detectable change
    in the unit, and the intraclass correlation over all lessons with repeated swings."""

    metric: str
    how: How
    views: int
    unit: str
    lessons: int
    swings: int
    sem: float
    mdc: float
    icc: float


@dataclass(frozen=True)
class TwoWays:
    """How far values taken by `how` differ from those taken by `other` in the same lessons (first minus second)."""

    metric: str
    how: How
    other: How
    unit: str
    agreement: Agreement


def others_of(finding: Finding) -> Sequence[Reading]:
    """The readings that the lesson has of the finding's metric by other ways than its own."""
    return tuple(reading for reading in finding.also if reading.how != finding.how)


def repeatability(findings: Iterable[Finding]) -> tuple[Repeatability, ...]:
    """Of every metric and way of measuring with enough lessons of two swings or more, in the order of the swing. Tables
    of shots are left out: clubs and devices are mixed there, and the pattern of the shots says more."""
    groups: dict[tuple[str, How, int], list[Finding]] = defaultdict(list)
    for finding in findings:
        if len(finding.swings) > 1 and not (finding.of_shots and finding.of_shots.table):
            groups[finding.metric, finding.how, finding.views].append(finding)
    enough = [found for found in groups.values() if len(found) >= LESSONS_AT_LEAST]
    return tuple(_repeatable(found) for found in sorted(enough, key=lambda found: _place(found[-1])))


def _repeatable(findings: Sequence[Finding]) -> Repeatability:
    last, swings = findings[-1], [finding.swings for finding in findings]
    sem = standard_error_of_measurement(swings)
    return Repeatability(
        metric=last.metric,
        how=last.how,
        views=last.views,
        unit=last.unit,
        lessons=len(swings),
        swings=sum(map(len, swings)),
        sem=sem,
        mdc=minimal_detectable_change(sem),
        icc=icc_one_way(swings),
    )


def two_ways(findings: Iterable[Finding]) -> tuple[TwoWays, ...]:
    """Of every metric that enough lessons have in two ways; by eye comes before pictures, pictures before a sensor."""
    groups: dict[tuple[str, How, How], list[tuple[float, float]]] = defaultdict(list)
    last: dict[str, Finding] = {}
    for finding in findings:
        for reading in others_of(finding):
            both = [(finding.how, finding.value), (reading.how, reading.value)]
            (how, value), (other, against) = sorted(both, key=lambda taken: _WAYS.index(taken[0]))
            groups[finding.metric, how, other].append((value, against))
            last[finding.metric] = finding
    rows = []
    for (metric, how, other), pairs in groups.items():
        if len(pairs) >= PAIRS_AT_LEAST:
            of = last[metric]
            rows.append((of, TwoWays(metric, how, other, of.unit, bland_altman(pairs))))
    return tuple(row for _, row in sorted(rows, key=lambda row: _place(row[0])))


def _place(finding: Finding) -> tuple[int, str, str]:
    return MOMENTS.index(finding.checkpoint), finding.metric, finding.how
