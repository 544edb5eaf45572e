"""What all lessons of an academy say together."""

import pytest

from reportgen.planning.repeatability import LESSONS_AT_LEAST, PAIRS_AT_LEAST
from reportgen.planning.season import Season, season
from reportgen.records.findings import Reading
from tests.judging.academies import judged, library, reading, sheet

PELVIS = "pelvis-open-impact"
CHEST = "drills: [chest-looks-at-the-ball]"
HIGH, HIGH_AGAIN, FURTHER, BETTER, INSIDE, LOW = 85, 84, 100, 65, 45, 15
"""Degrees of the pelvis, of which 35 to 55 are in range, by a sensor that is sure to 1°."""


@pytest.fixture
def student(tmp_path):
    """The judged lessons of a student of that name, from sheets by date; a number alone is a reading of the pelvis."""

    def make(name, lessons):
        sheets = {day: sheet(pelvis(text)) if isinstance(text, int) else text for day, text in lessons.items()}
        reports = judged(tmp_path / name, sheets)
        return tuple(r.model_copy(update={"person": r.person.model_copy(update={"name": name})}) for r in reports)

    return make


def pelvis(degrees, how="sensor"):
    return reading(PELVIS, degrees, how=how, u=1)


def of(*students):
    return season(students, library().drills, library().metrics)


def faults(found: Season):
    return [(f.metric, f.direction, f.measured, f.first, [person.name for person in f.now]) for f in found.faults]


def courses(found: Season):
    return [(d.drill, d.metric, d.given, d.measured, d.moved) for d in found.drills]


def test_faults_are_counted_by_side_when_first_and_when_last_measured(student):
    found = of(
        student("Ada", {"2025-03-05": HIGH, "2026-03-12": INSIDE}),
        student("Bo", {"2026-03-05": HIGH, "2026-03-12": HIGH}),
        student("Cy", {"2026-03-06": LOW}),
        student("Di", {"2026-03-06": INSIDE}),
    )
    assert faults(found) == [(PELVIS, "above", 4, 2, ["Bo"]), (PELVIS, "below", 4, 1, ["Cy"])]
    assert (found.students, found.lessons) == (4, 6)
    assert (str(found.first), str(found.last)) == ("2025-03-05", "2026-03-12")


def test_a_value_counts_as_it_was_last_measured_not_as_missing_from_the_last_lesson(student):
    found = of(student("Ada", {"2026-03-05": HIGH, "2026-03-12": "notes: only talk"}))
    assert faults(found) == [(PELVIS, "above", 1, 1, ["Ada"])]


def test_the_most_frequent_fault_stands_first(student):
    found = of(*(student(name, {"2026-03-05": LOW}) for name in ("Ada", "Bo")), student("Cy", {"2026-03-05": HIGH}))
    assert [fault.direction for fault in found.faults] == ["below", "above"]


FEBRUARY, MARCH, LATER, APRIL = "2026-02-19", "2026-03-05", "2026-03-19", "2026-04-04"


@pytest.mark.parametrize(
    ("lessons", "since"),
    [
        ({MARCH: HIGH, LATER: HIGH, APRIL: HIGH_AGAIN}, MARCH),
        ({FEBRUARY: HIGH, MARCH: HIGH, APRIL: HIGH_AGAIN}, FEBRUARY),
        ({MARCH: BETTER, LATER: HIGH, APRIL: FURTHER}, MARCH),
        ({"2026-03-06": HIGH, LATER: HIGH, APRIL: HIGH_AGAIN}, None),
        ({MARCH: HIGH, LATER: 75, APRIL: BETTER}, None),
        ({MARCH: HIGH, LATER: INSIDE, APRIL: INSIDE}, None),
        ({MARCH: HIGH, APRIL: HIGH_AGAIN}, None),
        ({MARCH: sheet(pelvis(HIGH, how="by-eye")), LATER: HIGH, APRIL: HIGH_AGAIN}, None),
        ({MARCH: sheet(pelvis(HIGH), "club: driver"), LATER: HIGH, APRIL: HIGH_AGAIN}, None),
    ],
    ids=[
        "no change", "since the first of them", "further away", "not yet a month", "moved toward the range",
        "in range now", "two days say nothing", "measured in another way", "another club",
    ],
)  # fmt: skip
def test_who_has_not_moved_in_a_month(student, lessons, since):
    standing = of(student("Ada", lessons)).not_moved
    assert [str(entry.course.since) for entry in standing] == ([] if since is None else [since])


