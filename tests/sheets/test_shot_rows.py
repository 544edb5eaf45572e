"""What becomes of the rows and columns of a table of shots: blanks, means, clubs, units, days, what is not there."""

import re
from datetime import date

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from reportgen.records.tables import ColumnOf, ShotsFrom
from reportgen.sheets.shot_tables import Asked, shots_in
from reportgen.sheets.tables import ExportError
from tests.sheets.shot_files import COLUMNS, NUMBER, ROWS, changed, faults, read, shots, table


@pytest.mark.parametrize("cell", ["", "-", "n/a", "NaN", "null", "—"])
def test_a_blank_cell_is_nothing_and_is_told_by_its_line(cell):
    made, wrong = read(changed(2, 3, cell))
    assert wrong == []
    assert [shot.spin for shot in made.shots] == [6120.0, None, 6455.0]
    assert made.blanks == {"spin": (3,)}


def test_a_line_that_ends_early_has_blank_cells():
    made, _ = read(table().replace(";141.0;5980", ""))
    assert made.blanks == {"carry": (3,), "spin": (3,)}
    assert [shot.carry for shot in made.shots] == [138.5, None, 129.5]


@pytest.mark.parametrize(
    ("below", "why"),
    [
        (["Average;1.67;136.3;6185"], [(5, "mean")]),
        ([";1.67;136.3;6185", ";1.89;6.05;244"], [(5, "mean"), (6, "mean")]),
        (["new ball"], [(5, "no number")]),
    ],
)
def test_a_line_that_is_no_shot_is_told_by_its_line(below, why):
    made, _ = read(table(below=below))
    assert [(one.line, one.why) for one in made.left_out] == why


def test_a_line_without_a_number_in_the_column_that_numbers_the_shots_is_told():
    text = "\n".join(f"{n};{line}" for n, line in zip(("No", "1", "warm-up", "2"), table().splitlines(), strict=True))
    made, _ = read(text, shot="No")
    assert [shot.line for shot in made.shots] == [2, 4]
    assert [(one.line, one.why) for one in made.left_out] == [(3, "not numbered")]


@pytest.mark.parametrize(
    "last",
    [("7-iron", "1.6", "136.3", "6185"), ("7-iron", "1.67", "136.3", "6190"), ("7-iron", "", "136.3", "6185")],
    ids=["not the mean of the start", "not the mean of the turns", "a mean of two columns"],
)
def test_a_shot_near_the_mean_stays_a_shot(last):
    made, _ = read(table([*ROWS, last]))
    assert len(made.shots) == 4


def test_the_same_shot_again_and_again_is_no_mean():
    assert len(read(table([ROWS[0]] * 6))[0].shots) == 6


def test_a_word_in_a_remark_makes_no_mean():
    columns = {**COLUMNS, "device": ColumnOf(column="Device")}
    lines = [
        f"{line};{remark}" for line, remark in zip(table().splitlines(), ("Note", "max", "", "total"), strict=True)
    ]
    assert len(read("\n".join(lines), columns=columns)[0].shots) == 3


@pytest.mark.parametrize("player", ["Max", "Min"])
def test_a_player_whose_name_is_a_label_loses_no_shot(player):
    columns = ["Player", *(f"{player}" for _ in ROWS)]
    lines = [f"{name};{line}" for name, line in zip(columns, table().splitlines(), strict=True)]
    made, _ = read("\n".join([*lines, "Max;7-iron;3.3;141.0;6455"] if player == "Min" else lines))
    assert len(made.shots) == 3


def test_a_shot_has_the_line_of_its_file():
    made, _ = read(table(above=["Bay 2", ""], below=["", "7-iron;1.0;140.0;6000"]))
    assert [shot.line for shot in made.shots] == [4, 5, 6, 8]


def test_a_cell_of_two_lines_is_counted_as_two():
    columns = {"device": ColumnOf(column="Device"), **COLUMNS}
    text = 'Device;Stick;Start line;Flew;Turns\n"one\nor two";7-iron;2.1;138.5;6120\nx;7-iron;2.1;yes 9;6120\n'
    made, wrong = read(text, columns=columns)
    assert [shot.line for shot in made.shots] == [2]
    assert wrong == [f"4:14: 'yes 9' is no number. {NUMBER}"]


def test_of_many_faults_ten_are_told_and_the_rest_counted():
    rows = [("7-iron", "2.1", "9 far", "6120")] * 25
    wrong = faults(table(rows))
    assert len(wrong) == 10
    assert wrong[-1] == f"11:12: '9 far' is no number, and 15 more cells or lines below are faulty. {NUMBER}"


def test_a_column_of_the_academys_map_may_be_missing_and_is_told():
    columns = {**COLUMNS, "side": ColumnOf(column="Offline", unit="m", plus="right of target")}
    assert read(table(), columns=columns)[0].absent == ("side",)


def test_a_column_of_the_sheets_own_map_must_be_there():
    columns = {**COLUMNS, "side": ColumnOf(column="Turn", unit="m", plus="right of target")}
    with pytest.raises(ExportError) as raised:
        read(table(), columns=columns, own=True)
    assert raised.value.args == ("no line of the first 20 names the column 'Turn'", "Did you mean Turns?")


