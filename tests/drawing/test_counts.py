"""A count as a row of shots: made and missed, earlier dates above, the long run below."""

from pathlib import Path

import pytest

from reportgen.drawing.counts import EARLIER, SINGLE, count_chart, count_plate, rows_of
from reportgen.drawing.plate import Disc
from reportgen.drawing.style import INK, PAPER
from tests.judging.academies import judged, sheet


def count(root: Path, *made: int, of: int = 10, more: str = ""):
    """The last of these counts, a date each."""
    row = "shots: [{{count: solid, made: {}, of: {}{}}}]"
    lessons = {f"2026-{3 + k // 4:02}-{1 + 7 * (k % 4):02}": row.format(n, of, more) for k, n in enumerate(made)}
    return judged(root, {day: sheet("", text) for day, text in lessons.items()})[-1].counts[0]


def test_as_many_shots_are_filled_as_were_made(tmp_path):
    discs = [part for part in count_plate(count(tmp_path, 7)).drawn if isinstance(part, Disc)]
    assert [disc.look.fill for disc in discs] == [INK] * 7 + [PAPER] * 3


def test_earlier_dates_stand_above_and_the_oldest_fall_away(tmp_path):
    rows = rows_of(count(tmp_path, 1, 2, 3, 4, 5, 6))
    assert [row.made for row in rows] == [2, 3, 4, 5, 6]
    assert (len(rows) - 1, rows[0].label, rows[-1].label) == (EARLIER, "8 Mar", "now")


def test_only_this_count_has_its_long_run_below_it(tmp_path):
    assert [row.interval is None for row in rows_of(count(tmp_path, 4, 5))] == [True, False]


def test_many_shots_are_a_bar(tmp_path):
    plate = count_plate(count(tmp_path, 30, of=SINGLE + 20))
    assert not [part for part in plate.drawn if isinstance(part, Disc)]


def test_its_words_say_what_it_shows(tmp_path):
    assert count_chart(count(tmp_path, 4, 8)).alt == (
        "Solid, 7-iron: 8 of 10 (in the long run 5 to 9). On 1 March it was 4 of 10."
    )


@pytest.mark.parametrize(("made", "of"), [(0, 1), (1, 1), (0, 500), (500, 500), (20, 20)])
def test_any_count_can_be_drawn(tmp_path, made, of):
    assert count_chart(count(tmp_path, made, of=of)).svg.startswith("<svg")
