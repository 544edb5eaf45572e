"""The tables of a lesson, club by club: where shots landed, how they flew, where the face met them; held against the
tables of earlier dates."""

from collections.abc import Mapping, Sequence
from datetime import date
from math import fsum, hypot, sqrt
from typing import NamedTuple, TypeVar

from reportgen.judging.conformity import interval
from reportgen.judging.counts import miss_side
from reportgen.judging.pattern import MISHIT, pattern
from reportgen.judging.pattern_course import Table, pattern_course
from reportgen.judging.putts import by_distance_alone
from reportgen.judging.shot_doubts import curve_of
from reportgen.judging.shot_groups import Group, groups_of
from reportgen.judging.shot_remarks import shot_remarks
from reportgen.judging.two_patterns import two_patterns
from reportgen.measuring.ball import Figure, curve
from reportgen.measuring.shot_u import shot_u
from reportgen.measuring.typed import dof_of, mean_and_sd
from reportgen.records.academy import ShotError
from reportgen.records.patterns import Flight, Flights, Landed, Mean, ShotsFound, ShotsOfDay, Struck
from reportgen.records.shot_findings import MissSide
from reportgen.records.shot_remarks import ShotRemark
from reportgen.records.shot_table import Shot, ShotTable

DRAWN = 100
"""Shots that a fact keeps for drawing; a picture with more shows no more."""
LINES_TOLD = 12
"""Lines of a table that one remark names; how many there are it says in any case."""
BESIDE = 2.0
"""A shot landed beside the target line where it is so many of its standard uncertainties from it."""

_One = TypeVar("_One")


class TablesOf(NamedTuple):
    """The tables of one lesson."""

    on: date
    tables: tuple[ShotTable, ...]


def shots_found(now: TablesOf, earlier: Sequence[TablesOf], errors: ShotError) -> tuple[ShotsFound, ...]:
    """What the tables of a lesson show, in the order of their first shots; `earlier` are those of the student's lessons
    before it, oldest first. Only the same club, surface and device are held against each other. Shots that
    are counted by distance have no pattern."""
    return tuple(
        _found(group, now, [one for one in earlier if one.on < now.on], errors)
        for group in groups_of(now.tables)
        if not by_distance_alone(group.shots)
    )


def remarks_found(now: TablesOf) -> tuple[ShotRemark, ...]:
    """What a reader should know of the tables, each remark with its first LINES_TOLD lines and the number of all."""
    return tuple(
        remark.model_copy(update={"at": remark.at[:LINES_TOLD], "figures": {**remark.figures, "lines": len(remark.at)}})
        for remark in shot_remarks(now.tables, now.on)
    )


def _found(group: Group, now: TablesOf, earlier: Sequence[TablesOf], errors: ShotError) -> ShotsFound:
    key = group[:3]
    found = ShotsFound(
        club=group.club,
        surface=group.surface,
        device=group.device,
        now=_of_day(now.on, group.shots, _own_u(now.tables), errors),
    )
    same: dict[date, tuple[Shot, ...]] = {}
    for one in earlier:
        for other in groups_of(one.tables):
            if other[:3] == key:
                same[one.on] = (*same.get(one.on, ()), *other.shots)
    if not same:
        return found
    last = max(same)
    tables = [table for one in earlier if one.on == last for table in one.tables]
    dates = [Table(on, _landings(shots)) for on, shots in sorted(same.items())]
    today = Table(now.on, _landings(group.shots))
    return found.model_copy(
        update={
            "before": _of_day(last, same[last], _own_u(tables), errors),
            "against": two_patterns(dates[-1].shots, today.shots),
            "course": pattern_course([*dates, today]),
        }
    )


def _own_u(tables: Sequence[ShotTable]) -> Mapping[str, Mapping[str, float]]:
    return {table.file: table.u for table in tables}


def _of_day(on: date, shots: Sequence[Shot], own: Mapping[str, Mapping[str, float]], errors: ShotError) -> ShotsOfDay:
    of_device = _Device(own, errors)
    places = _landings(shots)
    found = pattern(places) if places else None
    short = MISHIT * found.carry.median if found else 0.0
    return ShotsOfDay(
        on=on,
        shots=len(shots),
        landed=_some([Landed(side=side, carry=carry, mishit=carry < short) for side, carry in places]),
        pattern=found,
        carry=None if found else _carry(shots, of_device),
        misses=_misses(shots, of_device),
        struck=_struck(shots, of_device),
        flights=_flights(shots, of_device),
    )


