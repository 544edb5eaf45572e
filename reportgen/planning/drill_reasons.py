"""Why each drill is given: none stands on a page without a reason."""

from collections.abc import Collection, Mapping, Sequence

from reportgen.planning.priorities import direction_of
from reportgen.records.content import Drill
from reportgen.records.findings import Finding
from reportgen.records.report import DrillReason, GivenDrill, Outlook, Priority


def with_reasons(
    given: Sequence[GivenDrill],
    priorities: Sequence[Priority],
    outlook: Outlook | None,
    findings: Sequence[Finding],
    counted: Sequence[str],
    last: Collection[str],
    drills: Mapping[str, Drill],
) -> tuple[GivenDrill, ...]:
    """The drills, each with its reason. `counted` are the counts of the lesson that can be trained, `last` the drills
    of the last lesson. `serves` names the priority that is the reason, or nothing."""

    def reason(one: GivenDrill) -> DrillReason:
        drill = drills[one.drill]
        at = outlook.look_at if outlook else None
        sides = [("priority", p.metric, p.direction) for p in priorities]
        sides += [("look at", at.metric, at.direction)] if at and at.metric else []
        sides += [("finding", f.metric, direction_of(f)) for f in findings if direction_of(f)]
        trained = one.trains or next((count for count in counted if count in drill.trains), None)
        for kind, metric, direction in sides:
            if any(s.metric == metric and direction in (s.when, None) for s in drill.serves):
                return DrillReason.model_validate({"kind": kind, "metric": metric, "direction": direction})
        if trained:
            return DrillReason(kind="count", count=trained)
        if one.drill in last:
            return DrillReason(kind="kept")
        served = [serves.metric for serves in drill.serves]
        return DrillReason(kind="teacher", metric=next((f.metric for f in findings if f.metric in served), None))

    reasons = [reason(one) for one in given]
    return tuple(
        one.model_copy(update={"reason": why, "serves": why.metric if why.kind == "priority" else None})
        for one, why in zip(given, reasons, strict=True)
    )
