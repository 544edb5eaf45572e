"""Tables of shots as a sheet names them: which map counts, which club, and every fault at its line."""

import pytest

from reportgen.sheets.academy_folder import load_academy
from tests.sheets.academies import ACADEMY, LESSON, LESSON_FILE, STUDENT, STUDENT_FILE, make_academy

TABLE = "students/mara-l/shots.csv"
SHOTS = "Stick;Start line;Flew\n7i;2.1;138.5\n7i;-0.4;141.0\n"
MAP = (
    "columns:\n"
    "  clubhead-speed: {column: Speed, unit: mph}\n"
    "  club: {column: Stick}\n"
    "  start-direction: {column: Start line, unit: deg, plus: right of target}\n"
    "  carry: {column: Flew, unit: m}\n"
)
NAMED = LESSON + "shots_from:\n  - {file: ../shots.csv}\n"
OWN = LESSON + "shots_from:\n  - file: ../shots.csv\n    columns:\n      carry: {column: Flew, unit: m}\n"

pytestmark = pytest.mark.usefixtures("library_read_once")


def read(tmp_path, sheet=NAMED, table=SHOTS, academy=ACADEMY + MAP, **more):
    files = {"academy.yaml": academy, LESSON_FILE: sheet, **more}
    return load_academy(make_academy(tmp_path, files if table is None else {**files, TABLE: table}))


def tables(folder):
    assert told(folder) == []
    return [table for sheet in folder.students["mara-l"].lessons for table in sheet.attached.shots]


def told(folder):
    return [str(problem) for problem in folder.problems]


def test_the_map_of_the_academy_serves_every_sheet(tmp_path):
    (table,) = tables(read(tmp_path))
    assert table.file == TABLE
    assert [(shot.club, shot.start_direction, shot.carry) for shot in table.shots] == [
        ("7-iron", 2.1, 138.5),
        ("7-iron", -0.4, 141.0),
    ]


def test_the_map_of_the_sheet_wins(tmp_path):
    (table,) = tables(read(tmp_path, OWN))
    assert [(shot.club, shot.start_direction, shot.carry) for shot in table.shots] == [
        ("7-iron", None, 138.5),
        ("7-iron", None, 141.0),
    ]


def test_the_hand_is_that_of_the_student(tmp_path):
    left = STUDENT.replace("plays: right", "plays: left")
    (table,) = tables(read(tmp_path, **{STUDENT_FILE: left}))
    assert [shot.start_direction for shot in table.shots] == [-2.1, 0.4]


def test_a_lesson_can_have_several_tables(tmp_path):
    sheet = LESSON + (
        "shots_from:\n  - {file: ../shots.csv, device: net}\n  - {file: ../turf.csv, club: 6-iron, surface: turf}\n"
    )
    first, second = tables(read(tmp_path, sheet, **{"students/mara-l/turf.csv": SHOTS}))
    assert {(shot.club, shot.surface, shot.device) for shot in first.shots} == {("7-iron", None, "net")}
    assert {(shot.club, shot.surface, shot.device) for shot in second.shots} == {("6-iron", "turf", None)}


def test_a_table_of_swings_needs_no_column_of_shots(tmp_path):
    sheet = LESSON + "readings_from: {file: ../swings.csv}\n"
    folder = read(tmp_path, sheet, None, **{"students/mara-l/swings.csv": "Speed\n84\n85\n"})
    assert told(folder) == []
    assert [reading.metric for reading in folder.students["mara-l"].lessons[0].attached.exported] == ["clubhead-speed"]


def test_a_fault_in_a_table_is_told_at_its_line_there(tmp_path):
    assert told(read(tmp_path, table=SHOTS.replace("-0.4", "low"))) == [
        f"{TABLE}:3:4: 'low' is no number. Write the number, or leave the cell empty."
    ]


