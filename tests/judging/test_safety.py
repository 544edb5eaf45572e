"""Cautions: which rules apply, what they hold, and how a stop stands until a clinician has cleared the student."""

import pytest

from reportgen.judging.safety import Facts, applies, cautions, held_sites
from reportgen.records.conditions import Condition
from reportgen.records.lesson import Comfort
from tests.judging.academies import ADULT, JUNIOR, judged, library, one, reading, sheet

OPEN_HIPS = reading("pelvis-open-impact", 80, u=1)
SORE_BACK = "comfort: [{site: low-back, score: 7, when: during}]"
GIVEN = "drills: [count-the-swing]"


def facts(stage="adult", hips="typical", watch=(), comfort=(), findings=None):
    felt = tuple(Comfort(site=site, score=score, when=when) for site, score, when in comfort)
    return Facts(stage, hips, watch, felt, findings or {})


def holds(written, of):
    return applies(Condition.model_validate(written), of)


KNEE = {"comfort": {"site": ["lead-knee"], "at_least": 3, "at_most": 5, "when": ["after"]}}


@pytest.mark.parametrize(
    ("felt", "expected"),
    [
        (("lead-knee", 3, "after"), True),
        (("lead-knee", 5, "after"), True),
        (("lead-knee", 2, "after"), False),
        (("lead-knee", 6, "after"), False),
        (("lead-knee", 4, "during"), False),
        (("trail-knee", 4, "after"), False),
    ],
)
def test_a_comfort_score_counts_at_its_site_within_its_limits_and_at_its_time(felt, expected):
    assert holds(KNEE, facts(comfort=[felt])) == expected


def test_a_comfort_score_that_was_not_asked_counts_as_nothing():
    assert not holds(KNEE, facts())


def test_two_scores_are_not_mixed_into_one():
    assert not holds(KNEE, facts(comfort=[("lead-knee", 2, "after"), ("lead-knee", 4, "during")]))


def test_what_was_not_measured_fulfils_no_condition():
    assert not holds({"finding": {"metric": "separation-top", "at_least": -180}}, facts())


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ({"all": [{"stage": ["adult"]}, {"watch": ["neck"]}]}, True),
        ({"all": [{"stage": ["adult"]}, {"watch": ["low-back"]}]}, False),
        ({"any": [{"stage": ["junior"]}, {"watch": ["neck"]}]}, True),
        ({"any": [{"stage": ["junior"]}, {"watch": ["low-back"]}]}, False),
        ({"not": {"hips": ["restricted"]}}, True),
        ({"not": {"hips": ["typical"]}}, False),
        ({"always": True}, True),
    ],
)
def test_conditions_combine_as_they_read(written, expected):
    assert holds(written, facts(watch=("neck",))) == expected


def test_the_gravest_caution_is_said_first_and_what_everybody_hears_last():
    found = cautions(library().rules.values(), facts(watch=("neck",), comfort=[("low-back", 7, "during")]))
    assert found[0].level == "stop"
    assert [c.usual for c in found] == sorted(c.usual for c in found)
    own = [("stop", "hold", "note").index(c.level) for c in found if not c.usual]
    assert own == sorted(own)


def test_a_hold_holds_the_sites_of_its_rule():
    found = cautions(library().rules.values(), facts(watch=("low-back", "lead-knee")))
    assert {"low-back", "lead-knee"} <= held_sites(library().rules, found)
    assert "neck" not in held_sites(library().rules, found)


def test_after_a_stop_nothing_is_planned(tmp_path):
    report = one(tmp_path, OPEN_HIPS, ADULT, f"{SORE_BACK}\n{GIVEN}\npriorities: [pelvis-open-impact]")
    assert report.stopped
    assert (report.priorities, report.drills, report.practice) == ((), (), None)
    assert report.cautions[0].level == "stop"
    assert "doctor or physiotherapist" in report.cautions[0].text


def test_without_the_stop_the_same_lesson_is_planned(tmp_path):
    report = one(tmp_path, OPEN_HIPS, ADULT, GIVEN)
    assert not report.stopped
    assert report.priorities
    assert report.drills
    assert report.practice


def stopped(root, *later, student=ADULT):
    """Whether each lesson is stopped: the first has a sore back, the `later` ones what is given, two weeks apart."""
    days = ("2026-03-05", "2026-03-19", "2026-04-02")
    lessons = dict(zip(days, [sheet(OPEN_HIPS, SORE_BACK), *(sheet(OPEN_HIPS, more) for more in later)], strict=False))
    return [report.stopped for report in judged(root, lessons, student)]


def test_a_stop_stands_in_every_later_lesson_that_does_not_clear_it(tmp_path):
    assert stopped(tmp_path, "", "comfort: [{site: low-back, score: 0, when: during}]") == [True, True, True]


def test_a_stop_that_stands_plans_nothing_and_says_so(tmp_path):
    lessons = {"2026-03-05": sheet(OPEN_HIPS, SORE_BACK), "2026-03-19": sheet(OPEN_HIPS, GIVEN)}
    first, second = judged(tmp_path, lessons)
    assert (second.priorities, second.drills, second.practice) == ((), (), None)
    assert second.cautions[0].text == first.cautions[0].text
    assert second.cautions[0].raised_on == first.date


def test_a_clearance_ends_the_stop_for_good(tmp_path):
    cleared = "cleared: {by: Dr Invented, on: 2026-03-17}"
    assert stopped(tmp_path, cleared, "") == [True, False, False]


def test_a_clearance_from_before_the_stop_clears_nothing(tmp_path):
    assert stopped(tmp_path, "cleared: {by: Dr Invented, on: 2026-03-04}") == [True, True]


def test_a_clearance_that_is_told_a_lesson_late_still_counts_from_its_day(tmp_path):
    assert stopped(tmp_path, "", "cleared: {by: Dr Invented, on: 2026-03-17}") == [True, True, False]


def test_a_clearance_does_not_end_a_stop_of_the_same_lesson(tmp_path):
    assert stopped(tmp_path, f"cleared: {{by: Dr Invented, on: 2026-03-17}}\n{SORE_BACK}") == [True, True]


@pytest.mark.parametrize(("student", "expected"), [(JUNIOR, True), (ADULT, False)])
def test_a_score_that_is_mild_for_an_adult_stops_a_junior(tmp_path, student, expected):
    mild = "comfort: [{site: low-back, score: 2, when: during}]"
    assert one(tmp_path, OPEN_HIPS, student, mild).stopped == expected
