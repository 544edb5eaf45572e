"""Plans beside cautions that stand: cases that were seen, each with what a careful teacher would have planned."""

import re

import pytest

from tests.judging.academies import ADULT, JUNIOR, judged, library, one, reading, sheet

HIPS = reading("pelvis-open-impact", 75, u=1)
INSIDE = reading("pelvis-open-impact", 45)
SETTLED = {f"2026-02-{day:02}": sheet(INSIDE, "drills: [count-the-swing]") for day in (5, 12, 19)}


def items(report):
    return [item for day in report.practice.days for item in day.items] if report.practice else []


def settled(root, more, student=ADULT):
    """The fourth lesson of a swing that is in its range, with drills without a ball and `more` in its sheet."""
    text = sheet(INSIDE, "drills: [light-lead-toes, pendulum-swings]", more)
    return judged(root, {**SETTLED, "2026-02-26": text}, student)[-1]


def forbidding(root, *activities):
    """An academy's own caution that is said to everybody and forbids something."""
    (root / "safety").mkdir(parents=True)
    (root / "safety" / "own.yaml").write_text(
        "rules:\n  - {id: own, level: note, when: {always: true}, student: Mind it., instructor: Mind it., "
        f"basis: instructor, source: invented, forbids: [{', '.join(activities)}]}}\n",
        encoding="utf-8",
    )
    return root


def comfort(site, score):
    return f"comfort: [{{site: {site}, score: {score}, when: after}}]"


def test_a_settled_swing_is_mixed_and_ends_with_faster_swings_where_nothing_stands_against_it(tmp_path):
    report = settled(tmp_path, "")
    assert {"mixed", "speed"} <= {item.kind for item in items(report)}
    assert report.practice.says == (
        "You have this now, and a little practice keeps it. Practise it the way you play: a new club and target for "
        "every ball. Finish with a few faster swings."
    )


@pytest.mark.parametrize("site", ["lead-elbow", "trail-wrist"])
def test_an_elbow_that_hurts_gets_no_ball_in_its_week(tmp_path, site):
    report = settled(tmp_path, comfort(site, 5))
    assert items(report)
    assert {item.kind for item in items(report)} & {"mixed", "speed"} == set()


def test_a_watched_wrist_that_hurts_gets_no_brush_of_the_ground(tmp_path):
    student = f"{ADULT}\nwatch: [lead-wrist]"
    report = one(tmp_path, HIPS, student, f"{comfort('lead-wrist', 4)}\ndrills: [brush-ahead-of-the-line]")
    assert report.drills == ()
    assert [gap.says for gap in report.missing if gap.kind == "left out"] == [
        "Brush ahead of the line is left out for now: the club meets the ground and it works hard on your lead wrist."
    ]


def test_a_watched_back_gets_balls_with_small_swings_and_no_faster_ones(tmp_path):
    report = settled(tmp_path, "", f"{ADULT}\nwatch: [low-back]")
    mixed = [item.what for item in items(report) if item.kind == "mixed"]
    assert mixed
    assert all("hands no higher than your hips" in what for what in mixed)
    assert "speed" not in {item.kind for item in items(report)}


def test_beside_small_and_slow_no_week_speaks_of_faster_swings(tmp_path):
    report = settled(tmp_path, comfort("low-back", 4))
    assert [caution.rule for caution in report.cautions if caution.level == "hold"]
    assert "faster" not in report.practice.says
    assert all("faster" not in item.what for item in items(report))


def test_a_junior_trains_no_speed(tmp_path):
    assert "speed" not in {item.kind for item in items(settled(tmp_path, "", JUNIOR))}


@pytest.mark.parametrize(
    ("activity", "gone"),
    [
        ("balls", "mixed"),
        ("ground", "mixed"),
        ("fast-swings", "speed"),
        ("swings", "slow"),
    ],
)
def test_what_a_caution_forbids_is_in_no_week(tmp_path, activity, gone):
    report = settled(forbidding(tmp_path, activity), "")
    assert items(report)
    assert gone not in {item.kind for item in items(report)}


