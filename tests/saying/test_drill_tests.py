"""The test of a drill in words, and what its counts have come to."""

from datetime import date

import pytest

from reportgen.judging.drill_tests import drills_tested
from reportgen.records.drill_tests import DrillCount, DrillTest
from reportgen.saying.drill_tests import how_to_test, told_tested
from tests.judging.academies import judged, library, reading, sheet

TODAY = date(2026, 3, 12)
PUTTS = DrillTest(count="A putt counts when it rolls through.", of=10, passes=7, source="own")


def says(*counts):
    drawn = [DrillCount(drill="toes-free", date=day, made=made, of=10, by=by) for day, made, by in counts]
    return told_tested(drills_tested(drawn, library().drills)["toes-free"], TODAY, library()).says


def test_a_test_says_what_counts_of_how_many_and_what_passes():
    assert how_to_test(PUTTS) == "Count 10 in a row. A putt counts when it rolls through. You pass with 7 or more."


def test_a_test_says_the_gate_where_it_hangs_on_one():
    gate = PUTTS.model_copy(update={"setting": "a gate 30 cm wide, 1 m ahead"})
    assert how_to_test(gate).startswith("Count 10 in a row (a gate 30 cm wide, 1 m ahead). A putt counts")


@pytest.mark.parametrize(
    ("tries", "told"),
    [
        (12, "Count 10 in a row. A putt counts when it rolls through. You pass with 7 or more."),
        (8, "Count 8 in a row. A putt counts when it rolls through. You pass with 6 or more."),
        (5, "Count 5 in a row. A putt counts when it rolls through. You pass with 4 or more."),
        (4, None),
    ],
)
def test_a_test_asks_for_no_more_tries_than_there_is_room_for(tries, told):
    assert how_to_test(PUTTS, tries) == told


def test_a_test_that_asks_for_all_says_so():
    assert how_to_test(PUTTS.model_copy(update={"passes": 10})).endswith("You pass with all of them.")


@pytest.mark.parametrize(
    ("dose", "says"), [("2 x 8 slow", "Count 10 in a row."), ("3 x 3 slow", "Count 9 in a row."), ("1 x 4 slow", None)]
)
def test_a_given_drill_is_tested_within_its_dose(tmp_path, dose, says):
    given = sheet(reading("pelvis-open-impact", 75, u=1), f"drills: [{{drill: light-lead-toes, dose: {dose}}}]")
    (drill,) = judged(tmp_path, {"2026-03-05": given})[0].drills
    assert drill.test is None if says is None else drill.test.startswith(says)


@pytest.mark.parametrize(
    ("counts", "told"),
    [
        (
            [(date(2026, 3, 9), 5, "student")],
            "5 of 10 at home on 9 March: not passed yet.",
        ),
        (
            [(TODAY, 8, "instructor")],
            "8 of 10 in this lesson: passed. Once can be luck, so count again on another day.",
        ),
        (
            [(date(2025, 12, 9), 7, "instructor"), (TODAY, 8, "student")],
            "7 of 10 on 9 December 2025, 8 of 10 at home on 12 March: passed on two days running. You have kept it.",
        ),
        (
            [(date(2026, 3, 7), 9, "student"), (date(2026, 3, 9), 6, "student")],
            "6 of 10 at home on 9 March: not passed this time. You last passed on 7 March.",
        ),
    ],
    ids=["not yet", "met", "kept", "not this time"],
)
def test_the_student_reads_how_it_stands_and_who_counted_when(counts, told):
    assert says(*counts) == told
