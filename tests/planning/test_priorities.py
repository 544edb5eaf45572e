"""The one or two things to work on."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.planning.priorities import Choosing, for_the_desk, priorities, rank
from tests.judging.academies import ADULT, finding_of, judged, one, reading, sheet
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


def weights(ranks):
    return {ranked.finding.metric: ranked.weight for ranked in ranks}


@given(seen())
def test_what_is_surely_out_of_range_is_ranked_and_nothing_else(drawn):
    findings, rows = drawn
    ranked = [r.finding.metric for r in rank(findings, rows)]
    assert sorted(ranked) == sorted(surely_out(findings))


@given(seen())
def test_what_is_not_surely_out_is_never_worked_on_by_the_numbers(drawn):
    findings, rows = drawn
    assert {p.metric for p in priorities(findings, rows)} <= surely_out(findings)


@given(seen())
def test_a_metric_goes_before_a_graver_one_only_where_something_as_grave_as_that_waits_for_it(drawn):
    findings, rows = drawn
    ranks = rank(findings, rows)
    for place, first in enumerate(ranks):
        for graver in (later for later in ranks[place + 1 :] if later.weight > first.weight):
            assert any(first.finding.metric in r.causes for r in ranks if r.weight >= graver.weight)


@given(seen())
def test_what_waits_comes_after_all_that_it_waits_for_and_each_of_these_is_a_cause(drawn):
    findings, rows = drawn
    ranks = rank(findings, rows)
    names = [ranked.finding.metric for ranked in ranks]
    ends = {r.finding.metric: "below" if r.finding.verdict == "below range" else "above" for r in ranks}
    for name, ranked in zip(names, ranks, strict=True):
        assert all(names.index(cause) < names.index(name) for cause in ranked.causes)
        assert {(cause, ends[cause]) for cause in ranked.causes} <= causes_of(name, ends[name], rows)


@given(seen(), st.sampled_from([1, 2]))
def test_there_are_at_most_two_and_the_second_does_not_wait_for_the_first(drawn, most):
    findings, rows = drawn
    ranks = rank(findings, rows)
    found = [p.metric for p in priorities(findings, rows, Choosing(most=most))]
    assert found == [r.finding.metric for r in ranks if ranks[0].finding.metric not in r.causes][:most]


@given(seen(), st.integers(0, 1000))
def test_the_ranking_does_not_depend_on_the_order_of_unlike_findings(drawn, seed):
    findings, rows = drawn
    shuffled = random.Random(seed).sample(findings, len(findings))
    ranks = rank(findings, rows)
    if len(set(weights(ranks).values())) == len(ranks):
        assert [r.finding.metric for r in rank(shuffled, rows)] == [r.finding.metric for r in ranks]


def order(findings, rows=(), **choosing):
    return [r.finding.metric for r in rank(findings, rows, Choosing(**choosing))]


def test_a_small_cause_does_not_head_a_large_fault():
    rows = [leads("a", "b"), leads("b", "c")]
    findings = [finding("a", 12), finding("b", 13), finding("c", 30)]
    assert order(findings, rows) == ["c", "a", "b"]
    assert [p.metric for p in priorities(findings, rows)] == ["c", "a"]


def test_a_cause_that_is_half_as_grave_heads_what_follows_from_it_and_what_follows_waits():
    rows = [leads("a", "b"), leads("b", "c")]
    findings = [finding("a", 15), finding("b", 18), finding("c", 24)]
    assert order(findings, rows) == ["a", "b", "c"]
    (only,) = priorities(findings, rows)
    assert (only.metric, [effect.metric for effect in only.effects]) == ("a", ["b", "c"])


def test_a_cause_through_a_metric_that_is_in_range_still_goes_first():
    rows = [leads("a", "b"), leads("b", "c")]
    found = rank([finding("a", 15), finding("b", 5), finding("c", 18)], rows)
    assert [(r.finding.metric, r.causes) for r in found] == [("a", ()), ("c", ("a",))]


def test_without_causes_the_further_out_goes_first():
    assert order([finding("a", 12), finding("b", -9), finding("c", 15)]) == ["b", "c", "a"]


def test_of_two_as_far_out_the_surer_goes_first():
    assert order([finding("a", 14, u=3), finding("b", 14, u=0.5)]) == ["b", "a"]


def test_noise_in_a_narrow_range_does_not_go_before_a_fault():
    """1.6 of a range from 1.3 to 2.5 are more half widths than 8 of one from -5 to 3, and measured to 1.2."""
    noisy = finding("a", -0.3, u=1.2, low=1.3, high=2.5)
    assert noisy.verdict == "below range"
    assert order([noisy, finding("b", 11, u=1, low=-5, high=3)]) == ["b", "a"]


def test_two_that_follow_each_other_are_both_ranked():
    rows = [leads("a", "b"), leads("b", "a")]
    found = rank([finding("a", 18), finding("b", 20)], rows)
    assert [(r.finding.metric, r.causes) for r in found] == [("b", ()), ("a", ())]


def test_a_cause_on_its_other_side_does_not_go_first():
    rows = [leads("a", "b", "below", "above")]
    below, above = (rank([finding("a", value), finding("b", 20)], rows) for value in (-9, 19))
    assert [(r.finding.metric, r.causes) for r in below] == [("a", ()), ("b", ("a",))]
    assert [(r.finding.metric, r.causes) for r in above] == [("b", ()), ("a", ())]


def test_what_is_out_on_its_other_side_does_not_pass_a_cause_on():
    rows = [leads("a", "b"), leads("b", "c")]
    found = rank([finding("a", 28), finding("b", -4), finding("c", 30)], rows)
    assert {r.finding.metric: r.causes for r in found} == {"a": (), "b": (), "c": ()}


def test_a_row_that_a_study_speaks_against_is_not_followed():
    row = leads("a", "b").model_copy(update={"basis": "evidence against"})
    assert order([finding("a", 19), finding("b", 20)], [row]) == ["b", "a"]


def test_what_a_caution_names_goes_before_what_is_a_little_further_out():
    findings = [finding("a", 14), finding("b", 15)]
    assert [order(findings, cautioned=named) for named in ((), ("a",))] == [["b", "a"], ["a", "b"]]


def test_a_one_sided_range_takes_part():
    found = rank([finding("a", 6, low=None, high=4.0), finding("b", 40)], [])
    assert [r.finding.metric for r in found] == ["b", "a"]
    assert found[1].far == pytest.approx(0.5)


def test_the_instructors_choice_wins_and_says_so():
    found = priorities([finding("a", 5), finding("b", 40)], [], Choosing(chosen=("a",)))
    assert [(p.metric, p.chosen_by, p.direction) for p in found] == [("a", "instructor", None)]
    assert [p.chosen_by for p in priorities([finding("b", 40)], [])] == ["numbers"]


def test_what_is_set_aside_is_no_task_holds_nothing_up_and_is_told_on_the_desk():
    rows = [leads("a", "b")]
    findings, aside = [finding("a", 30), finding("b", 31), finding("c", 5)], Choosing(set_aside=("a", "c"))
    assert [(r.finding.metric, r.causes) for r in rank(findings, rows, aside)] == [("b", ())]
    assert [(one.code, [e.metric for e in one.metrics]) for one in for_the_desk(findings, rows, aside)] == [
        ("set aside", ["a"])
    ]


@pytest.mark.parametrize(("value", "direction"), [(-9, "below"), (30, "above")])
def test_a_priority_says_on_which_side(value, direction):
    assert priorities([finding("a", value)], [])[0].direction == direction


LINES = [
    reading("pelvis-open-impact", 75, u=1), reading("pelvis-closed-top", 70, u=1), reading("tempo-ratio", 5, '"1"'),
    reading("side-bend-impact", 3, u=1), reading("trail-heel-lift-impact", 9, "cm", u=0.2),
]  # fmt: skip


def test_the_priorities_do_not_depend_on_the_order_of_the_sheet(tmp_path):
    there, back = ("".join(lines) for lines in (LINES, LINES[::-1]))
    lessons = (judged(tmp_path / name, {"2026-02-26": "", "2026-03-05": sheet(lines)})[-1] for name, lines in (
        ("there", there), ("back", back)
    ))  # fmt: skip
    first, second = lessons
    assert len(first.priorities) == 2
    assert first == second


TOP_AND_IMPACT = reading("pelvis-open-impact", 5, u=1) + reading("pelvis-closed-top", 68, u=1)


def test_with_the_shipped_metrics_the_top_goes_before_the_impact_that_follows_it(tmp_path):
    (only,) = judged(tmp_path, {"2026-02-26": "", "2026-03-05": sheet(TOP_AND_IMPACT)})[-1].priorities
    assert (only.metric, [effect.metric for effect in only.effects]) == ("pelvis-closed-top", ["pelvis-open-impact"])


@pytest.mark.parametrize(
    ("hip", "seat", "posture", "first"),
    [(-0.3, 11, -35, "seat-forward-impact"), (-0.3, 2, -35, "posture-change-impact")],
)
def test_a_trail_hip_seen_in_one_picture_does_not_come_before_a_fault(tmp_path, hip, seat, posture, first):
    still = "metric: {}, value: {}, unit: {}, how: still, views: 1"
    lines = [
        ("trail-hip-load", hip, "cm"),
        ("seat-forward-impact", seat, "cm"),
        ("posture-change-impact", posture, "deg"),
    ]
    text = "".join(f"  - {{{still.format(*line)}}}\n" for line in lines)
    assert one(tmp_path, text).priorities[0].metric == first


TWO = reading("tempo-ratio", 5, '"1"', u=0.1) + reading("pelvis-shift-impact", 25, "cm", u=0.5)


@pytest.mark.parametrize(("student", "lessons", "things"), [
    ("", 2, 2), ("", 1, 1), ("beginner: true", 2, 1), ("handicap: 30", 2, 2),
])  # fmt: skip
def test_a_beginner_and_a_first_lesson_have_one_thing_to_work_on(tmp_path, student, lessons, things):
    days = ["2026-02-26", "2026-03-05"][-lessons:]
    report = judged(tmp_path, {day: sheet(TWO) for day in days}, f"{ADULT}\n{student}")[-1]
    assert len(report.priorities) == things


def test_a_first_lesson_of_putting_has_one_thing_to_work_on_after_any_number_of_others(tmp_path):
    putts = "kind: putting\nclub: putter\n" + sheet(
        reading("putt-tempo", 4, '"1"', u=0.1) + reading("putt-aim", 5, u=0.1)
    )
    report = judged(tmp_path, {"2026-02-26": sheet(TWO), "2026-03-05": putts})[-1]
    assert len(report.priorities) == 1


def test_a_sheet_sets_a_metric_aside(tmp_path):
    found = one(tmp_path, TWO, more="set_aside: [pelvis-shift-impact]")
    assert [p.metric for p in found.priorities] == ["tempo-ratio"]
    assert found.set_aside == ("pelvis-shift-impact",)
    assert finding_of(found, "pelvis-shift-impact").verdict == "above range"


def test_what_teachers_disagree_about_goes_first_only_where_it_is_twice_as_grave():
    agreed = finding("a", 15)
    disputed = [finding("b", value) for value in (18, 25)]
    disputed = [f.model_copy(update={"band": f.band.model_copy(update={"disputed": True})}) for f in disputed]
    assert [order([agreed, other]) for other in disputed] == [["a", "b"], ["b", "a"]]
