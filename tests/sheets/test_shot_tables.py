"""Tables as devices, spreadsheets and hands write them: each is read rightly, or refused at its line and column."""

import re
from datetime import date
from itertools import product

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from reportgen.records.tables import ColumnOf, ShotsFrom
from reportgen.sheets.shot_tables import Asked, shots_in
from reportgen.sheets.tables import ExportError
from tests.sheets.shot_files import COLUMNS, ROWS, SHOTS, changed, faults, read, shots, table

READ_RIGHTLY = {
    **{
        f"separator {separator!r} with decimals {decimal!r}": table(separator=separator, decimal=decimal)
        for separator, decimal in product(";,\t|", ".,")
    },
    **{f"coded as {coding}": table().encode(coding) for coding in ("utf-8", "utf-8-sig", "utf-16", "cp1252")},
    **{f"line ends {end!r}": table().replace("\n", end).encode() for end in ("\r\n", "\r")},
    "lines above the heading": table(above=["Bay 2; afternoon", "", "Session 9"]),
    "units below the heading": table().replace("Turns\n", "Turns\n;[deg];[m];[rpm]\n"),
    "units below the heading as signs": table().replace("Turns\n", "Turns\n;°;m;1/min\n"),
    "empty lines between": table().replace("\n7-iron;-0.4", "\n\n;;;\n7-iron;-0.4"),
    "no line end at the end": table().rstrip("\n"),
    "separators at the ends of lines": table().replace("\n", ";;\n"),
    "all cells in quotation marks": "\n".join('"' + line.replace(";", '";"') + '"' for line in table().splitlines()),
    "blanks around cells": table().replace(";", " ;  "),
    "the columns in another order": "\n".join(";".join(line.split(";")[::-1]) for line in table().splitlines()),
    "a column that nobody asks for": "\n".join(f"{n};{line}" for n, line in enumerate(table().splitlines())),
    "the heading again in the middle": table().replace("\n7-iron;-0.4", "\nStick;Start line;Flew;Turns\n7-iron;-0.4"),
    "a remark on a line of its own": table().replace("\n7-iron;-0.4", "\nnew ball\n7-iron;-0.4"),
    "a plus sign": changed(1, 1, "+2.1"),
    "a true minus sign": changed(2, 1, "−0.4"),
    "a dash for a minus": changed(2, 1, "–0.4"),
    "a blank behind the sign": changed(2, 1, "- 0.4"),
    "no zero before the point": changed(2, 1, "-.4"),
    "the unit in a cell": changed(1, 2, "138.5 m"),
    "a sign of degrees": changed(1, 1, "2.1°"),
    "the unit written out": changed(1, 2, "138.5 metres"),
    "thousands in groups of a blank": changed(1, 3, "6 120"),
    "thousands in groups of a narrow blank": changed(1, 3, "6\u202f120"),
    "thousands in groups of an apostrophe": changed(1, 3, "6'120"),
    "thousands by a comma, beside decimal points": changed(1, 3, "6,120"),
    "thousands by a point, beside decimal commas": table(decimal=",").replace("6120", "6.120"),
    "thousands and decimals": changed(1, 3, "6,120.0"),
    "more decimals than needed": changed(1, 1, "2.10000"),
    "a club in words": changed(1, 0, "7 Iron"),
    "a club in short": changed(1, 0, "7i"),
    "a labelled mean below": table(below=["Average;1.67;136.3;6185"]),
    "a labelled mean and spread below": table(below=["Mittelwert:;1.67;136.3;6185", "Std. Dev.;1.89;6.05;244"]),
    "a mean without a label below": table(below=[";1.67;136.3;6185"]),
    "a mean and a spread without labels below": table(below=[";1.67;136.3;6185", ";1.89;6.05;244"]),
}
"""Each holds the three shots of `SHOTS`, and nothing else."""

