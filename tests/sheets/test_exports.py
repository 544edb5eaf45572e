"""A sensor's table, whatever program wrote it, read by the academy's own names for its columns."""

from itertools import product

import pytest

from reportgen.records.tables import ColumnOf, ReadingsFrom
from reportgen.sheets.exports import ExportError, readings_in

SWINGS = (84.5, 85.1, 83.9)
COLUMNS = {"clubhead-speed": ColumnOf(column="Club head [mph]", unit="mph")}
NUMBERED = ReadingsFrom(file="table.csv", swing="Swing")
PLAIN = ReadingsFrom(file="table.csv")


def table(separator=";", decimal=".", above=(), below=()):
    """A table of three swings; `above` and `below` are lines around it."""
    rows = [[str(n), f"{value:.1f}".replace(".", decimal), "good"] for n, value in enumerate(SWINGS, 1)]
    quoted = [[f'"{cell}"' if separator in cell else cell for cell in row] for row in rows]
    lines = [["Swing", "Club head [mph]", "Remark"], *quoted]
    return "\n".join([*above, *(separator.join(line) for line in lines), *below]) + "\n"


def swings(text, wanted=NUMBERED, columns=COLUMNS):
    """What is read from a table, given as text or as bytes."""
    (reading,) = readings_in(text.encode() if isinstance(text, str) else text, wanted, columns)
    return reading.trials or reading.value


def fault(text, wanted=NUMBERED, columns=COLUMNS):
    """What is wrong with a table, and how to mend it."""
    with pytest.raises(ExportError) as raised:
        swings(text, wanted, columns)
    return raised.value.args


@pytest.mark.parametrize(("separator", "decimal"), list(product(";,\t|", ".,")))
def test_any_separator_goes_with_any_decimal_sign(separator, decimal):
    assert swings(table(separator, decimal)) == SWINGS


@pytest.mark.parametrize("line", [1, 2, 19, 20])
def test_the_heading_may_stand_on_any_of_the_first_20_lines(line):
    assert swings(table(above=["Bay 2; afternoon"] * (line - 1))) == SWINGS


def test_a_heading_on_line_21_is_not_looked_for():
    assert fault(table(above=["Bay 2; afternoon"] * 20))[0].startswith("no line of the first 20 names the column")


def test_a_line_of_units_below_the_heading_is_no_swing():
    with_units = table().replace("Remark\n", "Remark\n;[mph];\n")
    assert swings(with_units) == swings(with_units, PLAIN) == SWINGS


def test_means_below_the_swings_are_left_out_by_the_column_that_numbers_them():
    with_mean = table(below=["Mean;84.5;", "Spread;0.6;"])
    assert swings(with_mean) == SWINGS
    assert swings(with_mean, PLAIN) == (*SWINGS, 84.5, 0.6)


def test_a_swing_that_the_sensor_missed_has_no_number():
    assert swings(table(below=["4;;missed", "5;n/a;"])) == SWINGS


def test_cells_may_be_quoted_and_hold_the_separator():
    quoted = table(",").replace("Remark", '"Remark, of ours"').replace("good", '"a ""good"" one, high"')
    assert swings(quoted) == SWINGS


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_line_ends_of_other_systems(end):
    assert swings(table().replace("\n", end)) == SWINGS


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings_of_other_systems(encoding):
    columns = {"clubhead-speed": ColumnOf(column="Schläger [mph]", unit="mph")}
    text = table().replace("Club head", "Schläger")
    assert swings(text.encode(encoding), columns=columns) == SWINGS


@pytest.mark.parametrize(
    ("cell", "number"),
    [("1 234,5", 1234.5), ("1,234.5", 1234.5), ("1.234,5", 1234.5), ("−3.5", -3.5), ("+3.5", 3.5), (" 84.5 ", 84.5)],
)
def test_numbers_as_other_programs_write_them(cell, number):
    assert swings(f"Swing;Club head [mph]\n1;{cell}\n") == number


@pytest.mark.parametrize("cell", ["84.5 mph", "1e3", "nan", "inf", "0x10", "84.5.1", "--3"])
def test_what_is_no_plain_number_is_not_guessed_at(cell):
    wrong, _ = fault(f"Swing;Club head [mph]\n1;{cell}\n")
    assert wrong == "the column 'Club head [mph]' holds no number"


def test_a_misspelt_column_is_told_with_the_nearest_name():
    columns = {"clubhead-speed": ColumnOf(column="Clubhead [mph]", unit="mph")}
    assert fault(table(), columns=columns) == (
        "no line of the first 20 names the column 'Clubhead [mph]'",
        "Did you mean Club head [mph]?",
    )


def test_the_column_that_numbers_the_swings_is_looked_for_too():
    wanted = ReadingsFrom(file="table.csv", swing="Swings")
    assert fault(table(), wanted)[1] == "Did you mean Swing?"


def test_two_columns_of_one_name_are_not_chosen_between():
    assert fault(table().replace("Remark", "Club head [mph]"))[0] == "2 columns are called 'Club head [mph]'"


def test_decimal_commas_that_split_a_line_are_not_read_as_whole_numbers():
    wrong, mend = fault("Swing,Club head [mph]\n1,84,5\n2,85,1\n")
    assert wrong == "a line has more cells than the heading (1 | 84 | 5)"
    assert "Decimal commas" in mend


def test_separators_at_the_ends_of_lines_do_not_count():
    assert swings("Swing,Club head [mph]\n1,84.5,,\n") == 84.5


def test_two_hundred_swings_are_read_and_one_more_is_too_many():
    heading = "Swing;Club head [mph]\n"
    assert len(swings(heading + "1;84\n" * 200)) == 200
    assert fault(heading + "1;84\n" * 201)[0] == "the column 'Club head [mph]' holds 201 numbers, more than 200"


@pytest.mark.parametrize("text", ["Swing;Club head [mph]\n1;" + "8" * 200_000, "x" * 200_000], ids=["cell", "heading"])
def test_an_endless_cell_is_no_table(text):
    assert fault(text)[0] == "the file is no table of columns (field larger than field limit (131072))"


def test_an_endless_number_is_no_number():
    assert fault("Swing;Club head [mph]\n1;" + "8" * 400)[0] == "the column 'Club head [mph]' holds no number"


@pytest.mark.parametrize("raw", [b"", b"\n\n", b"\x00\x01\x02", b"\xff\xfe\x00"], ids=repr)
def test_what_is_no_text_names_no_column(raw):
    assert fault(raw)[0].startswith("no line of the first 20 names the column")
