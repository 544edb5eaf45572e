"""The page reads every formula of the grammar as the report does, and the metrics that an academy adds."""

import random
from itertools import chain
from typing import get_args

import numpy as np
import pytest

from reportgen.measuring.stills import measure
from reportgen.pages.marking import measures_given
from reportgen.records.content import Metric
from reportgen.records.formulas import Axis, Flexion, Joints, Point
from reportgen.records.words import CHECKPOINTS, Mark
from reportgen.sheets.formula_checks import formula_faults
from tests.measuring import figures, own_metrics

HOW_MANY = 150
FIGURE = figures.bodies(1, np.random.default_rng(11))
BOTH = figures.View("face-on", 4.1, 1.1, 0.2), figures.View("down-the-line", 4.6, 1.0, -0.3)


def metric(number, checkpoint, stills):
    angle = stills.keys() & {"turn", "tilt", "flexion"}
    return Metric.model_validate({
        "id": f"m-{number}", "name": "M", "short": "M", "checkpoint": checkpoint, "unit": "deg" if angle else "cm",
        "explain": "M", "taken": "M", "stills": stills, "uncertainty": {"source": "none"}, "source": "none",
    })  # fmt: skip


def any_formula(of):
    """A formula of the grammar, drawn by `of`, which may have faults."""
    pick = lambda kind: of.choice(get_args(kind))  # noqa: E731
    checkpoint = of.choice(CHECKPOINTS[:-1])
    since = {"since": of.choice(CHECKPOINTS[:5])}
    perhaps = of.choice([{}, since])
    drawn = of.choice([
        {"turn": {"of": pick(Joints), "toward": of.choice(["closed", "open"]), **perhaps}},
        {"tilt": {"from": pick(Point), "to": pick(Point), "toward": pick(Axis), **perhaps}},
        {"flexion": {"of": pick(Flexion.model_fields["of"].annotation), **perhaps}},
        {"distance": {"from": pick(Point), "to": pick(Point), "toward": pick(Axis), **perhaps}},
        {"distance": {"from": pick(Point), "to": pick(Point), **perhaps}},
        {"displacement": {"of": pick(Point), "toward": pick(Axis), **since}},
        {"displacement": {"of": pick(Point), "toward": pick(Mark), **since}},
    ])  # fmt: skip
    return checkpoint, drawn


def generated():
    """HOW_MANY metrics without a fault, then differences of neighbours among them that have one."""
    of, found = random.Random(1), {}
    while len(found) < HOW_MANY:
        one = metric(len(found), *any_formula(of))
        if not any(formula_faults(one, {})):
            found[one.id] = one
    pairs = zip(list(found.values()), [*found.values()][1:], strict=False)
    for number, (a, b) in enumerate(pairs, HOW_MANY):
        later = max(a.checkpoint, b.checkpoint, key=CHECKPOINTS.index)
        one = metric(number, later, {"difference": {"of": a.id, "less": b.id}}).model_copy(update={"unit": a.unit})
        if not any(formula_faults(one, found)):
            found[one.id] = one
    return found


METRICS = generated()


def values(paper, taken, plays):
    """(page, report): metric -> value. A difference that is the same by its very formula, which the report does not
    take for a value, is left out."""
    sizes = figures.sizes(taken)
    written = [
        {
            **still.model_dump(by_alias=True, exclude_none=True, mode="json"),
            "marks": still.marks,
            "size": sizes[still.file],
        }
        for still in taken
    ]
    said = paper.run(
        "return measured(arguments[0], arguments[1], arguments[2])", written, plays, measures_given(METRICS)
    )
    readings, missing = measure(taken, METRICS, plays, sizes, samples=8)
    none = {gap.metric for gap in missing if any(need.what == "sound marks" for need in gap.needs)}
    page = {one["metric"]: one["value"] for one in said if one.get("value") is not None and one["metric"] not in none}
    return page, {reading.metric: reading.value for reading in readings}


@pytest.mark.parametrize("plays", ["right", "left"])
def test_any_formula_gives_on_the_page_what_it_gives_in_the_report(paper, plays):
    paper.open("empty")
    views = [figures.View(v.view, v.distance, v.height, v.aside, plays=plays) for v in BOTH]
    page, report = values(paper, figures.stills(FIGURE, 0, views, np.random.default_rng(2), 3.0), plays)
    assert len(report) > HOW_MANY
    assert page == pytest.approx(report, abs=1e-6)


@pytest.mark.parametrize("view", BOTH, ids=["face-on", "down-the-line"])
def test_any_formula_that_one_view_gives_is_the_same_on_both(paper, view):
    """But for a turn, which the report lifts near square by its uncertainty."""
    paper.open("empty")
    page, report = values(paper, figures.stills(FIGURE, 0, [view], np.random.default_rng(2), 3.0), "right")
    assert page.keys() == report.keys()
    turns = {name for name, one in METRICS.items() if one.stills.kind in ("turn", "difference")}
    assert len(report.keys() - turns) > HOW_MANY / 6
    assert {name: page[name] for name in page.keys() - turns} == pytest.approx(
        {name: report[name] for name in report.keys() - turns}, abs=1e-6
    )


def test_every_quantity_and_direction_is_among_them():
    kinds = {one.stills.kind for one in METRICS.values()}
    assert kinds == {"turn", "tilt", "flexion", "distance", "displacement", "difference"}
    said = set(chain.from_iterable(one.stills.measurand.model_dump().values() for one in METRICS.values()))
    assert said >= {*get_args(Axis), *get_args(Joints), "closed", "open"}


def test_an_academys_own_metrics_are_on_the_page_that_is_written_for_its_stills(paper):
    paper.open("own")
    asked = "return pointsFor({view: 'face-on', checkpoint: 'setup', points: {}}, measures, false).needed"
    assert {"lead-heel", "trail-heel"} <= set(paper.run(asked))
    taken = own_metrics.marked()
    sizes = figures.sizes(taken)
    written = [
        {
            **still.model_dump(by_alias=True, exclude_none=True, mode="json"),
            "marks": still.marks,
            "size": sizes[still.file],
        }
        for still in taken
    ]
    said = {one["metric"]: one for one in paper.run("return measured(arguments[0], 'right', measures)", written)}
    assert said["stance-width-setup"]["value"] == pytest.approx(own_metrics.true_stance(), abs=0.3)
    assert said["hands-height-top"]["value"] == pytest.approx(own_metrics.true_hands(), abs=0.3)