class _Device(NamedTuple):
    """How sure the numbers of shots are."""

    own: Mapping[str, Mapping[str, float]]
    errors: ShotError

    def u_of(self, word: str, shot: Shot) -> float:
        """The standard uncertainty of a number that the shot has."""
        return shot_u(word, shot, self.errors, self.own.get(shot.file, {})) or 0.0

    def mean(self, word: str, shots: Sequence[Shot]) -> Figure:
        """The mean of a word that all these shots have, and the mean of the standard uncertainties of single shots: of
        what is a share of a number, that of the mean of its size."""
        field, n = word.replace("-", "_"), len(shots)
        u = 0.0
        for file in {shot.file for shot in shots}:
            of_file = [shot for shot in shots if shot.file == file]
            carries = [shot.carry for shot in of_file if shot.carry is not None]
            sizes = {field: fsum(abs(getattr(shot, field)) for shot in of_file) / len(of_file)}
            if word == "side" and carries:
                sizes["carry"] = fsum(carries) / len(carries)
            u += len(of_file) / n * self.u_of(word, of_file[0].model_copy(update=sizes))
        return Figure(fsum(getattr(shot, field) for shot in shots) / n, u)


def _landings(shots: Sequence[Shot]) -> list[tuple[float, float]]:
    return [(shot.side, shot.carry) for shot in shots if shot.side is not None and shot.carry is not None]


def _misses(shots: Sequence[Shot], device: _Device) -> MissSide | None:
    sides = [(shot.side, device.u_of("side", shot)) for shot in shots if shot.side is not None]
    if not sides:
        return None
    beside = [side for side, u in sides if abs(side) > BESIDE * u]
    return miss_side(sum(side > 0 for side in beside), sum(side < 0 for side in beside))


def _carry(shots: Sequence[Shot], device: _Device) -> Mean | None:
    flown = [shot for shot in shots if shot.carry is not None]
    return _mean([shot.carry or 0.0 for shot in flown], device.mean("carry", flown).u) if flown else None


def _struck(shots: Sequence[Shot], device: _Device) -> Struck | None:
    met = [shot for shot in shots if shot.strike_across is not None]
    if not met:
        return None
    high = [shot for shot in met if shot.strike_up is not None]
    return Struck(
        across=_mean([shot.strike_across or 0.0 for shot in met], device.mean("strike-across", met).u),
        up=_mean([shot.strike_up or 0.0 for shot in high], device.mean("strike-up", high).u) if high else None,
        places=_some([(shot.strike_across or 0.0, shot.strike_up or 0.0) for shot in met]),
    )


def _flights(shots: Sequence[Shot], device: _Device) -> Flights | None:
    flown = [shot for shot in shots if curve_of(shot) is not None]
    if not flown:
        return None
    side, carry, start = (device.mean(word, flown) for word in ("side", "carry", "start-direction"))
    # Of the middle shot: what the device gets wrong is nearly the same in all of them.
    u_curve = curve(side, carry, start).u
    return Flights(
        start=_mean([shot.start_direction or 0.0 for shot in flown], start.u),
        curve=_mean([curve_of(shot) or 0.0 for shot in flown], u_curve),
        each=_some(
            [
                Flight(start=shot.start_direction or 0.0, side=shot.side or 0.0, carry=shot.carry or 0.0)
                for shot in flown
            ]
        ),
    )


def _mean(numbers: Sequence[float], u_device: float) -> Mean:
    """The mean of single shots. What the device gets wrong is taken as alike in all of them: none of it averages out
    (JCGM 100:2008, 4.2.3 and G.4.1)."""
    values, n = tuple(numbers), len(numbers)
    if n < 2:
        return Mean(mean=values[0], interval=interval(values[0], u_device), shots=1)
    mean, sd = mean_and_sd(values)
    u_mean = sd / sqrt(n)
    u = hypot(u_mean, u_device)
    return Mean(mean=mean, interval=interval(mean, u, dof_of(u, u_mean, n) if u > 0 else None), shots=n)


def _some(of: Sequence[_One]) -> tuple[_One, ...]:
    """At most DRAWN of them, evenly spaced."""
    if len(of) <= DRAWN:
        return tuple(of)
    return tuple(of[number * len(of) // DRAWN] for number in range(DRAWN))
