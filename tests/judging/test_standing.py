"""What a score keeps out of the plan stands until its place is asked about again."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportgen.judging.safety import Facts, cautions, held_sites, in_gravity, said_now
from reportgen.records.words import SITES
from tests.judging.academies import ADULT, JUNIOR, judged, library, reading, sheet
from tests.judging.safety_facts import adult, facts, felt, junior

OPEN_HIPS = reading("pelvis-open-impact", 80, u=1)
MORNING = "comfort: [{site: low-back, score: 5, when: next-morning}]"
DAYS = ("2026-03-05", "2026-03-12", "2026-03-19")


def score(of: int, site: str = "low-back", when: str = "before") -> str:
    return f"comfort: [{{site: {site}, score: {of}, when: {when}}}]"


def lessons(root: Any, *sheets: str, student: str = ADULT) -> Any:
    written = {day: sheet(OPEN_HIPS, text) for day, text in zip(DAYS, sheets, strict=False)}
    return judged(root, written, student)


def held(report: Any) -> set[str]:
    return set(held_sites(library().rules, report.cautions))


def of(report: Any, rule: str) -> Any:
    return next((caution for caution in report.cautions if caution.rule == rule), None)


def test_a_back_of_5_the_next_morning_is_held_as_long_as_nobody_asks_again(tmp_path) -> None:
    first, *later = lessons(tmp_path, MORNING, "", "")
    for report in later:
        assert "low-back" in held(report)
        assert of(report, "low-back-next-morning").raised_on == first.date


def test_the_student_reads_since_when_it_stands(tmp_path) -> None:
    _, second = lessons(tmp_path, MORNING, "")
    assert of(second, "low-back-next-morning").text.endswith(
        "This is from 5 March. Tell your teacher how it feels now."
    )


def test_no_drill_that_loads_the_back_comes_back_while_it_stands(tmp_path) -> None:
    for report in lessons(tmp_path, MORNING, "", ""):
        assert [given.drill for given in report.drills if "low-back" in given.loads] == []


@pytest.mark.parametrize(("student", "low"), [(ADULT, 0), (ADULT, 2), (JUNIOR, 0)])
def test_a_low_score_ends_it(tmp_path, student, low) -> None:
    raised = MORNING if student == ADULT else score(1, "lead-knee")
    site = "low-back" if student == ADULT else "lead-knee"
    *_, last = lessons(tmp_path, raised, "", score(low, site), student=student)
    assert site not in held(last)


@pytest.mark.parametrize(("student", "site", "still"), [(ADULT, "low-back", 3), (JUNIOR, "lead-knee", 1)])
def test_a_score_that_is_not_low_is_a_hold_of_its_own(tmp_path, student, site, still) -> None:
    raised = MORNING if student == ADULT else score(2, site)
    _, second = lessons(tmp_path, raised, score(still, site), student=student)
    assert site in held(second)
    assert [c.raised_on for c in second.cautions if site in c.sites] == [None] * sum(
        site in c.sites for c in second.cautions
    )


def test_asking_about_another_place_ends_nothing(tmp_path) -> None:
    _, second = lessons(tmp_path, MORNING, score(0, "neck"))
    assert "low-back" in held(second)


def test_of_two_places_the_one_that_was_not_asked_stays(tmp_path) -> None:
    both = "comfort: [{site: lead-wrist, score: 4, when: after}, {site: trail-elbow, score: 4, when: after}]"
    _, second, third = lessons(tmp_path, both, score(4, "lead-wrist"), score(0, "lead-wrist"))
    assert set(of(second, "wrist-or-elbow-sore").sites) == {"lead-wrist", "trail-elbow"}
    assert of(third, "wrist-or-elbow-sore").sites == ("trail-elbow",)


def test_a_hold_beside_a_stop_stands_after_the_stop_is_cleared(tmp_path) -> None:
    hurt = "comfort: [{site: low-back, score: 8, when: during}, {site: lead-knee, score: 4, when: during}]"
    _, cleared = lessons(tmp_path, hurt, "cleared: {by: Dr Invented, on: 2026-03-10}\n" + score(0))
    assert not cleared.stopped
    assert "lead-knee" in held(cleared)


def test_what_is_watched_is_asked_of_student_yaml_alone(tmp_path) -> None:
    first, second = lessons(tmp_path, "", "", student=f"{ADULT}\nwatch: [low-back]")
    assert of(second, "low-back-watched").raised_on is None
    assert of(first, "low-back-watched").sites == ()


def test_a_place_that_is_no_longer_watched_is_held_by_its_score(tmp_path) -> None:
    """Watched and sore: each alone holds it, and the score holds it until somebody asks."""
    both = f"{ADULT}\nwatch: [neck]"
    (first,) = lessons(tmp_path / "one", score(4, "neck"), student=both)
    assert of(first, "neck-sore").sites == ("neck",)
    _, second = lessons(tmp_path / "two", score(4, "neck"), "", student=both)
    assert str(of(second, "neck-sore").raised_on) == "2026-03-05"


def test_what_was_said_of_the_swing_is_not_said_of_another_swing(tmp_path) -> None:
    wide = reading("separation-top", 60, u=1)
    narrow = reading("separation-top", 30, u=1)
    written = {DAYS[0]: sheet(wide, score(4)), DAYS[1]: sheet(narrow, "")}
    first, second = judged(tmp_path, written)
    assert of(first, "separation-with-watched-back")
    assert not of(second, "separation-with-watched-back")
    assert "low-back" in held(second)


def test_the_desk_is_told_what_was_not_asked(tmp_path) -> None:
    _, second, third = lessons(tmp_path, MORNING, "", score(1))
    (remark,) = [one for one in second.for_the_desk if one.code == "not asked"]
    assert (remark.sites, str(remark.since)) == (("low-back",), "2026-03-05")
    assert [one for one in third.for_the_desk if one.code == "not asked"] == []


# the practice log


def log(*entries: str) -> str:
    return "practice_log:\n" + "\n".join(f"  - {{{entry}}}" for entry in entries)


def test_a_score_in_the_log_counts_as_if_it_had_been_asked_that_day(tmp_path) -> None:
    _, second, third = lessons(
        tmp_path, "", log("date: 2026-03-10, minutes: 0, comfort: [{site: low-back, score: 4}]"), ""
    )
    assert "low-back" in held(second)
    assert str(of(second, "low-back-some-pain").raised_on) == "2026-03-10"
    assert str(of(third, "low-back-some-pain").raised_on) == "2026-03-10"


def test_a_day_of_rest_with_a_note_and_no_score_is_told_to_the_desk(tmp_path) -> None:
    rested = "date: 2026-03-10, minutes: 0, note: back ached"
    scored = "date: 2026-03-11, minutes: 0, note: neck ached, comfort: [{site: neck, score: 1}]"
    _, second = lessons(tmp_path, "", log(rested, scored))
    remarks = [one for one in second.for_the_desk if one.code == "rest without a score"]
    assert [str(one.since) for one in remarks] == ["2026-03-10"]


def test_the_lesson_asks_later_than_the_log(tmp_path) -> None:
    entry = "date: 2026-03-10, minutes: 0, comfort: [{site: low-back, score: 4}]"
    _, second = lessons(tmp_path, "", f"{log(entry)}\n{score(0)}")
    assert "low-back" not in held(second)


def test_pain_that_stops_is_not_asked_away(tmp_path) -> None:
    entry = "date: 2026-03-10, minutes: 20, comfort: [{site: low-back, score: 8}]"
    _, second, third = lessons(tmp_path, "", f"{log(entry)}\n{score(0)}", "cleared: {by: Dr Invented, on: 2026-03-13}")
    assert second.stopped
    assert not third.stopped


def test_a_stop_of_the_log_that_was_cleared_before_the_lesson_stops_nothing(tmp_path) -> None:
    entry = "date: 2026-03-07, minutes: 20, comfort: [{site: low-back, score: 8}]"
    _, second = lessons(tmp_path, "", f"{log(entry)}\ncleared: {{by: Dr Invented, on: 2026-03-11}}")
    assert not second.stopped


# grades

RULES = library().rules


def asks(of: Facts) -> tuple[bool, frozenset[str], frozenset[str]]:
    """Whether everything stops, which places are held, what is forbidden."""
    firing = said_now(RULES, cautions(RULES.values(), of))
    forbidden = {what for caution in firing for what in RULES[caution.rule].forbids}
    return any(c.level == "stop" for c in firing), held_sites(RULES, firing), frozenset(forbidden)


def no_less(more: Facts, less: Facts) -> bool:
    (stop, sites, forbidden), (stop0, sites0, forbidden0) = asks(more), asks(less)
    return stop or (not stop0 and sites >= sites0 and forbidden >= forbidden0)


students = st.builds(
    lambda stage, age, watch, club: (stage, age, {"watch": watch, "club": club}),
    st.just("adult"),
    st.integers(18, 59),
    st.lists(st.sampled_from(SITES), max_size=2, unique=True),
    st.sampled_from(["driver", "iron", "wedge"]),
) | st.builds(
    lambda age, watch: ("junior", age, {"watch": watch}),
    st.integers(6, 17),
    st.lists(st.sampled_from(SITES), max_size=2, unique=True),
)


@settings(max_examples=300, deadline=None)
@given(
    student=students,
    site=st.sampled_from(SITES),
    when=st.sampled_from(["before", "during", "after", "next-morning"]),
    before=st.lists(st.integers(0, 10), max_size=3),
    load=st.sampled_from([None, {"rise": 1.4}, {"kinds": ("speed-sticks",)}]),
)
def test_a_higher_score_never_asks_for_less(student, site, when, before, load) -> None:
    stage, age, known = student

    def with_score(of: int) -> Facts:
        return facts(stage, age, **known, load=load, scores={site: (*before, of)}, **felt(site, of, when))

    grades = [with_score(of) for of in range(11)]
    assert [of for of in range(10) if not no_less(grades[of + 1], grades[of])] == []


def test_2_of_10_asks_an_adult_for_less_than_6_does() -> None:
    stop, sites, forbidden = asks(adult(club="driver", **felt("low-back", 2)))
    assert (stop, sites, forbidden) == (False, frozenset(), frozenset({"fast-swings"}))
    assert asks(adult(club="driver", **felt("low-back", 6)))[0]


@pytest.mark.parametrize("score_", range(1, 11))
@pytest.mark.parametrize("watch", [[], ["low-back"]])
def test_no_junior_reads_the_lists_of_adults(score_: int, watch: list[str]) -> None:
    said = said_now(RULES, cautions(RULES.values(), junior(watch=watch, **felt("low-back", score_))))
    text = " ".join(RULES[c.rule].student for c in said)
    assert [word for word in ("cancer", "steroid", "fifty", "bowels") if word in text] == []
    assert text.count("wakes you at night") <= 1


@pytest.mark.parametrize("of", [adult(**felt("low-back", 5)), junior(**felt("low-back", 1))])
def test_a_sign_is_said_once(of: Facts) -> None:
    text = " ".join(RULES[c.rule].student for c in cautions(RULES.values(), of))
    assert text.count("at night") == 1


def test_the_order_of_gravity_is_the_same_whatever_they_are_found_in() -> None:
    firing = cautions(RULES.values(), junior(watch=list(SITES), growth="around", **felt("low-back", 1)))
    assert in_gravity(RULES, reversed(firing)) == firing
    assert in_gravity(RULES, sorted(firing, key=lambda c: c.rule)) == firing


def test_what_hurts_comes_before_what_is_watched_and_what_is_measured() -> None:
    firing = cautions(RULES.values(), adult(watch=["neck"], hips={"lead-hip": "restricted"}, **felt("low-back", 4)))
    assert firing[0].rule == "low-back-some-pain"


@pytest.mark.parametrize("of", [junior(grows=8, load={"most_swings_in_two_days": 400, "most_swings_a_day": 220})])
def test_400_swings_in_two_days_of_a_junior_who_grows_fast_are_said_once(of: Facts) -> None:
    said = {caution.rule for caution in cautions(RULES.values(), of)}
    assert [rule for rule in said if "many-swings" in rule] == ["junior-many-swings-while-growing"]
