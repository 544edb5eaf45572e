"""Practice of putts and short shots: drills for what was counted, a week without full swings."""

import pytest

from tests.judging.academies import judged, library, reading, sheet

PUTTS, CHIPS = "kind: putting\nclub: putter", "kind: short-game\nclub: sand-wedge"
SMALL = {"putting", "short-game"}


def counted(*rows):
    return "shots:\n" + "\n".join(f"  - {{{row}}}" for row in rows)


HOLED, ON_LINE = (
    "count: holed, made: 4, of: 10, distance: 2 m",
    "count: on-line, made: 6, of: 10, width: 8 cm, distance: 0.5 m",
)
LONG = "count: distance-control, made: 3, of: 10, distance: 12 m"


def lessons(root, *texts, student="born: 1986-05-01"):
    return judged(root, {f"2026-03-{5 + 7 * k:02}": text for k, text in enumerate(texts)}, student)


def one(root, text, student="born: 1986-05-01"):
    return lessons(root, text, student=student)[-1]


def drills(report):
    return [library().drills[given.drill] for given in report.drills]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        (sheet(reading("putt-aim", 4, u=0.3), PUTTS, counted(HOLED)), "putting"),
        (
            sheet(reading("chip-lead-weight", 40, "'%'", u=3), CHIPS, counted("count: solid, made: 4, of: 10")),
            "short-game",
        ),
    ],
)
def test_a_value_out_of_its_range_gets_a_drill_of_the_lessons_kind(tmp_path, text, kind):
    report = one(tmp_path, text)
    assert report.priorities
    assert [drill.kinds for drill in drills(report)] == [(kind,), (kind,)]


def test_the_plan_of_a_full_swing_proposes_no_drill_of_putts_for_what_was_counted(tmp_path):
    report = one(tmp_path, sheet(reading("pelvis-open-impact", 80, u=1), counted(ON_LINE)))
    assert {drill.kinds for drill in drills(report)} == {("full-swing",)}


def test_what_was_counted_and_missed_gets_a_drill_in_the_order_of_the_sheet(tmp_path):
    report = one(tmp_path, f"{PUTTS}\n{counted(LONG, HOLED, ON_LINE)}")
    assert [given.trains for given in report.drills] == ["distance-control", "holed"]
    assert [given.for_count for given in report.drills] == ["Right length", "Holed"]
    assert all(given.trains in library().drills[given.drill].trains for given in report.drills)


def test_where_no_drill_suits_one_count_the_next_one_gets_its_drill(tmp_path):
    report = one(tmp_path, f"{PUTTS}\n{counted(ON_LINE, HOLED)}", "born: 1986-05-01\nwatch: [low-back, trail-wrist]")
    assert [given.trains for given in report.drills][-1] == "holed"


def test_at_most_two_drills_are_proposed(tmp_path):
    other = "count: two-putts, made: 3, of: 10, distance: 15 m"
    assert len(one(tmp_path, f"{PUTTS}\n{counted(LONG, HOLED, ON_LINE, other)}").drills) == 2


def test_what_was_always_made_needs_no_drill(tmp_path):
    assert one(tmp_path, f"{PUTTS}\n{counted('count: holed, made: 10, of: 10, distance: 1 m')}").drills == ()


def test_the_instructors_own_drill_wins(tmp_path):
    report = one(tmp_path, f"{PUTTS}\n{counted(HOLED)}\ndrills: [eyes-on-the-hole]")
    assert [given.drill for given in report.drills] == ["eyes-on-the-hole"]


def test_a_watched_back_gets_no_drill_in_which_one_stands_bent_for_long(tmp_path):
    report = one(tmp_path, f"{PUTTS}\n{counted(ON_LINE, HOLED)}", "born: 1986-05-01\nwatch: [low-back]")
    assert report.drills
    assert not [drill.id for drill in drills(report) if "low-back" in drill.loads]


def test_a_week_of_putts_has_no_full_swing_and_no_phase_of_one(tmp_path):
    week = one(tmp_path, f"{PUTTS}\n{counted(HOLED)}").practice
    assert (week.phase, [day.swings for day in week.days]) == (None, [0, 0, 0])
    assert {item.kind for day in week.days for item in day.items} == {"warm-up", "block", "count"}
    assert "ten small strokes" in week.days[0].items[0].what


