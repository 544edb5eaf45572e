"""Tables of a lesson, club by club: what they are held against, what is kept for drawing, and how long it takes."""

from datetime import date
from time import process_time

import pytest

from reportgen.judging.shot_patterns import DRAWN, LINES_TOLD, TablesOf, remarks_found, shots_found
from reportgen.measuring.ball import Figure, curve
from reportgen.records.academy import ShotError
from reportgen.records.shot_table import ShotTable
from tests.judging.shot_academies import about, days, full, landing, told
from tests.judging.shot_tables import drawn, table


def first(lessons):
    return lessons[-1].patterns[0]


def of_table(*tables: ShotTable, day="2026-03-05"):
    return TablesOf(date.fromisoformat(day), tables)


def test_a_left_handed_players_table_mirrored_is_told_word_for_word_alike(tmp_path):
    tables = {day: full(10 + k, side=3.0) for k, day in enumerate(days(3))}
    right, left = (told(tmp_path / plays, tables, plays=plays) for plays in ("right", "left"))
    assert right[-1].person.plays != left[-1].person.plays
    for one, other in zip(right, left, strict=True):
        apart = {"person": None, "revision": None}
        assert one.model_copy(update=apart) == other.model_copy(update=apart)


def test_a_first_table_is_held_against_nothing(tmp_path):
    found = first(told(tmp_path, {"2026-03-05": about(12)}))
    assert (found.before, found.against, found.course) == (None, None, None)


def test_a_table_is_held_against_the_last_date_that_tells_of_the_same(tmp_path):
    dates = days(2)
    found = first(told(tmp_path, {dates[0]: about(12), dates[1]: about(10)}))
    assert (str(found.before.on), found.before.shots, found.now.shots) == (dates[0], 12, 10)
    assert found.course is None


def test_three_dates_have_a_course(tmp_path):
    found = first(told(tmp_path, {day: about(10) for day in days(3)}))
    assert found.course.side.dates == 3


@pytest.mark.parametrize("more", ["    club: driver", "    surface: turf", "    device: another radar"])
def test_another_club_ground_or_device_is_not_held_against_it(tmp_path, more):
    dates = days(2)
    told(tmp_path, {dates[0]: about(12)}, more=more)
    sheet = next(tmp_path.glob(f"students/*/lessons/{dates[0]}.yaml")).read_text(encoding="utf-8")
    lessons = told(tmp_path, {dates[1]: about(12)})
    assert more.strip() in sheet
    assert [len(lesson.patterns) for lesson in lessons] == [1, 1]
    assert first(lessons).before is None


def test_every_shot_is_in_every_figure_and_mishits_are_marked(tmp_path):
    found = first(told(tmp_path, {"2026-03-05": [*about(11), *landing((2.0, 60.0))]}))
    assert (found.now.pattern.shots, found.now.pattern.mishits) == (12, 1)
    assert [one.carry for one in found.now.landed if one.mishit] == [60.0]


def test_a_miss_is_counted_where_it_is_surely_beside_the_line():
    # 1 % of a carry of 140 m is 1.4 m: 2 m off the line can be on it
    sides = [2.0, -2.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0]
    (found,) = shots_found(of_table(table([{"side": side, "carry": 140.0} for side in sides])), [], ShotError())
    assert (found.now.misses.trail, found.now.misses.lead, found.now.misses.side) == (6, 0, "trail")


def test_a_mean_does_not_average_out_what_the_device_gets_wrong():
    shots = [{"start_direction": 2.0, "side": 5.0, "carry": 150.0} for _ in range(50)]
    (found,) = shots_found(of_table(table(shots)), [], ShotError(start_deg=0.5))
    low, high = found.now.flights.start.interval
    assert (high - low) / 2 == pytest.approx(1.96 * 0.5, rel=0.01)


def test_the_mean_curve_is_that_of_the_shots():
    shots = [{"start_direction": start, "side": 5.0, "carry": 150.0} for start in (-1.0, 2.0)]
    (found,) = shots_found(of_table(table(shots)), [], ShotError())
    each = [curve(Figure(5.0, 1), Figure(150.0, 3), Figure(start, 0.5)).value for start in (-1.0, 2.0)]
    assert found.now.flights.curve.mean == pytest.approx(sum(each) / 2)


def test_of_very_many_shots_some_are_kept_for_drawing_and_all_are_counted():
    (found,) = shots_found(of_table(table([{"side": 1.0, "carry": 140.0 + k} for k in range(450)])), [], ShotError())
    assert (len(found.now.landed), found.now.pattern.shots) == (DRAWN, 450)


def test_a_remark_names_its_first_lines_and_counts_all():
    blanks = table([{"carry": 150.0}] * 3, blanks={"side": tuple(range(2, 42))})
    (remark,) = remarks_found(of_table(blanks))
    assert (len(remark.at), remark.figures["lines"]) == (LINES_TOLD, 40)


def pace():
    """What a million small sums take on this machine while it does whatever else it does: 50 ms where the bar for the
    300 shots is 30."""
    begin = process_time()
    sum(number & 7 for number in range(1_000_000))
    return process_time() - begin


def test_judging_300_shots_against_an_earlier_table_takes_less_than_600_000_small_sums():
    before = of_table(table(drawn(30, 1)), day="2026-03-05")
    now = of_table(table(drawn(300, 2)), day="2026-03-12")
    times, paces = [], []
    for _ in range(9):
        paces.append(pace())
        begin = process_time()
        shots_found(now, [before], ShotError())
        remarks_found(now)
        times.append(process_time() - begin)
    assert min(times) < 0.6 * min(paces)