@pytest.mark.parametrize(
    ("sheet", "table", "problem"),
    [
        (NAMED, None, "5:12: the file is not there. Look at its name, or take the line out."),
        (NAMED + "  - {file: ../shots.csv}\n", SHOTS,
         "6:12: the file stands here already. Keep one of the two: its shots would count twice."),
        (NAMED.replace("../shots.csv", "../../../../shots.csv"), SHOTS,
         "5:12: the file lies outside the academy. Put it into the student's folder."),
        (NAMED, "Stock;Flewn\n1;84\n",
         "5:12: no line of the first 20 names the column 'Flew' or another of the map. Did you mean Flewn?"),
        (NAMED, "Stick;Flew\n7i;\n",
         "5:12: the table holds no shot. Look at the file, or at the names of its columns."),
        (NAMED.replace("csv}", "csv, shot: Nr}"), SHOTS,
         "5:12: no line of the first 20 names the column 'Nr'. Known here: Stick, Start line, Flew."),
        (NAMED.replace("csv}", "csv, surface: grass}"), SHOTS,
         "5:35: shots_from, item 1: surface is not one of the words for it; it says 'grass'. Known here: mat, turf."),
        (LESSON + "shots_from: {file: ../shots.csv}\n", SHOTS,
         "4:13: shots_from is not a list. Begin each item with a hyphen and a space, or put them in [ ]."),
        (OWN.replace("carry", "cary"), SHOTS, "7:7: 'cary' is nothing that a shot has. Did you mean carry?"),
        (OWN.replace("Flew", "Start lime"), SHOTS, "5:11: no line of the first 20 names the column 'Start lime'. "
         "Did you mean Start line?"),
    ],
    ids=["no file", "one file twice", "out of the academy", "no column", "no shot", "no column that numbers the shots",
         "a surface that is not known", "no list", "an unknown word", "a misspelt column"],
)  # fmt: skip
def test_a_fault_is_a_problem_at_its_line(sheet, table, problem, tmp_path):
    assert told(read(tmp_path, sheet, table)) == [f"{LESSON_FILE}:{problem}"]


def test_without_a_map_nothing_is_read(tmp_path):
    (problem,) = told(read(tmp_path, academy=ACADEMY))
    assert problem.startswith(f"{LESSON_FILE}:5:5: neither the sheet nor academy.yaml says which column is what.")


SIDES = "right of target, left of target, trail side, lead side, letters R and L"
SIDED = f"Add plus: and one of {SIDES}."


@pytest.mark.parametrize(
    ("column", "problem"),
    [
        ("face-angle: {column: A, unit: deg}",
         f"5:3: face-angle has a side, and nothing says on which plus numbers are. {SIDED}"),
        ("strike-across: {column: A, unit: mm, plus: trail side}",
         "5:46: plus numbers of strike-across cannot be trail side. Write one of toward the toe, toward the heel."),
        ("carry: {column: A, unit: m, plus: trail side}", "5:31: carry has no side. Take plus: out."),
        ("face-angle: {column: A, unit: deg, plus: right}",
         "5:44: columns, face-angle: plus is not one of the words for it; it says 'right'. "
         f"Known here: {SIDES}, toward the toe, toward the heel."),
        ("carry: {column: A}", "5:3: carry has no unit. Add unit: m."),
        ("carry: {column: A, unit: mph}",
         "5:28: carry is not measured in mph. Write one of mm, cm, m, in, ft, yd."),
        ("spin: {column: A, unit: rmp}", "5:27: the unit 'rmp' is not known. Did you mean rpm?"),
        ("carry: {column: A, unit: yd, u: 500}", "5:35: 500 yd cannot be the standard uncertainty of carry. "
         "Look at the number and its unit (up to 437.4 yd)."),
        ("club: {column: A, unit: m}", "5:21: club is no number and has no unit. Take unit: out."),
        ("carry: {column: A, unit: m, means: {far: near}}",
         "5:31: carry is a number, which means itself. Take means: out."),
        ("clubhead-speed: {column: A}", "5:3: clubhead-speed has no unit. Add unit: m/s."),
        ("clubhead-speed: {column: A, unit: mph, plus: trail side}",
         "5:42: clubhead-speed has no side. Take plus: out."),
        ("carry: {column: A, unit: m}\n  height: {column: A, unit: m}",
         "6:20: the column 'A' holds carry already. Give each its own column."),
        ("cary: {column: A, unit: m}", "5:3: the metric 'cary' is not known. Did you mean carry?"),
    ],
)  # fmt: skip
def test_a_fault_of_the_academys_map_is_told_there(column, problem, tmp_path):
    folder = read(tmp_path, LESSON, None, f"{ACADEMY}columns:\n  {column}\n")
    assert told(folder) == [f"academy.yaml:{problem}"]


def test_a_sheet_names_six_tables_at_most(tmp_path):
    sheet = LESSON + "shots_from: [" + "{file: ../shots.csv}, " * 7 + "]\n"
    assert f"{LESSON_FILE}:4:13: shots_from has 7 items. At most 6." in told(read(tmp_path, sheet))


@pytest.mark.parametrize(
    ("figure", "problem"),
    [
        ("face_deg: 0", "4:20: shot_u: face_deg is out of its limits; it says '0'. Write a number above 0."),
        ("face: 1", "4:10: the key 'face' is not known here. Did you mean face_deg?"),
    ],
)
def test_a_figure_of_the_academys_own_that_cannot_be_is_told(figure, problem, tmp_path):
    assert told(read(tmp_path, LESSON, None, f"{ACADEMY}shot_u: {{{figure}}}\n")) == [f"academy.yaml:{problem}"]