@pytest.mark.parametrize(
    "raw", ["", "\n\n", "\x00\x01", b"\xff\xfe\x00", "x" * 200_000, "Stick;Start line;Flew;Turns\n", "Flew\nnone\n"]
)
def test_what_holds_no_shot_is_no_table_of_shots(raw):
    with pytest.raises(ExportError):
        read(raw)


def test_units_of_the_map_are_brought_to_ours():
    columns = COLUMNS | {"carry": ColumnOf(column="Flew", unit="yd", u=2.0)}
    made, _ = read(table(), columns=columns)
    assert [shot.carry for shot in made.shots] == pytest.approx([138.5 * 0.9144, 141 * 0.9144, 129.5 * 0.9144])
    assert made.u == {"carry": pytest.approx(2 * 0.9144)}


def test_the_step_of_the_last_decimal_is_known():
    columns = COLUMNS | {"carry": ColumnOf(column="Flew", unit="yd")}
    assert read(table(), columns=columns)[0].resolution == {
        "start-direction": pytest.approx(0.1),
        "carry": pytest.approx(0.09144),
        "spin": 1.0,
    }


def test_what_the_sheet_says_of_all_shots_wins_over_the_columns():
    made, _ = read(changed(1, 0, "E7"), club="8-iron", surface="mat", device="the old radar")
    assert {(shot.club, shot.surface, shot.device) for shot in made.shots} == {("8-iron", "mat", "the old radar")}
    assert made.absent == ()


def test_without_a_club_anywhere_it_is_the_lessons():
    columns = {word: column for word, column in COLUMNS.items() if word != "club"}
    assert {shot.club for shot in read(table(), columns=columns)[0].shots} == {"driver"}


@pytest.mark.parametrize(
    ("written", "club"),
    [("7-iron", "7-iron"), ("Iron 7", "7-iron"), ("7I", "7-iron"), ("3 wood", "3-wood"), ("4H", "4-hybrid"),
     ("PW", "pitching-wedge"), ("Sand Wedge", "sand-wedge"), ("DRIVER", "driver"), ("Eisen 7", "7-iron")],
)  # fmt: skip
def test_a_club_is_read_as_it_is_written_everywhere_or_as_the_map_says(written, club):
    columns = COLUMNS | {"club": ColumnOf(column="Stick", means={"Eisen 7": "7-iron"})}
    assert shots(changed(1, 0, written), columns=columns)[0][0] == club


def test_words_of_a_column_are_said_in_ours_by_the_map():
    columns = COLUMNS | {
        "club": ColumnOf(column="Stick", means={"7-iron": "8i"}),
        "spin-source": ColumnOf(column="Kind", means={"Geschätzt": "estimated"}),
        "surface": ColumnOf(column="Ground", means={"Matte": "mat"}),
    }
    ends = ("Kind;Ground", "geschätzt;Matte", "Measured;turf", ";")
    made, _ = read("\n".join(f"{a};{b}" for a, b in zip(table().splitlines(), ends, strict=True)), columns=columns)
    assert [(shot.club, shot.spin_source, shot.surface) for shot in made.shots] == [
        ("8-iron", "estimated", "mat"),
        ("8-iron", "measured", "turf"),
        ("8-iron", None, None),
    ]


def test_days_in_forms_that_can_be_mistaken_are_told_by_line_and_the_shots_stay():
    columns = {"date": ColumnOf(column="When"), **COLUMNS}
    days = ("When", "2026-03-05 13:02", "45827.474", "06/19/25 13:00:28 PM")
    made, wrong = read("\n".join(f"{a};{b}" for a, b in zip(days, table().splitlines(), strict=True)), columns=columns)
    assert wrong == []
    assert [shot.day for shot in made.shots] == [date(2026, 3, 5), None, None]
    assert made.unread_dates == (3, 4)


PIECES = st.sampled_from(
    (";", ",", "\t", "\n", "\n", '"', "7i", "2.1", "-0.4", "138,5", "6,120", "6.120", "1'000", "R", "L", "°", " yd",
     "−", "nan", "=1", "45827.474", "9" * 50, "\x00", "\u2028", "Average", "Stick;Start line;Flew;Turns\n", "Flew\n")
)  # fmt: skip


@settings(max_examples=300)
@given(pieces=st.lists(PIECES, max_size=60), headed=st.booleans())
@example(pieces=['"', "\n", "2.1"], headed=True)
def test_whatever_stands_in_a_table_is_read_or_refused_at_a_place_in_it(pieces, headed):
    text = ("Stick;Start line;Flew;Turns\n" if headed else "") + "".join(pieces)
    lines = re.split("\r\n|[\r\n]", text)
    try:
        made, wrong = shots_in(text.encode(), "s.csv", Asked(ShotsFrom(file="s.csv"), COLUMNS, False, "left", "driver"))
    except ExportError:
        return
    assert made.shots or wrong
    assert all(1 <= fault.line <= len(lines) and 1 <= fault.column <= len(lines[fault.line - 1]) + 1 for fault in wrong)
    assert all(1 <= shot.line <= len(lines) for shot in made.shots)
