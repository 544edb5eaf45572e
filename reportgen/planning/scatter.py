"""How far swings and days of an academy's players lie apart, all students together."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from reportgen.judging.fair import is_fair
from reportgen.judging.scatter import Seen, days_seen, pooled, swings_seen, together, with_scatter
from reportgen.records.content import Metric
from reportgen.records.findings import Finding, Reading
from reportgen.records.report import LessonReport
from reportgen.records.words import MOMENTS

DOF_AT_LEAST = 4.0
"""Degrees of freedom below which a standard deviation is not shown: it could be half or three times as much."""


@dataclass(frozen=True)
class PooledScatter:
    """Of one metric, standard deviations in its unit: of swings of a day and of days, beyond what measuring explains,
    None where too little shows them; what is usual; and of how many lessons and pairs of lessons they are."""

    metric: str
    unit: str
    swing: float | None
    usual_swing: float
    lessons: int
    day: float | None
    usual_day: float
    pairs: int


class PlayerScatter(NamedTuple):
    """What the lessons of one student show of a metric."""

    metric: str
    swing: Seen
    day: Seen


def scatter_of_player(reports: Sequence[LessonReport], metrics: Mapping[str, Metric]) -> Iterator[PlayerScatter]:
    """Of every metric with a usual scatter what one student's lessons, oldest first, show."""
    usually = {name: metric.scatter for name, metric in metrics.items() if metric.scatter is not None}
    found: dict[str, list[tuple[str, Reading]]] = defaultdict(list)
    for report in reports:
        for finding in report.findings:
            if finding.metric in usually:
                found[finding.metric].append((report.club, _reading(finding)))
    for name, taken in found.items():
        usual = usually[name]
        swing = swings_seen([reading for _, reading in taken], usual)
        settled = usual.model_copy(update={"swing": pooled(usual.swing, swing)})
        known = [(club, with_scatter(reading, settled)) for club, reading in taken]
        yield PlayerScatter(name, swing, days_seen(_fair_pairs(known), settled))


def _fair_pairs(taken: Sequence[tuple[str, Reading]]) -> Iterator[tuple[Reading, Reading]]:
    """Each reading and the last before it that it may fairly be held against."""
    for number, (club, reading) in enumerate(taken):
        before = (one for then, one in reversed(taken[:number]) if is_fair(reading, club, one, then))
        if (last := next(before, None)) is not None:
            yield last, reading


def pooled_scatter(players: Iterable[PlayerScatter], metrics: Mapping[str, Metric]) -> tuple[PooledScatter, ...]:
    """All students together, in the order of the swing; a metric of which too little is seen is left out."""
    by_metric: dict[str, list[PlayerScatter]] = defaultdict(list)
    for player in players:
        by_metric[player.metric].append(player)
    rows = []
    for name in sorted(by_metric, key=lambda name: (MOMENTS.index(metrics[name].checkpoint), name)):
        swing, day = (together(getattr(one, part) for one in by_metric[name]) for part in ("swing", "day"))
        usual = metrics[name].scatter
        if usual is not None and max(swing.dof, day.dof) >= DOF_AT_LEAST:
            row = PooledScatter(
                metric=name,
                unit=metrics[name].unit,
                swing=_shown(swing),
                usual_swing=usual.swing,
                lessons=swing.lessons,
                day=_shown(day),
                usual_day=usual.day,
                pairs=day.lessons,
            )
            rows.append(row)
    return tuple(rows)


def _shown(seen: Seen) -> float | None:
    return seen.sd if seen.dof >= DOF_AT_LEAST else None


def _reading(finding: Finding) -> Reading:
    """The reading that a finding is of, as a comparison needs it."""
    return Reading(
        metric=finding.metric, value=finding.value, u=finding.u, dof=finding.dof, how=finding.how, views=finding.views,
        swings=finding.swings, parts=finding.parts, marked_by=finding.marked_by, stand=finding.stand,
        of_shots=finding.of_shots,
    )  # fmt: skip
