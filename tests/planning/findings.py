"""Findings for the plan: one metric out of, inside or near a range of 0 to 10 cm, judged as the program judges."""

from functools import cache

from reportgen.judging.conformity import chances, interval, likelihood, verdict
from reportgen.records.content import Metric
from reportgen.records.report import BandUsed, Finding

CERTAINTY = 0.8


@cache
def metric(name: str, follows: tuple[str, ...] = ()) -> Metric:
    side = {"means": "it is so", "work_on": f"work on {name}", "because": "it helps."}
    return Metric.model_validate(
        {
            "id": name, "name": f"Metric {name}", "short": name, "checkpoint": "impact", "unit": "cm", "decimals": 1,
            "explain": "explained", "taken": "taken", "uncertainty": {"sensor": 1, "source": "common practice"},
            "below": side, "above": side, "follows": follows, "source": "common practice",
        }
    )  # fmt: skip


def finding(name: str, value: float, u: float = 0.5, low: float | None = 0.0, high: float | None = 10.0) -> Finding:
    of = chances(value, u, low, high)
    band = BandUsed(
        low=low, high=high, for_="adults", source="common practice", basis="common practice", limits="usual span",
        why="the only one",
    )  # fmt: skip
    return Finding(
        metric=name, name=f"Metric {name}", short=name, checkpoint="impact", value=value, u=u,
        interval=interval(value, u), unit="cm", decimals=1, sign=None, how="sensor", views=1, swings=(), band=band,
        probability=of.inside, verdict=verdict(of, CERTAINTY), likelihood=likelihood(of.inside), change=None,
        since_first=None, means=None, too_coarse=False, note=None,
    )  # fmt: skip
