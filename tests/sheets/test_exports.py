"""A sensor's export that cannot be read as a table is a problem of the sheet that names it."""

import pytest

from reportgen.sheets.academy_folder import load_academy
from tests.sheets.academies import LESSON, LESSON_FILE, make_academy

FROM = LESSON + "readings_from:\n  file: ../swings.csv\n  columns: {clubhead-speed: {column: Speed, unit: mph}}\n"
TABLE = "students/mara-l/swings.csv"

pytestmark = pytest.mark.usefixtures("library_read_once")


def test_a_sound_export_gives_a_number_a_swing(tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: FROM, TABLE: "No;Speed\n1;84,5\n2;85,1\n"})
    folder = load_academy(root)
    assert folder.problems == []
    (reading,) = folder.students["mara-l"].lessons[0].attached.exported
    assert reading.trials == (84.5, 85.1)


@pytest.mark.parametrize(
    ("table", "problem"),
    [
        ("No;Sped\n1;84,5\n", "no line of the first 20 names the column 'Speed'. Did you mean Sped?"),
        ("No;Speed\n1;\n", "the column 'Speed' holds no number. Look at the file, or at the column's name."),
        (
            "No;Speed\n" + "1;84\n" * 201,
            "the column 'Speed' holds 201 numbers, more than 200. Export the swings of this lesson alone.",
        ),
        (
            "No;Speed\n1;" + "8" * 200_000 + "\n",
            "the file is no table of columns (field larger than field limit (131072)). Export it again, as text.",
        ),
        ("x" * 200_000, "the file is no table of columns (field larger than field limit (131072))."
         " Export it again, as text."),
        ("No;Speed\n1;" + "8" * 400 + "\n", "the column 'Speed' holds no number."
         " Look at the file, or at the column's name."),
    ],
    ids=["a misspelt column", "no number", "201 swings", "an endless cell", "an endless heading", "an endless number"],
)  # fmt: skip
def test_an_export_that_does_not_hold_what_the_sheet_asks_for(table, problem, tmp_path):
    root = make_academy(tmp_path, {LESSON_FILE: FROM, TABLE: table})
    assert [str(p) for p in load_academy(root).problems] == [f"{LESSON_FILE}:5:9: {problem}"]


def test_an_export_that_is_not_there(tmp_path):
    (problem,) = load_academy(make_academy(tmp_path, {LESSON_FILE: FROM})).problems
    assert (problem.line, problem.column, problem.wrong) == (5, 9, "the file is not there")


def test_an_export_outside_the_academy(tmp_path):
    sheet = FROM.replace("../swings.csv", "../../../../swings.csv")
    (problem,) = load_academy(make_academy(tmp_path, {LESSON_FILE: sheet})).problems
    assert (problem.line, problem.column, problem.wrong) == (5, 9, "the file lies outside the academy")