def test_where_the_driver_is_forbidden_other_clubs_are_mixed_without_it(tmp_path):
    mixed = [item.what for item in items(settled(forbidding(tmp_path, "driver"), "")) if item.kind == "mixed"]
    assert mixed
    assert all("not the driver" in what for what in mixed)


def test_where_full_swings_are_forbidden_slow_ones_and_balls_are_small(tmp_path):
    report = settled(forbidding(tmp_path, "full-swings"), "")
    small = [item.what for item in items(report) if item.kind in ("slow", "mixed")]
    assert {item.kind for item in items(report)} >= {"slow", "mixed"}
    assert all("hands no higher than your hips" in what for what in small)


def test_where_no_club_may_be_swung_the_warm_up_has_none(tmp_path):
    report = settled(forbidding(tmp_path, "swings"), "")
    assert [given.drill for given in report.drills] == ["light-lead-toes"]
    assert {item.what for item in items(report) if item.kind == "warm-up"} == {
        library().practice.warm_up.without_swings
    }
    assert {day.amount for day in report.practice.days} == {"no swings"}


def test_a_pace_that_is_forbidden_becomes_an_easy_one_and_the_desk_is_told(tmp_path):
    given = "drills: [{drill: count-the-swing, dose: 2 x 8 full}]"
    report = one(forbidding(tmp_path, "fast-swings"), HIPS, ADULT, given)
    assert [str(drill.dose) for drill in report.drills] == ["2 × 8 easy"]
    assert [(remark.code, str(remark.dose)) for remark in report.for_the_desk if remark.drill] == [
        ("too fast", "2 × 8 full")
    ]


def test_counts_are_not_made_again_where_no_ball_may_be_hit(tmp_path):
    putts = (
        "kind: putting\nclub: putter\nshots: [{count: holed, made: 4, of: 10, distance: 2 m}]\n"
        "drills: [putter-along-a-stick]"
    )
    report = judged(forbidding(tmp_path, "balls"), {"2026-03-05": putts})[0]
    assert {item.kind for item in items(report)} == {"warm-up", "block"}
    assert "count" not in report.practice.says


def test_a_drill_that_is_forbidden_is_told_with_what_it_does(tmp_path):
    report = one(forbidding(tmp_path, "balls"), HIPS, ADULT, "drills: [toes-free]")
    assert [gap.says for gap in report.missing if gap.kind == "left out"] == [
        "Toes free is left out for now: a ball is hit."
    ]


def test_a_low_score_that_is_written_ends_what_a_high_one_left_out(tmp_path):
    _, again, fine = judged(
        tmp_path,
        {
            "2026-03-05": sheet(HIPS, comfort("lead-wrist", 4)),
            "2026-03-12": sheet(HIPS, "drills: [pendulum-swings]"),
            "2026-03-19": sheet(HIPS, f"drills: [pendulum-swings]\n{comfort('lead-wrist', 0)}"),
        },
    )
    assert [len(report.drills) for report in (again, fine)] == [0, 1]


def test_the_words_of_a_week_name_the_limit_that_binds_once(tmp_path):
    logged = "practice_log: [{date: 2026-03-04, swings: 40}]"
    report = one(tmp_path, HIPS, ADULT, f"drills: [count-the-swing]\n{logged}")
    assert report.practice.most == "No more than 60 full swings this week. Fewer is fine. Stop if anything hurts."


def test_a_week_of_turns_alone_counts_no_swings(tmp_path):
    report = one(forbidding(tmp_path, "swings"), HIPS, ADULT, "drills: [light-lead-toes]")
    assert [day.swings for day in report.practice.days] == [0, 0, 0]
    assert not re.search("full swing", report.practice.most)


def test_no_caution_asks_for_a_longer_warm_up_than_a_day_of_practice_has():
    assert "minutes" not in library().rules["warm-up"].student
