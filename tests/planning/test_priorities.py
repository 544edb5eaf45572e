"""The one or two things to work on."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.planning.priorities import priorities, rank
from tests.judging.academies import one, reading
from tests.planning.findings import finding, metric

NAMES = ["a", "b", "c", "d", "e", "f"]


@st.composite
def seen(draw):
    """Some findings, and what each can come from: only metrics that stand earlier in the alphabet, so no circles."""
    names = draw(st.lists(st.sampled_from(NAMES), unique=True, max_size=6))
    metrics = {}
    for number, name in enumerate(NAMES):
        follows = draw(st.lists(st.sampled_from(NAMES[:number]), unique=True, max_size=2)) if number else []
        metrics[name] = metric(name, tuple(follows))
    findings = [finding(name, draw(st.floats(-20, 30)), draw(st.floats(0.1, 10))) for name in names]
    return findings, metrics


def causes_of(name, metrics):
    found = set()
    for cause in metrics[name].follows:
        found |= {cause} | causes_of(cause, metrics)
    return found


def surely_out(findings):
    return {f.metric for f in findings if f.verdict in ("below range", "above range")}


@given(seen())
def test_what_is_surely_out_of_range_is_ranked_and_only_without_it_what_likely_is(drawn):
    findings, metrics = drawn
    likely = {f.metric for f in findings if f.verdict == "too close to call" and f.probability < 0.5}
    ranked = {r.finding.metric for r in rank(findings, metrics)}
    assert ranked == surely_out(findings) or (not surely_out(findings) and ranked <= likely)


@given(seen())
def test_what_is_in_range_is_never_worked_on_by_the_numbers(drawn):
    findings, metrics = drawn
    inside = {f.metric for f in findings if f.verdict == "in range"}
    assert not inside & {p.metric for p in priorities(findings, metrics, ())}


@given(seen())
def test_nothing_stands_before_an_out_of_range_metric_that_it_can_come_from(drawn):
    findings, metrics = drawn
    order = [r.finding.metric for r in rank(findings, metrics)]
    for place, name in enumerate(order):
        assert not causes_of(name, metrics) & set(order[place + 1 :])


@given(seen())
def test_there_are_at_most_two_the_first_of_the_ranking_and_one_where_none_is_sure(drawn):
    findings, metrics = drawn
    found = [p.metric for p in priorities(findings, metrics, ())]
    most = 2 if surely_out(findings) else 1
    assert found == [r.finding.metric for r in rank(findings, metrics)][:most]


@given(seen(), st.integers(0, 1000))
def test_the_ranking_does_not_depend_on_the_order_of_unlike_findings(drawn, seed):
    findings, metrics = drawn
    shuffled = random.Random(seed).sample(findings, len(findings))
    key = [(r.finding.metric, len(r.causes), r.weight) for r in rank(findings, metrics)]
    if len({(causes, weight) for _, causes, weight in key}) == len(key):
        assert [r.finding.metric for r in rank(shuffled, metrics)] == [name for name, _, _ in key]


def test_a_slight_cause_goes_before_a_grave_follower_and_the_follower_after_all_its_causes():
    metrics = {"a": metric("a"), "b": metric("b", ("a",)), "c": metric("c", ("b",))}
    findings = [finding("a", 12), finding("b", 13), finding("c", 30)]
    assert [r.finding.metric for r in rank(findings, metrics)] == ["a", "b", "c"]


def test_a_cause_through_a_metric_that_is_in_range_still_goes_first():
    metrics = {"a": metric("a"), "b": metric("b", ("a",)), "c": metric("c", ("b",))}
    found = rank([finding("a", 12), finding("b", 5), finding("c", 30)], metrics)
    assert [(r.finding.metric, r.causes) for r in found] == [("a", ()), ("c", ("a",))]


def test_without_causes_the_further_out_goes_first():
    metrics = {name: metric(name) for name in NAMES}
    order = [r.finding.metric for r in rank([finding("a", 12), finding("b", -9), finding("c", 15)], metrics)]
    assert order == ["b", "c", "a"]


def test_of_two_as_far_out_the_surer_goes_first():
    metrics = {name: metric(name) for name in NAMES}
    order = [r.finding.metric for r in rank([finding("a", 14, u=3), finding("b", 14, u=0.5)], metrics)]
    assert order == ["b", "a"]


def test_two_that_follow_each_other_are_both_ranked():
    metrics = {"a": metric("a", ("b",)), "b": metric("b", ("a",))}
    assert [r.finding.metric for r in rank([finding("a", 12), finding("b", 20)], metrics)] == ["b", "a"]


def test_what_a_caution_names_goes_before_what_is_a_little_further_out():
    metrics = {name: metric(name) for name in NAMES}
    findings = [finding("a", 14), finding("b", 15)]
    order = [[r.finding.metric for r in rank(findings, metrics, named)] for named in (frozenset(), frozenset({"a"}))]
    assert order == [["b", "a"], ["a", "b"]]


def test_a_one_sided_range_takes_part():
    metrics = {"a": metric("a"), "b": metric("b")}
    found = rank([finding("a", 6, low=None, high=4.0), finding("b", 40)], metrics)
    assert [r.finding.metric for r in found] == ["b", "a"]
    assert found[1].far == pytest.approx(0.5)


def test_the_instructors_choice_wins_and_says_so():
    metrics = {name: metric(name) for name in NAMES}
    found = priorities([finding("a", 5), finding("b", 40)], metrics, ["a"])
    assert [(p.metric, p.chosen_by, p.direction) for p in found] == [("a", "instructor", None)]
    assert [p.chosen_by for p in priorities([finding("b", 40)], metrics, ())] == ["numbers"]


@pytest.mark.parametrize(("value", "direction"), [(-9, "below"), (30, "above")])
def test_a_priority_says_on_which_side(value, direction):
    assert priorities([finding("a", value)], {"a": metric("a")}, ())[0].direction == direction


LINES = [
    reading("pelvis-open-impact", 75, u=1), reading("pelvis-closed-top", 70, u=1), reading("tempo-ratio", 5, '"1"'),
    reading("side-bend-impact", 3, u=1), reading("trail-heel-lift-impact", 9, "cm", u=0.2),
]  # fmt: skip


def test_the_priorities_do_not_depend_on_the_order_of_the_sheet(tmp_path):
    there, back = ("".join(lines) for lines in (LINES, LINES[::-1]))
    first, second = one(tmp_path / "there", there), one(tmp_path / "back", back)
    assert len(first.priorities) == 2
    assert first == second


def test_with_the_shipped_metrics_the_top_goes_before_the_impact_that_follows_it(tmp_path):
    lines = reading("pelvis-open-impact", 120, u=1) + reading("pelvis-closed-top", 62, u=1)
    assert [p.metric for p in one(tmp_path, lines).priorities] == ["pelvis-closed-top", "pelvis-open-impact"]