NUMBER = "Write the number, or leave the cell empty."
REFUSED = {
    "words": (changed(2, 2, "far"), f"3:13: 'far' is no number. {NUMBER}"),
    "two points": (changed(2, 2, "14.1.0"), f"3:13: '14.1.0' is no number. {NUMBER}"),
    "two signs": (changed(2, 1, "--0.4"), f"3:8: '--0.4' is no number. {NUMBER}"),
    "an exponent": (changed(2, 3, "6e3"), f"3:19: '6e3' is no number. {NUMBER}"),
    "infinity": (changed(2, 3, "inf9"), f"3:19: 'inf9' is no number. {NUMBER}"),
    "a formula": (changed(2, 3, "=5980"), f"3:19: '=5980' is no number. {NUMBER}"),
    "a fraction": (changed(2, 2, "1/2"), f"3:13: '1/2' is no number. {NUMBER}"),
    "a day": (changed(2, 2, "05/03/26"), f"3:13: '05/03/26' is no number. {NUMBER}"),
    "a number in brackets": (changed(2, 1, "(0.4)"), f"3:8: '(0.4)' is no number. {NUMBER}"),
    "groups of two": (changed(2, 3, "59 80"), f"3:19: '59 80' is no number. {NUMBER}"),
    "an endless number": (changed(2, 3, "9" * 400), f"3:19: '{'9' * 59}…' is no number. {NUMBER}"),
    "a serial day of a spreadsheet": (
        changed(2, 2, "45827.474"),
        "3:13: '45827.474' cannot be right for carry. Look at the number and its unit (0 to 400 m); "
        "leave the cell empty where the device missed it.",
    ),
    "an angle beyond a quarter turn": (
        changed(2, 1, "181"),
        "3:8: '181' cannot be right for start-direction. Look at the number and its unit (-90 to 90 deg); "
        "leave the cell empty where the device missed it.",
    ),
    "the unit of another map": (
        changed(2, 2, "154 yd"),
        "3:13: '154 yd' is in yd, and the map says that the column is in m. Correct unit: in columns, or the cell.",
    ),
    "a unit that is none": (changed(2, 2, "154 elbows"), f"3:13: '154 elbows' is no number. {NUMBER}"),
    "another unit below the heading": (
        table().replace("Turns\n", "Turns\n;[deg];[yd];[rpm]\n"),
        "2:8: the line below the heading says yd, and the map says that carry is in m. Correct unit: in columns.",
    ),
    "a letter that the map does not tell of": (
        changed(2, 1, "0.4L"),
        "3:8: '0.4L' has a letter for its side, and the map does not say so. "
        "Write plus: letters R and L for start-direction, or take the letter out.",
    ),
    "a comma that can be both": (
        table([("7-iron", "2", "138", "6,120")]),
        "2:14: '6,120' can be read in two ways, and no other cell of the table tells which. Write 6120 or 6.1200.",
    ),
    "a point that can be both": (
        table([("7-iron", "2", "138", "6.120")]),
        "2:14: '6.120' can be read in two ways, and no other cell of the table tells which. Write 6120 or 6.1200.",
    ),
    "decimal commas that split a line": (
        table(separator=",").replace("-0.4", "-0,4"),
        "3:19: a line has more cells than the heading (7-iron | -0 | 4 | 141.0 | 5980). "
        "Decimal commas may have split it: export with semicolons or decimal points.",
    ),
    "a club that nobody knows": (
        changed(2, 0, "E7"),
        "3:1: the club 'E7' is not known. Say what it is (as 7-iron): means: {E7: ...} in the map for club.",
    ),
    "two columns of one name": (
        table().replace("Turns", "Flew"),
        "1:23: 2 columns are called 'Flew'. Rename all but one of them, or take them out.",
    ),
    "ten thousand rows": (
        table([(club, f"{n / 1000:.4f}", carry, spin) for n in range(10_000) for club, _, carry, spin in ROWS[:1]]),
        "1002:1: the table holds more than 1000 shots. Export the shots of this lesson alone.",
    ),
}
"""Each is refused at one place: line and column in the table, what is wrong, how to mend it."""


@pytest.mark.parametrize("text", READ_RIGHTLY.values(), ids=READ_RIGHTLY)
def test_a_table_is_read_rightly(text):
    assert shots(text) == SHOTS


@pytest.mark.parametrize(("text", "fault"), REFUSED.values(), ids=REFUSED)
def test_a_table_is_refused_at_its_place(text, fault):
    assert faults(text) == [fault]


def test_there_are_sixty_tables():
    assert len(READ_RIGHTLY) + len(REFUSED) >= 60


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
