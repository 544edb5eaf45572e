"""The practice week: within every ceiling, on the days that the student has, warm before fast."""

from datetime import date, timedelta
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.planning.allowed import Standing
from reportgen.planning.week import Limits, Practice, practice_days, practice_week
from reportgen.records.academy import PracticeTime
from reportgen.records.practice_week import PracticeDay
from reportgen.records.report import GivenDrill
from tests.judging.academies import ADULT, JUNIOR, SENIOR, judged, library, one, reading, sheet

DRILLS, RULES = library().drills, library().practice
HIPS = reading("pelvis-open-impact", 75, u=1)
LESSON = date(2026, 3, 5)  # a Thursday
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def given_drill(name, **changed):
    drill = DRILLS[name]
    given_now = GivenDrill(drill=name, dose=drill.dose, serves=None, loads=drill.loads, note=None, chosen_by="plan")
    return given_now.model_copy(update=changed)


class Drawn(NamedTuple):
    """The days of a week that was laid out, and from what."""

    days: tuple[PracticeDay, ...]
    given: tuple[GivenDrill, ...]
    limits: Limits
    time: PracticeTime | None
    phase: str
    junior: bool


times = st.none() | st.builds(
    PracticeTime,
    minutes=st.integers(5, 240),
    days=st.lists(st.sampled_from(WEEKDAYS), min_size=1, max_size=7, unique=True).map(tuple),
)
drills = st.lists(st.sampled_from(sorted(DRILLS)), min_size=1, max_size=3, unique=True)


@st.composite
def weeks(draw):
    time = draw(times)
    limits = Limits(
        swings_a_day=draw(st.integers(0, 120)),
        swings_a_week=draw(st.integers(0, 400)),
        days=draw(st.integers(1, 7)),
        minutes=time.minutes if time else 30,
    )
    given_now = [given_drill(name) for name in draw(drills)]
    phase, junior = draw(st.sampled_from(["new", "settling", "settled"])), draw(st.booleans())
    days = practice_days(LESSON, time, limits.days)
    practice = Practice(DRILLS, Standing(junior=junior), phase, RULES.warm_up.minutes)
    week, given_now = practice_week(given_now, practice, limits, days)
    return Drawn(week.days if week else (), given_now, limits, time, phase, junior)


@given(weeks())
def test_no_day_and_no_week_goes_beyond_its_ceilings(week):
    limits = week.limits
    assert len(week.days) <= limits.days
    assert all(day.swings <= limits.swings_a_day for day in week.days)
    assert all(day.minutes <= limits.minutes for day in week.days)
    assert sum(day.swings for day in week.days) <= limits.swings_a_week


@given(weeks())
def test_practice_is_on_days_that_the_student_has_in_the_week_after_the_lesson(week):
    time = week.time
    days = [day.day for day in week.days]
    assert days == sorted(set(days))
    assert all(LESSON < day <= LESSON + timedelta(days=7) for day in days)
    assert time is None or {WEEKDAYS[day.weekday()] for day in days} <= set(time.days)


@given(weeks())
def test_every_day_begins_with_a_warm_up_and_speed_comes_last_and_only_where_it_may(week):
    for day in week.days:
        kinds = [item.kind for item in day.items]
        assert kinds[0] == "warm-up"
        assert kinds.count("warm-up") == 1
        assert "speed" not in kinds[:-1]
        assert "speed" not in kinds or (not week.junior and week.phase == "settled")


@given(weeks())
def test_a_warm_up_is_at_most_a_quarter_of_its_day(week):
    assert all(day.items[0].minutes <= max(1, day.minutes / 4) for day in week.days)


@given(weeks())
def test_the_dose_of_a_drill_is_its_dose_on_every_day_of_the_week(week):
    doses = {one.drill: one.dose for one in week.given}
    blocks = [item for day in week.days for item in day.items if item.kind == "block"]
    assert [item for item in blocks if item.dose != doses[item.drill]] == []


@given(weeks())
def test_a_turn_without_a_club_is_no_swing(week):
    blocks = [item for day in week.days for item in day.items if item.kind == "block"]
    assert all(item.swings == 0 for item in blocks if DRILLS[item.drill].swing == "none")


def test_without_a_drill_there_is_no_week(tmp_path):
    assert one(tmp_path, reading("pelvis-open-impact", 45, u=1)).practice is None


def test_days_without_a_wish_are_three_with_rest_between():
    assert practice_days(LESSON, None, 7) == [date(2026, 3, 7), date(2026, 3, 9), date(2026, 3, 11)]


