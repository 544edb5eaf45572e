"""Cases that were seen, from the sheets on disk to what the student reads: the plan, the cautions and the words of one
lesson agree, in students with more than one thing in the way."""

import re

import pytest

from reportgen.pipeline import load
from reportgen.records.told import ToldLesson
from tests.judging.academies import ADULT, ID, JUNIOR, judged, one, reading, sheet, tell_folder, write_academy

OPEN_HIPS = reading("pelvis-open-impact", 80, u=1)
INSIDE = reading("pelvis-open-impact", 45)
DAYS = ("2026-03-05", "2026-03-12", "2026-03-19", "2026-03-26")
CLEARED = "cleared: {by: 'Dr Invented, physiotherapist', on: 2026-03-10}"
PUTTS = "kind: putting\nclub: putter\nshots: [{count: holed, made: 4, of: 10, distance: 2 m}]"
GROWS = (
    "born: 2012-05-01\nsex: male\ngrowth:\n"
    "  - {date: 2025-09-01, height: 158 cm, sitting_height: 81 cm, mass: 46 kg}\n"
    "  - {date: 2026-02-20, height: 163 cm, sitting_height: 83 cm, mass: 50 kg}"
)
FOUR_HUNDRED = "practice_log: [{date: 2026-03-02, swings: 180}, {date: 2026-03-03, swings: 220}]"


def felt(*scores: tuple[str, int], when: str = "before") -> str:
    return f"comfort: [{', '.join(f'{{site: {site}, score: {score}, when: {when}}}' for site, score in scores)}]"


def told(root, *sheets: str, student: str = ADULT) -> tuple[ToldLesson, ...]:
    return judged(root, dict(zip(DAYS, sheets, strict=False)), student)


def rules(report) -> list[str]:
    return [caution.rule for caution in report.cautions if not caution.usual]


def items(report):
    return [item for day in report.practice.days for item in day.items] if report.practice else []


def words(report) -> str:
    """What the student reads of the plan and the cautions."""
    week = [report.practice.says, report.practice.most] if report.practice else []
    return " ".join([caution.text for caution in report.cautions] + week + [item.what for item in items(report)])


# how much


def test_2_of_10_asks_for_less_than_6_of_10_and_speaks_with_one_voice(tmp_path):
    little, strong = (
        one(
            tmp_path / str(score),
            INSIDE,
            ADULT,
            f"club: driver\ndrills: [pendulum-swings]\n{felt(('low-back', score))}",
        )
        for score in (2, 6)
    )
    assert (little.stopped, strong.stopped) == (False, True)
    assert (bool(little.practice), strong.practice) == (True, None)
    assert "driver-with-watched-back" not in rules(little)
    assert "speed" not in {item.kind for item in items(little)}


def test_a_practice_swing_before_a_ball_counts_as_a_swing(tmp_path):
    *_, report = told(tmp_path, *[sheet(INSIDE, "drills: [pendulum-swings]")] * 4)
    mixed = [item for item in items(report) if item.kind == "mixed"]
    assert mixed
    assert all(item.swings == 2 * item.balls for item in mixed)
    assert all(item.what.startswith(f"{item.balls} balls, each") for item in mixed)
    assert all("one practice swing" in item.what for item in mixed)


def test_small_balls_have_no_practice_swing(tmp_path):
    *_, report = told(tmp_path, *[sheet(INSIDE, "drills: [pendulum-swings]", felt(("low-back", 4)))] * 4)
    mixed = [item for item in items(report) if item.kind == "mixed"]
    assert mixed
    assert all(item.swings == item.balls and "practice swing" not in item.what for item in mixed)


@pytest.mark.parametrize("student", [JUNIOR, f"{ADULT}\nwatch: [low-back]"])
def test_beside_no_full_swings_the_limit_speaks_of_none(tmp_path, student):
    score = 1 if student == JUNIOR else 4
    report = one(tmp_path, INSIDE, student, f"drills: [pendulum-swings]\n{felt(('low-back', score))}")
    assert report.practice.most == "No more than 120 swings this week. Fewer is fine. Stop if anything hurts."


def test_a_return_with_half_swings_permits_no_full_ones(tmp_path):
    *_, report = told(
        tmp_path, sheet(OPEN_HIPS, felt(("low-back", 8))), sheet(OPEN_HIPS, CLEARED, "return_step: half-swings")
    )
    assert "full swings this week" not in report.practice.most
    assert "full swings a day" not in report.practice.most


def test_400_swings_in_two_days_while_growing_are_said_once_and_hold_the_back(tmp_path):
    report = one(tmp_path, INSIDE, GROWS, f"drills: [pendulum-swings]\n{FOUR_HUNDRED}")
    assert [rule for rule in rules(report) if "many-swings" in rule] == ["junior-many-swings-while-growing"]
    assert "speed" not in {item.kind for item in items(report)}


def test_400_swings_before_a_back_that_hurts_are_for_the_doctor_to_hear(tmp_path):
    report = one(tmp_path, INSIDE, GROWS, f"{felt(('low-back', 5))}\n{FOUR_HUNDRED}")
    assert report.stopped
    assert [rule for rule in rules(report) if "many-swings" in rule] == ["junior-many-swings-before-pain"]
    assert not re.search(r"rest day|fast swings", words(report))


