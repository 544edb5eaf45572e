"""A table of putts is counted by distance, and judged as counts are."""

import pytest

from reportgen.pipeline import load
from reportgen.records.shot_table import TEXTS, WORDS
from reportgen.saying.shot_remarks import _WORDS
from tests.judging.academies import ID, tell_folder, write_academy

COLUMNS = """\
columns:
  distance: {column: From, unit: m}
  past: {column: Past, unit: cm}
  result: {column: Fell, means: {in: holed, out: missed}}
"""
HEAD = "From;Past;Fell"


def lessons(root, tables):
    """A putting lesson with a table for each day, told to the student."""
    sheets = {day: f"kind: putting\nclub: putter\nshots_from:\n  - {{file: ../{day}.csv}}" for day in tables}
    write_academy(root, sheets)
    for day, rows in tables.items():
        (root / "students" / ID / f"{day}.csv").write_text("\n".join([HEAD, *rows]) + "\n", encoding="utf-8")
    academy = root / "academy.yaml"
    academy.write_text(academy.read_text(encoding="utf-8") + COLUMNS, encoding="utf-8")
    read = load(root)
    assert [str(problem) for problem in read.problems] == []
    return tell_folder(read)


def putts(far, holed, of, past=0):
    """So many putts from a distance, of which so many fell; the others came to rest `past` the hole, in cm."""
    return [f"{far};0;in"] * holed + [f"{far};{past};out"] * (of - holed)


def counted(report):
    return [(count.count, count.sizes["distance"], count.run.made, count.run.of) for count in report.counts]


def test_each_distance_is_a_count_of_what_fell_and_of_the_right_length(tmp_path):
    table = {"2026-03-05": putts(2, 6, 10, past=-30) + putts(6, 1, 10, past=-30)}
    assert counted(lessons(tmp_path, table)[-1]) == [
        ("holed", 2.0, 6, 10),
        ("past-the-hole", 2.0, 6, 10),  # near putts should reach the hole
        ("holed", 6.0, 1, 10),
        ("distance-control", 6.0, 10, 10),  # far ones should come to rest beside it
    ]


@pytest.mark.parametrize(("past", "right"), [(-91, 0), (-90, 10), (90, 10), (91, 0)])
def test_the_right_length_is_within_a_putters_length_of_the_hole(tmp_path, past, right):
    assert counted(lessons(tmp_path, {"2026-03-05": putts(6, 0, 10, past)})[-1])[1][2] == right


def test_two_dates_are_held_against_each_other_by_distance(tmp_path):
    report = lessons(tmp_path, {"2026-03-05": putts(2, 1, 10), "2026-03-12": putts(2, 9, 10) + putts(4, 5, 10)})[-1]
    holed = {count.sizes["distance"]: count for count in report.counts if count.count == "holed"}
    assert holed[2.0].against.verdict == "these two days differ"
    assert holed[2.0].says == "9 of 10 (in the long run 6 to 10)"
    assert holed[4.0].against is None


def test_many_distances_are_sorted_into_a_few(tmp_path):
    table = {"2026-03-05": [f"{1 + k / 10:.1f};0;in" for k in range(20)]}
    report = lessons(tmp_path, table)[-1]
    assert [row for row in counted(report) if row[0] == "holed"] == [
        ("holed", 1.0, 3, 3),
        ("holed", 1.5, 5, 5),
        ("holed", 2.0, 7, 7),
        ("holed", 3.0, 5, 5),
    ]


def test_putts_have_no_pattern_of_landing_places(tmp_path):
    assert lessons(tmp_path, {"2026-03-05": putts(2, 6, 10)})[-1].patterns == ()


def test_a_blank_cell_leaves_that_putt_out_of_that_count_alone(tmp_path):
    report = lessons(tmp_path, {"2026-03-05": [*putts(6, 4, 9), "6;;in"]})[-1]
    assert counted(report) == [("holed", 6.0, 5, 10), ("distance-control", 6.0, 9, 9)]


def test_the_student_repeats_what_was_counted(tmp_path):
    report = lessons(tmp_path, {"2026-03-05": putts(2, 6, 10)})[-1]
    assert any(item.what for day in report.practice.days for item in day.items)


def test_every_word_of_a_table_has_a_name_for_its_remarks():
    assert {*WORDS, *TEXTS} <= set(_WORDS)