def test_a_week_has_the_drills_that_were_given_with_their_dose(tmp_path):
    week = one(tmp_path, HIPS, ADULT, "drills: [{drill: light-lead-toes, dose: 2 x 5 slow}]").practice
    says = [item.what for day in week.days for item in day.items]
    assert "Light lead toes, 2 × 5 slow." in says


@pytest.mark.parametrize(("student", "most"), [(JUNIOR, 60), (ADULT, 100), (SENIOR, 70)])
def test_a_day_has_the_ceiling_of_the_students_age(tmp_path, student, most):
    week = one(tmp_path, HIPS, student, "drills: [count-the-swing]").practice
    assert week.swings_a_day_at_most == most


def test_a_week_rises_no_more_than_a_tenth_over_what_was_logged(tmp_path):
    days = ("02-10", "02-12", "02-17", "02-19", "02-24", "02-26", "03-03", "03-05")
    log = ", ".join(f"{{date: 2026-{day}, swings: 50}}" for day in days)
    lessons = {"2026-03-05": sheet(HIPS, f"practice_log: [{log}]", "drills: [count-the-swing]")}
    assert judged(tmp_path, lessons)[0].practice.swings_a_week_at_most == 110


def test_in_the_growth_spurt_a_day_is_shorter_still(tmp_path):
    growth = "growth: [{date: 2026-02-20, height: 162 cm, sitting_height: 85 cm, mass: 50 kg}]"
    student = f"born: 2012-05-01\nsex: male\n{growth}"
    report = one(tmp_path, HIPS, student, "drills: [count-the-swing]")
    assert report.growth.stage == "around"
    assert report.practice.swings_a_day_at_most == 45


def test_the_first_lessons_are_practised_in_blocks_and_a_settled_swing_is_mixed(tmp_path):
    inside = {
        f"2026-02-{day:02}": sheet(reading("pelvis-open-impact", 45), "drills: [count-the-swing]")
        for day in (5, 12, 19)
    }
    first, *_, last = judged(tmp_path, inside)
    kinds = [{item.kind for day in report.practice.days for item in day.items} for report in (first, last)]
    assert (first.practice.phase, last.practice.phase) == ("new", "settled")
    assert "mixed" not in kinds[0]
    assert "mixed" in kinds[1]


def test_a_dose_of_more_than_a_day_may_have_is_cut_on_the_page_and_told_on_the_desk(tmp_path):
    given_now = "drills: [{drill: count-the-swing, dose: 10 x 30 full}, {drill: finish-and-hold, dose: 2 x 8 slow}]"
    report = one(tmp_path, HIPS, JUNIOR, given_now)
    assert report.practice.swings_a_day_at_most == 60
    assert [str(drill.dose) for drill in report.drills] == ["1 × 30 full", "2 × 8 slow"]
    cut, *others = (remark for remark in report.for_the_desk if remark.code == "dose cut")
    assert (cut.drill, str(cut.dose), str(cut.cut_to), cut.swings_a_day) == (
        "count-the-swing", "10 × 30 full", "1 × 30 full", 60,
    )  # fmt: skip
    assert others == []


def test_a_dose_that_the_days_of_a_week_have_no_room_for_is_told_on_the_desk(tmp_path):
    report = one(tmp_path, HIPS, ADULT, "drills: [{drill: count-the-swing, dose: 5 x 10 easy}]")
    assert [str(drill.dose) for drill in report.drills] == ["3 × 10 easy"]
    (less,) = (remark for remark in report.for_the_desk if remark.code == "no room")
    assert (less.drill, str(less.dose), str(less.cut_to)) == ("count-the-swing", "5 × 10 easy", "3 × 10 easy")


def test_two_drills_that_one_day_has_no_room_for_take_turns_with_their_whole_dose(tmp_path):
    report = one(tmp_path, HIPS, ADULT, "drills: [count-the-swing, brush-ahead-of-the-line]")
    blocks = [[item.drill for item in day.items if item.kind == "block"] for day in report.practice.days]
    assert blocks == [["count-the-swing"], ["brush-ahead-of-the-line"], ["count-the-swing"]]
    assert [drill.dose for drill in report.drills] == [DRILLS[drill.drill].dose for drill in report.drills]


def test_a_value_too_close_to_call_has_not_begun_to_change(tmp_path):
    report = one(tmp_path, reading("pelvis-open-impact", 62, u=6), ADULT)
    assert [finding.verdict for finding in report.findings] == ["too close to call"]
    assert report.priorities
    assert report.practice.phase == "new"
