"""Tables of shots in words: no left or right, no more than the shots say, and what a table gives itself away by."""

import re

import pytest

from reportgen.saying.shot_charts import of_landed
from tests.judging.shot_academies import about, days, full, landing, told

NBSP = "\u00a0"


def shots(root, *tables, **how):
    """The last of these tables, one a week."""
    return told(root, dict(zip(days(len(tables)), tables, strict=True)), **how)[-1].patterns[0]


def plain(*texts):
    return " ".join(text for text in texts if text).replace(NBSP, " ")


def everything(of):
    return plain(of.name, *of.landed_says, *of.flew_says, *of.struck_says, of.since)


def test_it_is_named_by_club_number_ground_and_device(tmp_path):
    of = shots(tmp_path, about(9), more="    surface: mat\n    device: our radar")
    assert of.name == "7-iron, 9 shots from a mat (our radar)"


def test_a_centre_that_is_surely_beside_the_line_is_told_with_its_side(tmp_path):
    said = plain(*shots(tmp_path, about(12, side=10.0)).landed_says)
    assert re.search(r"On average they landed 10 m on the trail side \(\d to 1\d m\)\.", said)


def test_a_centre_that_could_be_on_the_line_is_told_so(tmp_path):
    said = plain(*shots(tmp_path, about(12, side=1.0)).landed_says)
    assert "On average they landed on the target line, as far as we can tell (" in said
    assert "m on the lead side to" in said


def test_mishits_are_counted_and_the_robust_spread_stands_beside_the_other(tmp_path):
    said = plain(*shots(tmp_path, [*about(12), *landing((2.0, 50.0), (1.0, 55.0))]).landed_says)
    assert "2 of 14 fell far short and are counted in every figure." in said
    spread, robust = (int(re.search(rf"{words}.*? and (\d+) m in carry", said)[1]) for words in ("Spread:", "wild"))
    assert spread > 2 * robust


@pytest.mark.parametrize(("n", "said"), [(7, False), (8, True)])
def test_the_next_ten_are_spoken_of_from_eight_shots_on(tmp_path, n, said):
    of = shots(tmp_path, about(n))
    assert ("8 of your next 10" in of_landed(of, of.now)) is said


def test_a_miss_side_is_told_where_the_misses_show_one(tmp_path):
    assert "You miss on the trail side: 12 landed there and 0 on the lead side." in plain(
        *shots(tmp_path, about(12, side=20.0)).landed_says
    )
    assert "No clear miss side:" in plain(*shots(tmp_path / "b", about(12)).landed_says)


def test_start_curve_and_strike_are_told_by_their_means(tmp_path):
    of = shots(tmp_path, full(40))
    assert re.match(r"They start 2\.\d° to the trail side on average \(1\.\d° to 3\.\d°\): a push\.", of.flew_says[0])
    assert re.search(r"curve 6 m to the lead side \(.*\): a draw\.", plain(of.flew_says[1]))
    assert "towards the heel" in of.struck_says[0]


def test_no_sentence_has_left_or_right(tmp_path):
    of = shots(tmp_path, full(12, side=8.0), full(14, side=-9.0))
    assert not re.search(r"\b(left|right)\b", everything(of))


def test_one_shot_is_told_without_an_average(tmp_path):
    assert plain(*shots(tmp_path, landing((3.0, 140.0))).landed_says).startswith(
        "Carry 140 m. It landed 3.0 m on the trail side."
    )


def test_two_days_that_differ_are_called_no_more_than_that(tmp_path):
    of = shots(tmp_path, about(12, side=-15.0), about(12, side=15.0))
    assert of.since == (
        "The centre is clearly not where it was on 1 March. Two days are not enough to know whether it lasts."
    )


def test_few_shots_say_that_they_are_few_and_how_many_it_would_take(tmp_path):
    of = shots(tmp_path, about(8, wide=8.0), about(8, side=4.0, wide=8.0))
    assert of.since.startswith("These are too few shots to say whether centre or spread differ from 1 March.")
    assert re.search(r"we need \d+ shots each time for the centre", of.since)


def test_three_dates_can_show_a_change(tmp_path):
    tables = [about(20, side=-20.0 + 12 * k) for k in range(5)]
    assert re.match(
        r"Over 5 dates since 1 March the centre has moved \d+ m to the trail side\.",
        plain(shots(tmp_path, *tables).since),
    )


def test_a_reader_of_imperial_units_reads_yards(tmp_path):
    of = shots(tmp_path, about(12), student="born: 1986-05-01\nunits: imperial")
    assert of.unit == "yd"
    assert re.match(r"Carry 15\d yd on average", plain(*of.landed_says))
    assert " m " not in plain(*of.landed_says)


def test_a_table_with_carry_and_no_side_tells_the_carry_and_says_that_there_is_no_side(tmp_path):
    of = shots(tmp_path, [{"carry": 136.0 + k} for k in range(9)])
    assert re.match(r"Carry 140 m on average \(13\d to 14\d m\)\. ", plain(*of.landed_says))
    assert of.landed_says[-1] == "The table has no column for the side, so we do not know where they landed."


def test_a_table_without_carry_says_so_and_tells_of_what_it_has(tmp_path):
    of = shots(tmp_path, [{"strike-across": -12.0}] * 9)
    assert of.landed_says == ("We do not know from this table where these shots landed.",)
    assert (of.flew_says, of.since) == ((), None)
    assert plain(*of.struck_says).startswith("On average the ball met the face 12 mm towards the heel (")


def test_a_computed_face_explains_no_start(tmp_path):
    rows = [{**row, "face-angle": (row["start-direction"] - 0.2 * row["club-path"]) / 0.8} for row in full(14)]
    (remark,) = [one for one in told(tmp_path, {"2026-03-05": rows})[0].shot_remarks if one.openly]
    assert remark.says == (
        "The device worked out the face angle from start direction and club path. So these shots cannot show that the "
        "face explains the start."
    )


def test_a_doubted_sign_is_told_by_the_columns(tmp_path):
    rows = [{**row, "face-angle": -row["face-angle"]} for row in full(14)]
    said = [one.says for one in told(tmp_path, {"2026-03-05": rows})[0].shot_remarks if one.openly]
    assert said[0].startswith("In most shots start direction and face angle go against each other")


def test_mishits_are_named_by_their_lines(tmp_path):
    (lesson,) = told(tmp_path, {"2026-03-05": [*about(11), *landing((2.0, 60.0))]})
    assert [one.says for one in lesson.shot_remarks] == [
        "Carried less than 70 % of the usual, and counted all the same: 2026-03-05.csv, line 13."
    ]