def test_what_nobody_works_on_is_not_called_unmoved(student):
    """The instructor's own priority stands in place of the pelvis."""
    own = "priorities: [side-bend-impact]"
    bend = reading("side-bend-impact", 30, u=1)
    lessons = {"2026-03-05": sheet(pelvis(HIGH) + bend, own), "2026-04-10": sheet(pelvis(HIGH) + bend, own)}
    assert of(student("Ada", lessons)).not_moved == ()


def test_after_a_stop_nobody_is_called_unmoved(student):
    sore = sheet(pelvis(HIGH), "comfort: [{site: low-back, score: 8, when: after}]")
    assert of(student("Ada", {"2026-03-05": HIGH, "2026-04-10": sore})).not_moved == ()


def test_a_drill_is_counted_with_what_came_after_it(student):
    begun = {"2026-02-26": HIGH, "2026-03-05": sheet(pelvis(HIGH), CHEST)}
    found = of(
        student("Ada", {**begun, "2026-03-12": BETTER}),
        student("Bo", {**begun, "2026-03-12": HIGH_AGAIN}),
        student("Cy", begun),
    )
    assert ("chest-looks-at-the-ball", PELVIS, 3, 2, 1) in courses(found)


def test_what_two_days_say_is_not_counted(student):
    found = of(student("Ada", {"2026-03-05": sheet(pelvis(HIGH), CHEST), "2026-03-12": BETTER}))
    assert ("chest-looks-at-the-ball", PELVIS, 1, 0, 0) in courses(found)


def test_what_had_moved_before_a_drill_was_given_is_not_put_down_to_it(student):
    values = {"2026-02-12": 112, "2026-02-19": 104, "2026-02-26": 96, "2026-03-05": 88}
    before = {day: sheet(pelvis(value), "drills: [pendulum-swings]") for day, value in values.items()}
    found = of(student("Ada", {**before, "2026-03-12": sheet(pelvis(80), CHEST), "2026-03-19": 72}))
    assert ("chest-looks-at-the-ball", PELVIS, 1, 1, 0) in courses(found)


def test_lessons_in_a_row_are_one_course_judged_by_the_lesson_after_it(student):
    """It went well for a lesson and then back: the course ended where it began."""
    days = ["2026-03-05", "2026-03-12", "2026-03-19"]
    given = {day: sheet(pelvis(value), CHEST) for day, value in zip(days, [HIGH, BETTER, HIGH], strict=True)}
    found = of(student("Ada", {**given, "2026-03-26": HIGH_AGAIN}))
    assert ("chest-looks-at-the-ball", PELVIS, 1, 1, 0) in courses(found)


def test_a_drill_given_again_after_a_pause_is_a_second_course(student):
    other = "drills: [pendulum-swings]"
    lessons = {
        "2026-03-05": sheet(pelvis(HIGH), CHEST), "2026-03-12": sheet(pelvis(HIGH), other),
        "2026-03-19": sheet(pelvis(HIGH), CHEST), "2026-03-26": sheet(pelvis(HIGH), other),
    }  # fmt: skip
    assert ("chest-looks-at-the-ball", PELVIS, 2, 1, 0) in courses(of(student("Ada", lessons)))


def test_a_putting_lesson_between_ends_no_course_of_a_full_swing_drill(student):
    lessons = {
        "2026-03-05": sheet(pelvis(HIGH), CHEST), "2026-03-09": "kind: putting\nclub: putter",
        "2026-03-12": sheet(pelvis(HIGH), CHEST), "2026-03-19": sheet(pelvis(HIGH_AGAIN), CHEST),
    }  # fmt: skip
    assert ("chest-looks-at-the-ball", PELVIS, 1, 1, 0) in courses(of(student("Ada", lessons)))


def test_who_putted_last_still_has_what_they_work_on_in_the_swing(student):
    lessons = {MARCH: HIGH, LATER: HIGH, APRIL: HIGH_AGAIN, "2026-04-05": "kind: putting\nclub: putter"}
    assert [(one.person.name, one.metric) for one in of(student("Ada", lessons)).not_moved] == [("Ada", PELVIS)]


@pytest.mark.parametrize("value", [INSIDE, LOW])
def test_a_drill_for_another_side_of_the_range_is_not_counted(student, value):
    lessons = {"2026-03-05": sheet(pelvis(value), CHEST), "2026-03-12": INSIDE}
    assert "chest-looks-at-the-ball" not in [drill for drill, *_ in courses(of(student("Ada", lessons)))]