def test_a_junior_without_ranges_is_not_told_that_the_swing_has_changed(tmp_path):
    days = {f"2026-02-{7 * n:02}": sheet(INSIDE, "drills: [pendulum-swings]") for n in range(1, 5)}
    *_, report = judged(tmp_path, {**days, "2026-03-05": sheet(INSIDE, "drills: [pendulum-swings]")}, JUNIOR)
    assert report.practice.phase == "settling"
    assert "change" not in report.practice.says


def test_a_day_of_0_minutes_is_rest_and_its_note_asks_for_a_score(tmp_path):
    log = "practice_log: [{date: 2026-03-07, swings: 30}, {date: 2026-03-09, minutes: 0, note: back ached; rested}]"
    _, report = told(tmp_path, sheet(OPEN_HIPS), sheet(OPEN_HIPS, log))
    assert report.practised.days == 1
    assert [remark.since.isoformat() for remark in report.for_the_desk if remark.code == "rest without a score"] == [
        "2026-03-09"
    ]


# one voice


def test_a_junior_reads_of_pain_at_night_once_and_no_list_of_adults(tmp_path):
    report = one(tmp_path, INSIDE, JUNIOR, felt(("low-back", 1)))
    text = words(report)
    assert len(re.findall(r"at night", text)) == 1
    assert not re.search(r"fifty|cancer|steroid|weight loss", text)


def test_a_pain_that_nobody_asks_about_again_holds_through_two_sheets(tmp_path):
    sore = sheet(INSIDE, felt(("low-back", 5), when="next-morning"))
    given = sheet(INSIDE, "drills: [backswing-to-chest-height, pendulum-swings]")
    _, second, third = told(tmp_path, sore, given, given)
    for report in (second, third):
        assert [drill.drill for drill in report.drills] == ["pendulum-swings"]
        assert "speed" not in {item.kind for item in items(report)}
        assert [remark.sites for remark in report.for_the_desk if remark.code == "not asked"] == [("low-back",)]


def test_what_was_2_before_and_is_4_after_is_said_once_as_4(tmp_path):
    scores = "comfort: [{site: low-back, score: 2, when: before}, {site: low-back, score: 4, when: after}]"
    report = one(tmp_path, INSIDE, ADULT, scores)
    assert "low-back-some-pain" in rules(report)
    assert "felt-a-little" not in rules(report)


@pytest.mark.parametrize(("stiff", "other"), [("lead-hip", "trail-hip"), ("trail-hip", "lead-hip")])
def test_who_has_one_stiff_hip_is_not_told_that_both_turn_less(tmp_path, stiff, other):
    report = one(tmp_path, INSIDE, f"{ADULT}\nmobility: {{{stiff}: restricted, {other}: typical}}")
    assert [rule for rule in rules(report) if rule.startswith("restricted")] == [f"restricted-{stiff}"]
    assert "Your hips turn less than most" not in words(report)


@pytest.mark.parametrize("made", [3, 10])
def test_a_week_for_a_count_that_can_grow_does_not_say_you_have_this_now(tmp_path, made):
    shots = f"shots: [{{count: on-line, made: {made}, of: 10, width: 2 m, distance: 20 m}}]"
    *_, report = told(tmp_path, *[sheet(INSIDE, shots)] * 3)
    assert (report.practice is None) == (made == 10)
    assert report.practice is None or "You have this now" not in report.practice.says


# more than one thing in the way


def test_a_return_with_a_sore_elbow_and_a_sore_knee_hits_nothing(tmp_path):
    stop = sheet(OPEN_HIPS, felt(("low-back", 8), ("lead-elbow", 4)))
    back = sheet(OPEN_HIPS, CLEARED, felt(("low-back", 0), ("lead-elbow", 4), ("lead-knee", 3)))
    _, report = told(tmp_path, stop, back, student=f"{ADULT}\nwatch: [lead-knee]")
    assert {"wrist-or-elbow-sore", "lead-knee-sore"} <= set(rules(report))
    assert (report.drills, report.practice) == ((), None)


def test_a_return_with_a_sore_hip_and_a_sore_knee_stays_at_putts_and_chips(tmp_path):
    stop = sheet(OPEN_HIPS, felt(("low-back", 8)))
    back = sheet(OPEN_HIPS, CLEARED, "return_step: woods", felt(("low-back", 0), ("lead-hip", 4), ("lead-knee", 3)))
    _, report = told(tmp_path, stop, back)
    assert {day.swings for day in report.practice.days} == {0}


@pytest.mark.parametrize(("on", "stopped"), [("2026-03-01", True), ("2026-03-05", False)])
def test_a_clearance_from_before_the_stop_ends_nothing(tmp_path, on, stopped):
    _, report = told(
        tmp_path, sheet(OPEN_HIPS, felt(("low-back", 8))), sheet(OPEN_HIPS, f"cleared: {{by: Dr, on: {on}}}")
    )
    assert report.stopped == stopped


