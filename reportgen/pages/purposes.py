"""What drills are for, in words, and the index of the library by it."""

from typing import Any, get_args

from reportgen.languages.speaking import say
from reportgen.records.content import Drill, Metric
from reportgen.records.words import MOMENTS, Direction
from reportgen.saying.wording import moment_name
from reportgen.sheets.library import Library


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


def served_by(drill: Drill, library: Library) -> list[str]:
    """What one drill is for, each purpose once: findings that it mends, then counts of shots that it trains."""
    purposes = [purpose(library.metrics[s.metric], s.when) for s in drill.serves]
    return list(dict.fromkeys([*purposes, *(library.counts[count].name for count in drill.trains)]))


def by_purpose(library: Library) -> list[dict[str, Any]]:
    """The drills by checkpoint and purpose, in the order of the swing, then by what is counted."""
    drills, metrics = library.drills, library.metrics
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
            groups.append({"title": moment_name(moment), "entries": entries})
    counted: list[dict[str, Any]] = [
        {"says": count.name, "drills": sorted(training, key=lambda d: (d.level, d.title))}
        for count in sorted(library.counts.values(), key=lambda count: count.name)
        if (training := [drill for drill in drills.values() if count.id in drill.trains])
    ]
    return [*groups, {"title": say("Counts of shots"), "entries": counted}] if counted else groups
