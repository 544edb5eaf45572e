"""What drills are for, in words, and the index of the library by it."""

from collections.abc import Mapping
from typing import Any, get_args

from reportgen.languages.speaking import say
from reportgen.records.content import Drill, Metric
from reportgen.records.words import MOMENTS, Direction


def purpose(metric: Metric, when: Direction) -> str:
    """What a drill does for a metric on one side of its range, in the words of the priority it serves."""
    side = metric.below if when == "below" else metric.above
    if side:
        return side.work_on
    below = when == "below"
    return (
        say("{metric}, below the range", metric=metric.name)
        if below
        else say("{metric}, above the range", metric=metric.name)
    )


def served_by(drill: Drill, metrics: Mapping[str, Metric]) -> list[str]:
    """What one drill is for, each purpose once."""
    return list(dict.fromkeys(purpose(metrics[s.metric], s.when) for s in drill.serves))


def by_purpose(drills: Mapping[str, Drill], metrics: Mapping[str, Metric]) -> list[dict[str, Any]]:
    """The drills by checkpoint and purpose, in the order of the swing."""
    groups = []
    for moment in MOMENTS:
        entries: list[dict[str, Any]] = []
        for metric in sorted((m for m in metrics.values() if m.checkpoint == moment), key=lambda m: (m.order, m.id)):
            for when in get_args(Direction):
                serving: list[Drill] = [
                    d for d in drills.values() if any(s.metric == metric.id and s.when == when for s in d.serves)
                ]
                if serving:
                    says = purpose(metric, when)
                    entries.append({"says": says, "drills": sorted(serving, key=lambda d: (d.level, d.title))})
        if entries:
            groups.append({"moment": moment, "entries": entries})
    return groups