def speeds(*trials):
    return f"readings: [{{metric: clubhead-speed, trials: {list(trials)}, unit: m/s, how: sensor}}]"


def days(count):
    return [f"2026-03-{day:02}" for day in range(1, count + 1)]


def test_repeatability_of_single_swings_over_all_lessons(student):
    """Two lessons' means 40, three's 44, every swing 1 from its mean: within-lesson variance 2 of two swings each."""
    ada = student("Ada", dict.fromkeys(days(2), speeds(39, 41)))
    bo = student("Bo", dict.fromkeys(days(3), speeds(43, 45)))
    row, = of(ada, bo).repeatability  # fmt: skip
    assert (row.metric, row.how, row.lessons, row.swings) == ("clubhead-speed", "sensor", 5, 10)
    assert row.sem == pytest.approx(2**0.5)
    assert row.mdc == pytest.approx(1.959963984540054 * 2)
    between = 2 * (2 * 2.4**2 + 3 * 1.6**2) / 4
    assert row.icc == pytest.approx((between - 2) / (between + 2))


def test_too_few_repeated_lessons_say_nothing_of_repeatability(student):
    assert of(student("Ada", dict.fromkeys(days(LESSONS_AT_LEAST - 1), speeds(39, 41)))).repeatability == ()


def twice(reports, seen):
    """The lessons with the pelvis seen by eye too, `seen` degrees more than measured."""

    def with_eye(finding):
        eye = Reading(metric=PELVIS, value=finding.value + seen, u=10, how="by-eye")
        return finding.model_copy(update={"also": (eye,)})

    return [r.model_copy(update={"findings": tuple(map(with_eye, r.findings))}) for r in reports]


def test_two_ways_of_measuring_are_held_against_each_other(student):
    reports = student("Ada", dict.fromkeys(days(PAIRS_AT_LEAST), INSIDE))
    row, = of(twice(reports, seen=6)).two_ways  # fmt: skip
    assert (row.how, row.other) == ("by-eye", "sensor")
    assert row.agreement.bias == pytest.approx(6)
    assert row.agreement.pairs == PAIRS_AT_LEAST
    assert of(twice(reports[1:], seen=6)).two_ways == ()


def swings(*degrees):
    return f"readings: [{{metric: {PELVIS}, trials: {list(degrees)}, unit: deg, how: sensor, u: 0.1}}]"


def test_the_scatter_of_all_students_is_pooled_by_degrees_of_freedom(student):
    """Swings with standard deviations of 2 and 5, two degrees of freedom a lesson, the second in twice as many."""
    ada = student("Ada", dict.fromkeys(days(2), swings(43, 45, 47)))
    bo = student("Bo", dict.fromkeys(days(4), swings(40, 45, 50)))
    row, = of(ada, bo).scatter  # fmt: skip
    assert (row.metric, row.unit, row.lessons, row.usual_swing, row.usual_day) == (PELVIS, "deg", 6, 3, 2)
    assert row.swing == pytest.approx(((2 * 4 + 4 * 25) / 6) ** 0.5)


def test_days_that_differ_are_seen_where_measuring_does_not_drown_them(student):
    """Days 8 apart in turn: a variance of 32 in each pair. Each lesson's mean has a tenth of a degree of its own."""
    values = [swings(41, 41, 41), swings(49, 49, 49)] * 6
    row, = of(student("Ada", dict(zip(days(12), values, strict=True)))).scatter  # fmt: skip
    assert row.pairs == 11
    assert row.day > 2 * row.usual_day


def test_lessons_with_another_club_are_no_pair(student):
    values = [swings(41, 41, 41), swings(49, 49, 49) + "\nclub: driver"] * 3
    row, = of(student("Ada", dict(zip(days(6), values, strict=True)))).scatter  # fmt: skip
    assert row.pairs == 4
    assert row.day is None


def test_too_few_swings_say_nothing_of_scatter(student):
    assert of(student("Ada", {"2026-03-05": swings(43, 45, 47)})).scatter == ()


def test_students_without_a_lesson_and_academies_without_students_have_an_empty_season():
    assert of() == of((), ()) == Season(0, 0, None, None, (), (), (), (), (), ())


def test_it_reads_each_student_once_so_that_not_all_need_be_held_together(student):
    reports = [student("Ada", {"2026-03-05": HIGH}), student("Bo", {"2026-03-05": HIGH})]
    assert season(iter(reports), library().drills, library().metrics) == of(*reports)
