"""The one or two things to work on."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.planning.priorities import priorities, rank
from tests.judging.academies import one, reading
from tests.planning.findings import finding, leads

NAMES = ["a", "b", "c", "d", "e", "f"]


SIDES = ["below", "above"]


@st.composite
def seen(draw):
    """Some findings, and what each can come from: only metrics that stand earlier in the alphabet, so no circles."""
    names = draw(st.lists(st.sampled_from(NAMES), unique=True, max_size=6))
    ends = st.tuples(st.sampled_from(NAMES), st.sampled_from(NAMES), st.sampled_from(SIDES), st.sampled_from(SIDES))
    rows = [leads(*row) for row in draw(st.lists(ends, unique=True, max_size=8)) if row[0] < row[1]]
    findings = [finding(name, draw(st.floats(-20, 30)), draw(st.floats(0.1, 10))) for name in names]
    return findings, rows


def causes_of(name, side, rows):
    """What leads to a side of a metric, directly or through others: metrics with their sides."""
    found = set()
    for row in rows:
        if (row.effect.what, row.effect.side) == (name, side):
            end = (row.cause.what, row.cause.side)
            found |= {end} | causes_of(*end, rows)
    return found


def surely_out(findings):
    return {f.metric for f in findings if f.verdict in ("below range", "above range")}


@given(seen())
def test_what_is_surely_out_of_range_is_ranked_and_only_without_it_what_likely_is(drawn):
    findings, rows = drawn
    likely = {f.metric for f in findings if f.verdict == "too close to call" and f.probability < 0.5}
    ranked = {r.finding.metric for r in rank(findings, rows)}
    assert ranked == surely_out(findings) or (not surely_out(findings) and ranked <= likely)


@given(seen())
def test_what_is_in_range_is_never_worked_on_by_the_numbers(drawn):
    findings, rows = drawn
    inside = {f.metric for f in findings if f.verdict == "in range"}
    assert not inside & {p.metric for p in priorities(findings, rows, ())}


@given(seen())
def test_nothing_stands_before_an_out_of_range_metric_that_it_can_come_from(drawn):
    findings, rows = drawn
    order = [one.finding for one in rank(findings, rows)]
    ends = [(one.metric, "below" if one.level.value < 0 else "above") for one in order]
    through = [row for row in rows if row.cause.what not in dict(ends) or (row.cause.what, row.cause.side) in ends]
    for place, end in enumerate(ends):
        assert not causes_of(*end, through) & set(ends[place + 1 :])


@given(seen())
def test_there_are_at_most_two_the_first_of_the_ranking_and_one_where_none_is_sure(drawn):
    findings, rows = drawn
    found = [p.metric for p in priorities(findings, rows, ())]
    most = 2 if surely_out(findings) else 1
    assert found == [r.finding.metric for r in rank(findings, rows)][:most]


@given(seen(), st.integers(0, 1000))
def test_the_ranking_does_not_depend_on_the_order_of_unlike_findings(drawn, seed):
    findings, rows = drawn
    shuffled = random.Random(seed).sample(findings, len(findings))
    key = [(r.finding.metric, len(r.causes), r.weight) for r in rank(findings, rows)]
    if len({(causes, weight) for _, causes, weight in key}) == len(key):
        assert [r.finding.metric for r in rank(shuffled, rows)] == [name for name, _, _ in key]


def test_a_slight_cause_goes_before_a_grave_follower_and_the_follower_after_all_its_causes():
    rows = [leads("a", "b"), leads("b", "c")]
    findings = [finding("a", 12), finding("b", 13), finding("c", 30)]
    assert [r.finding.metric for r in rank(findings, rows)] == ["a", "b", "c"]


def test_a_cause_through_a_metric_that_is_in_range_still_goes_first():
    rows = [leads("a", "b"), leads("b", "c")]
    found = rank([finding("a", 12), finding("b", 5), finding("c", 30)], rows)
    assert [(r.finding.metric, r.causes) for r in found] == [("a", ()), ("c", ("a",))]


def test_without_causes_the_further_out_goes_first():
    order = [r.finding.metric for r in rank([finding("a", 12), finding("b", -9), finding("c", 15)], [])]
    assert order == ["b", "c", "a"]


def test_of_two_as_far_out_the_surer_goes_first():
    order = [r.finding.metric for r in rank([finding("a", 14, u=3), finding("b", 14, u=0.5)], [])]
    assert order == ["b", "a"]


def test_two_that_follow_each_other_are_both_ranked():
    rows = [leads("a", "b"), leads("b", "a")]
    assert [r.finding.metric for r in rank([finding("a", 12), finding("b", 20)], rows)] == ["b", "a"]


def test_a_cause_on_its_other_side_does_not_go_first():
    rows = [leads("a", "b", "below", "above")]
    below, above = (rank([finding("a", value), finding("b", 20)], rows) for value in (-2, 12))
    assert [(r.finding.metric, r.causes) for r in below] == [("a", ()), ("b", ("a",))]
    assert [(r.finding.metric, r.causes) for r in above] == [("b", ()), ("a", ())]


def test_what_is_out_on_its_other_side_does_not_pass_a_cause_on():
    rows = [leads("a", "b"), leads("b", "c")]
    found = rank([finding("a", 11), finding("b", -4), finding("c", 30)], rows)
    assert {r.finding.metric: r.causes for r in found} == {"a": (), "b": (), "c": ()}


def test_a_row_that_a_study_speaks_against_is_not_followed():
    row = leads("a", "b").model_copy(update={"basis": "evidence against"})
    assert [r.finding.metric for r in rank([finding("a", 11), finding("b", 20)], [row])] == ["b", "a"]


def test_what_a_caution_names_goes_before_what_is_a_little_further_out():
    findings = [finding("a", 14), finding("b", 15)]
    order = [[r.finding.metric for r in rank(findings, [], named)] for named in (frozenset(), frozenset({"a"}))]
    assert order == [["b", "a"], ["a", "b"]]


def test_a_one_sided_range_takes_part():
    found = rank([finding("a", 6, low=None, high=4.0), finding("b", 40)], [])
    assert [r.finding.metric for r in found] == ["b", "a"]
    assert found[1].far == pytest.approx(0.5)


def test_the_instructors_choice_wins_and_says_so():
    found = priorities([finding("a", 5), finding("b", 40)], [], ["a"])
    assert [(p.metric, p.chosen_by, p.direction) for p in found] == [("a", "instructor", None)]
    assert [p.chosen_by for p in priorities([finding("b", 40)], [], ())] == ["numbers"]


@pytest.mark.parametrize(("value", "direction"), [(-9, "below"), (30, "above")])
def test_a_priority_says_on_which_side(value, direction):
    assert priorities([finding("a", value)], [], ())[0].direction == direction


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
    lines = reading("pelvis-open-impact", -40, u=1) + reading("pelvis-closed-top", 62, u=1)
    assert [p.metric for p in one(tmp_path, lines).priorities] == ["pelvis-closed-top", "pelvis-open-impact"]