def test_a_week_of_putts_counts_again_what_the_lesson_counted(tmp_path):
    week = one(tmp_path, f"{PUTTS}\n{counted(HOLED)}").practice
    assert [day.items[-1].what for day in week.days] == ["Count 10 in a row again: Holed (2\u00a0m away), putter."] * 3


def test_a_count_before_and_after_the_work_is_repeated_once(tmp_path):
    report = one(tmp_path, f"{PUTTS}\n{counted(f'{HOLED}, when: before', f'{HOLED}, when: after')}")
    again = [item for item in report.practice.days[0].items if item.kind == "count"]
    assert [item.what for item in again] == ["Count 10 in a row again: Holed (2\u00a0m away), putter."]


def test_a_lesson_in_which_nothing_was_missed_still_has_its_counts_in_the_week(tmp_path):
    week = one(tmp_path, f"{PUTTS}\n{counted('count: holed, made: 10, of: 10, distance: 1 m')}").practice
    assert {item.kind for day in week.days for item in day.items} == {"warm-up", "count"}


def test_a_lesson_without_drill_and_count_has_no_week(tmp_path):
    assert one(tmp_path, PUTTS).practice is None


@pytest.mark.parametrize("minutes", [5, 8, 12, 20, 45, 240])
def test_no_day_goes_beyond_its_minutes_and_its_ceiling_of_strokes(tmp_path, minutes):
    student = f"born: 1986-05-01\npractice: {{minutes: {minutes}, days: [mon, wed, sat]}}"
    drill = "drills: [{drill: gate-of-two-tees, dose: 9 x 10 easy}, {drill: ladder-of-lengths, dose: 9 x 10 easy}]"
    week = one(
        tmp_path, f"{PUTTS}\n{counted('count: holed, made: 4, of: 50, distance: 2 m')}\n{drill}", student
    ).practice
    most = library().practice.small_game.strokes_a_day
    assert week.strokes_a_day_at_most == most
    assert all(day.strokes <= most and day.minutes <= minutes for day in week.days)


def test_putts_count_against_no_ceiling_of_full_swings(tmp_path):
    log = "practice_log: [{date: 2026-03-04, kind: short-game, swings: 500}]"
    putted, rested = (
        one(tmp_path / name, sheet(reading("pelvis-open-impact", 80, u=1), more)).practice
        for name, more in (("putted", log), ("rested", ""))
    )
    assert putted == rested


def test_a_lesson_on_the_course_lays_putts_after_the_full_swings_of_a_day(tmp_path):
    week = one(tmp_path, "kind: on-the-course\ndrills: [pendulum-swings, round-the-hole]").practice
    (first, *_) = week.days
    assert [item.drill for item in first.items if item.kind == "block"] == ["pendulum-swings", "round-the-hole"]
    assert week.phase == "new"
    assert first.swings + first.strokes > first.strokes > 0
    assert first.amount.endswith("putts and short shots")


def test_what_was_putted_since_is_told_of_putts_alone(tmp_path):
    log = (
        "practice_log: [{date: 2026-03-07, kind: short-game, swings: 40}, {date: 2026-03-14, swings: 90}, "
        "{date: 2026-03-18, kind: short-game, swings: 20}]"
    )
    putts = f"{PUTTS}\n{counted(HOLED)}"
    report = lessons(tmp_path, putts, sheet(reading("pelvis-open-impact", 45)), f"{putts}\n{log}")[-1]
    assert (report.practised.days, report.practised.swings) == (2, 60)
    assert report.practised.says.startswith(
        "You practised on 2 days with 60 putts and short shots; planned: 3 days with"
    )


def test_what_was_putted_is_not_told_in_a_lesson_of_the_full_swing(tmp_path):
    log = "practice_log: [{date: 2026-03-04, kind: short-game, swings: 40}]"
    assert one(tmp_path, sheet(reading("pelvis-open-impact", 45), log)).practised is None


def test_a_test_of_putts_that_another_lessons_sheet_logs_is_told_in_the_next_putting_lesson(tmp_path):
    given = f"{PUTTS}\ndrills: [gate-of-two-tees]"
    log = "practice_log: [{date: 2026-03-10, kind: short-game, test: {drill: gate-of-two-tees, made: 8}}]"
    _, between, last = lessons(
        tmp_path, given, sheet(reading("pelvis-open-impact", 45), log), f"{PUTTS}\ndrills: [round-the-hole]"
    )
    assert between.tested == ()
    assert [(one.drill, one.standing) for one in last.tested] == [("gate-of-two-tees", "met")]
