"""Findings for the plan: one metric out of, inside or near a range of 0 to 10 cm, judged as the program judges."""

from datetime import date
from functools import cache

from reportgen.judging.conformity import chances, interval, likelihood, verdict
from reportgen.records.causes import Cause, CauseEnd
from reportgen.records.content import Metric
from reportgen.records.findings import BandUsed, Finding, PlayerLevel
from reportgen.records.words import Direction

CERTAINTY = 0.8


@cache
def metric(name: str) -> Metric:
    side = {"means": "it is so", "work_on": f"work on {name}", "because": "it helps."}
    return Metric.model_validate(
        {
            "id": name, "name": f"Metric {name}", "short": name, "checkpoint": "impact", "unit": "cm", "decimals": 1,
            "explain": "explained", "taken": "taken", "uncertainty": {"sensor": 1, "source": "common practice"},
            "below": side, "above": side, "source": "common practice",
        }
    )  # fmt: skip


def leads(cause: str, effect: str, *sides: Direction) -> Cause:
    """A row from one side of a metric to one of another, `above` and `above` where no sides are named."""
    first, last = sides or ("above", "above")
    return Cause(
        id=f"{cause}-{first}-{effect}-{last}",
        cause=CauseEnd(what=cause, side=first),
        effect=CauseEnd(what=effect, side=last),
        basis="teachers hold",
        source="common practice, no source",
    )


def finding(name: str, value: float, u: float = 0.5, low: float | None = 0.0, high: float | None = 10.0) -> Finding:
    of = chances(value, u, low, high)
    band = BandUsed(band="adults", low=low, high=high, basis="common practice")
    return Finding(
        metric=name, checkpoint="impact", value=value, u=u,
        interval=interval(value, u), unit="cm", how="sensor", views=1, swings=(), band=band,
        level=PlayerLevel(value=value, u=u, interval=interval(value, u), lessons=1, since=date(2026, 3, 5)),
        probability=of.inside, verdict=verdict(of, CERTAINTY), likelihood=likelihood(of.inside), change=None,
        too_coarse=False,
    )  # fmt: skip