def test_a_clearance_does_not_outlive_the_pain_of_its_own_day(tmp_path):
    (report,) = told(tmp_path, sheet(OPEN_HIPS, "cleared: {by: Dr, on: 2026-03-05}", felt(("low-back", 8))))
    assert report.stopped


def test_a_lesson_of_putting_moves_the_return_on_and_keeps_it(tmp_path):
    stop, back = sheet(OPEN_HIPS, felt(("low-back", 8))), sheet(OPEN_HIPS, CLEARED)
    *_, putting, after = told(tmp_path, stop, back, f"{PUTTS}\nreturn_step: half-swings", sheet(OPEN_HIPS))
    for report in (putting, after):
        assert report.practice.returning.step == "half-swings"
        assert report.drills == ()


def test_a_stop_in_a_lesson_of_putting_stops_the_full_swing_too(tmp_path):
    _, report = told(tmp_path, f"{PUTTS}\n{felt(('low-back', 8))}", sheet(OPEN_HIPS))
    assert report.stopped
    assert (report.drills, report.practice) == ((), None)


def test_a_watched_wrist_putts_and_a_sore_one_does_not(tmp_path):
    watched = f"{ADULT}\nwatch: [lead-wrist]"
    (calm,) = told(tmp_path / "calm", PUTTS, student=watched)
    (sore,) = told(tmp_path / "sore", f"{PUTTS}\n{felt(('lead-wrist', 4))}", student=watched)
    assert calm.drills
    assert (sore.drills, sore.practice) == ((), None)


def test_a_drill_of_the_academys_with_a_line_for_skip_if_counts_as_the_most_it_can_be(tmp_path):
    drills = tmp_path / "drills"
    drills.mkdir(parents=True)
    (drills / "own-brush.md").write_text(
        "---\nid: own-brush\ntitle: Own brush\naim: Invented.\nserves: [{metric: pelvis-open-impact, when: above}]\n"
        "dose: 2 x 8 easy\nfeel: Brush.\nskip_if: A wrist that hurts.\nsource: instructor\n---\n\n"
        + "\n\n".join(f"## {name}\n\n1. Invented.\n2. Invented.\n3. Invented." for name in (
            "Set-up", "Steps", "Feel", "Common mistakes", "Easier", "Harder")),
        encoding="utf-8",
    )  # fmt: skip
    report = one(
        tmp_path, OPEN_HIPS, f"{ADULT}\nwatch: [lead-wrist]", f"drills: [own-brush]\n{felt(('lead-wrist', 4))}"
    )
    assert report.drills == ()
    assert [gap.drill for gap in report.missing if gap.kind == "left out"] == ["own-brush"]


# who


def test_with_the_only_metric_out_set_aside_nothing_is_a_task_and_the_desk_knows(tmp_path):
    report = one(tmp_path, OPEN_HIPS, ADULT, "set_aside: [pelvis-open-impact]")
    assert (report.priorities, report.drills, report.practice) == ((), (), None)
    assert [remark.code for remark in report.for_the_desk] == ["set aside"]


def test_a_left_handed_beginner_with_a_stiff_lead_hip_has_at_most_one_thing_and_nothing_on_that_hip(tmp_path):
    text = sheet(reading("pelvis-open-impact", 80, u=1) + reading("seat-forward-impact", 12, "cm", u=1))
    root = write_academy(tmp_path, {DAYS[0]: text}, f"{ADULT}\nbeginner: true\nmobility: {{lead-hip: restricted}}")
    file = root / "students" / ID / "student.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("plays: right", "plays: left"), encoding="utf-8")
    (report,) = tell_folder(load(root))
    assert len(report.priorities) == 1
    assert report.drills
    assert all(drill.easier for drill in report.drills if "lead-hip" in drill.loads)


def test_a_child_of_nine_has_two_days_off_and_no_speed(tmp_path):
    student = "born: 2017-01-01\npractice: {days: [mon, tue, wed, thu, fri, sat, sun], minutes: 60}"
    *_, report = told(tmp_path, *[sheet(INSIDE, "drills: [pendulum-swings]")] * 3, student=student)
    assert len(report.practice.days) == 5
    assert all(day.swings <= 60 for day in report.practice.days)
    assert "speed" not in {item.kind for item in items(report)}


@pytest.mark.parametrize("minutes", [5, 10])
def test_a_few_minutes_a_day_are_kept_to(tmp_path, minutes):
    student = f"{ADULT}\npractice: {{days: [mon, wed], minutes: {minutes}}}"
    for report in told(tmp_path, *[sheet(OPEN_HIPS)] * 3, student=student):
        assert all(day.minutes <= minutes for day in report.practice.days)


def test_no_practice_days_are_a_problem_of_their_line(tmp_path):
    folder = load(write_academy(tmp_path, {DAYS[0]: sheet(INSIDE)}, f"{ADULT}\npractice: {{days: [], minutes: 30}}"))
    assert [str(problem) for problem in folder.problems] == [
        f"students/{ID}/student.yaml:4:18: practice: days has 0 items. At least 1."
    ]
