"""The test of a drill: what counts pass it, when it is met and when it is kept."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.judging.drill_tests import drills_tested, passing
from reportgen.records.drill_tests import DrillCount, DrillTest
from tests.judging.academies import judged, library, reading, sheet

DRILL, OTHER = "toes-free", "light-lead-toes"
SEVEN_OF_TEN = DrillTest(count="A ball counts when it is on line.", of=10, passes=7, source="own")
HIPS = reading("pelvis-open-impact", 75, u=1)
SORE = "comfort: [{site: low-back, score: 8, when: during}]"


def count(day, made, of=10, by="student", drill=DRILL):
    return DrillCount(drill=drill, date=date(2026, 3, day), made=made, of=of, by=by)


def result_of(*counts):
    return drills_tested(counts, library().drills)[DRILL]


def log(*entries):
    return f"practice_log: [{', '.join(f'{{date: 2026-{day}, test: {{{what}}}}}' for day, what in entries)}]"


@pytest.mark.parametrize(
    ("of", "least"), [(10, 7), (20, 14), (11, 8), (13, 10), (8, 6), (6, 5), (5, 4), (4, None), (1, None)]
)
def test_another_number_of_tries_passes_with_the_same_share_down_to_half_as_many(of, least):
    assert passing(SEVEN_OF_TEN, of) == least


def test_too_few_tries_pass_nothing_however_many_were_made():
    assert result_of(count(1, 4, of=4)).standing == "not yet"


@pytest.mark.parametrize(
    ("made", "standing"),
    [
        ([7], "met"),
        ([6], "not yet"),
        ([6, 5, 3], "not yet"),
        ([6, 8], "met"),
        ([7, 7], "kept"),
        ([7, 6, 8], "met"),
        ([7, 7, 6], "not this time"),
        ([2, 9, 8, 10], "kept"),
    ],
)
def test_a_test_is_met_on_one_day_and_kept_on_two_running(made, standing):
    assert result_of(*(count(day, n) for day, n in enumerate(made, 1))).standing == standing


def test_the_counts_of_one_day_are_added_up():
    day = result_of(count(1, 5), count(1, 5), count(1, 7)).days[0]
    assert (day.made, day.of, day.passed) == (17, 30, False)


def test_two_passes_on_one_day_are_one_day():
    assert result_of(count(1, 9), count(1, 8)).standing == "met"


def test_what_the_instructor_counts_and_what_the_student_counts_weigh_the_same():
    both = result_of(count(1, 8), count(2, 7, by="instructor"))
    assert both.standing == "kept"
    assert [day.at_home for day in both.days] == [True, False]


def test_a_day_on_which_both_counted_is_not_at_home():
    assert [day.at_home for day in result_of(count(1, 4), count(1, 9, by="instructor")).days] == [False]


counts = st.lists(
    st.tuples(st.integers(1, 6), st.integers(0, 10), st.sampled_from([DRILL, OTHER])).map(
        lambda drawn: count(drawn[0], drawn[1], drill=drawn[2])
    ),
    max_size=12,
)


@given(counts, st.randoms(use_true_random=False))
def test_the_order_in_which_counts_are_written_makes_no_difference(drawn, random):
    shuffled = random.sample(drawn, len(drawn))
    assert drills_tested(shuffled, library().drills) == drills_tested(drawn, library().drills)


def test_counts_for_a_drill_that_has_no_test_any_more_are_left_out():
    untested = library().drills[DRILL].model_copy(update={"test": None})
    assert drills_tested([count(1, 8)], {DRILL: untested}) == {}


def test_a_lesson_has_what_its_own_drills_and_those_just_counted_have_come_to(tmp_path):
    lessons = {
        "2026-03-05": sheet(HIPS, f"drills: [{DRILL}]", log(("03-01", f"drill: {OTHER}, made: 8"))),
        "2026-03-12": sheet(HIPS, f"drills: [{DRILL}]", log(("03-09", f"drill: {DRILL}, made: 7"))),
        "2026-03-19": sheet(HIPS, f"drills: [{DRILL}]", log(("03-15", f"drill: {OTHER}, made: 9"))),
    }
    first, second, third = judged(tmp_path, lessons)
    assert [(t.drill, t.standing) for t in first.tested] == [(OTHER, "met")]
    assert [(t.drill, t.standing) for t in second.tested] == [(DRILL, "met")]
    assert [(t.drill, t.standing) for t in third.tested] == [(DRILL, "met"), (OTHER, "kept")]


def test_a_count_that_does_not_say_of_how_many_is_of_as_many_as_the_test(tmp_path):
    (report,) = judged(tmp_path, {"2026-03-05": sheet(HIPS, log(("03-01", f"drill: {DRILL}, made: 4")))})
    assert report.tested[0].days[0].of == library().drills[DRILL].test.of


def test_the_instructor_counts_in_the_lesson_and_what_comes_before_its_work_is_left_out(tmp_path):
    shots = [f"{{drill: {DRILL}, made: {made}, of: 10, when: {when}}}" for made, when in ((2, "before"), (8, "after"))]
    home = log(("03-01", f"drill: {DRILL}, made: 7"))
    (report,) = judged(tmp_path, {"2026-03-05": sheet(HIPS, f"shots: [{', '.join(shots)}]", home)})
    (result,) = report.tested
    assert result.standing == "kept"
    assert [(day.made, day.of, day.at_home) for day in result.days] == [(7, 10, True), (8, 10, False)]


def test_after_a_stop_no_test_is_told(tmp_path):
    lessons = {
        "2026-03-05": sheet(HIPS, f"drills: [{DRILL}]", log(("03-01", f"drill: {DRILL}, made: 8"))),
        "2026-03-12": sheet(HIPS, SORE, log(("03-09", f"drill: {DRILL}, made: 8"))),
    }
    assert [report.tested for report in judged(tmp_path, lessons)] == [(), ()]
