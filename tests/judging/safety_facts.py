"""What a safety rule can ask of a student, written down in a line."""

from datetime import date
from itertools import pairwise
from typing import Any

from reportgen.judging.safety import Facts
from reportgen.records.body import ComfortCourse, Felt, GrowthEstimate, Load
from reportgen.records.lesson import Comfort
from reportgen.records.mobility import Mobility
from tests.planning.findings import finding

TODAY = date(2026, 3, 5)


def facts(stage: str, age: int, **known: Any) -> Facts:
    """A student of that stage and age. `comfort` holds (site, score, when); `found` maps a metric to its value, or to a
    verdict; `hips` maps sides to what student.yaml says; `scores` maps a site to its scores of the last lessons; the
    keys of `load` are those of the record."""
    mobility = Mobility.model_validate(known.pop("hips", {}))
    found = known.pop("found", {})
    return Facts(
        stage=stage,
        hips=mobility.hips,
        watch=tuple(known.pop("watch", ())),
        comfort=tuple(Comfort(site=s, score=n, when=w) for s, n, w in known.pop("comfort", ())),
        findings={metric: _finding(metric, of) for metric, of in found.items()},
        age=age,
        growth=_growth(known.pop("growth", None), known.pop("grows", None)),
        mobility=mobility,
        courses=tuple(_course(site, scores) for site, scores in known.pop("scores", {}).items()),
        load=_load(age, known.pop("load", None)),
        **known,
    )


def adult(age: int = 40, **known: Any) -> Facts:
    return facts("adult", age, **known)


def junior(age: int = 13, **known: Any) -> Facts:
    return facts("junior", age, **known)


def _finding(metric: str, of: float | str) -> Any:
    if isinstance(of, str):
        return finding(metric, 0.0).model_copy(update={"verdict": of})
    return finding(metric, of)


def _growth(stage: str | None, velocity: float | None) -> GrowthEstimate | None:
    if stage is None and velocity is None:
        return None
    return GrowthEstimate(
        measured_on=TODAY, offsets=(), interval=None, stage=stage, velocity=velocity, source="invented"
    )


def _course(site: str, scores: tuple[int, ...]) -> ComfortCourse:
    rises = 0
    for before, after in pairwise(scores):
        rises = rises + 1 if after > before else 0
    felt = tuple(Felt(date=TODAY, score=score, when="after") for score in scores)
    return ComfortCourse(site=site, felt=felt, rises=rises)


def _load(age: int, known: dict[str, Any] | None) -> Load | None:
    if known is None:
        return None
    nothing = {
        "weekly_swings": (), "mean_of_last_four": None, "swings_this_week": 0, "rise": None, "days_this_week": 0,
        "hours_this_week": 0.0, "days_in_a_row": 0, "months_in_a_row": 0, "kinds": (),
    }  # fmt: skip
    return Load(**{**nothing, "age": age, **known})


def felt(site: str, score: int, when: str = "during") -> dict[str, Any]:
    return {"comfort": [(site, score, when)]}
