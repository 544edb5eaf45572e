"""The table of a sensor as a sheet names it: which columns count, and every fault at its line."""

import pytest

from reportgen.sheets.academy_folder import load_academy
from tests.sheets.academies import ACADEMY, LESSON, LESSON_FILE, make_academy

TABLE = "students/mara-l/swings.csv"
SPEEDS = "No;Speed;Ball\n1;84,5;121\n2;85,1;122\n"
MAP = "columns:\n  clubhead-speed: {column: Speed, unit: mph}\n  ball-speed: {column: Ball, unit: mph}\n"
NAMED = LESSON + "readings_from:\n  file: ../swings.csv\n"
OWN = NAMED + "  columns: {clubhead-speed: {column: Speed, unit: mph}}\n"

pytestmark = pytest.mark.usefixtures("library_read_once")


def read(tmp_path, sheet, table=SPEEDS, academy=ACADEMY, **more):
    files = {"academy.yaml": academy, LESSON_FILE: sheet, **more}
    return load_academy(make_academy(tmp_path, files if table is None else {**files, TABLE: table}))


def exported(folder):
    assert [str(problem) for problem in folder.problems] == []
    return {
        name: [(r.metric, r.trials, r.unit, r.how) for lesson in student.lessons for r in lesson.attached.exported]
        for name, student in folder.students.items()
    }


def told(folder):
    return [str(problem) for problem in folder.problems]


def test_a_table_gives_a_number_a_swing(tmp_path):
    assert exported(read(tmp_path, OWN)) == {"mara-l": [("clubhead-speed", (84.5, 85.1), "mph", "sensor")]}


def test_one_map_of_the_academy_serves_every_sheet(tmp_path):
    files = {
        "students/bo-e/student.yaml": "name: Bo Ek\nborn: 1980-01-01\nplays: left\n",
        "students/bo-e/lessons/2026-03-06.yaml": (
            "student: bo-e\ndate: 2026-03-06\nclub: driver\nreadings_from: {file: ../../mara-l/swings.csv}\n"
        ),
    }
    both = [("clubhead-speed", (84.5, 85.1), "mph", "sensor"), ("ball-speed", (121.0, 122.0), "mph", "sensor")]
    assert exported(read(tmp_path, NAMED, academy=ACADEMY + MAP, **files)) == {"mara-l": both, "bo-e": both}


def test_the_map_of_the_sheet_wins(tmp_path):
    own = NAMED + "  columns: {clubhead-speed: {column: Ball, unit: km/h, u: 1}}\n"
    assert exported(read(tmp_path, own, academy=ACADEMY + MAP)) == {
        "mara-l": [("clubhead-speed", (121.0, 122.0), "km/h", "sensor")]
    }


@pytest.mark.parametrize(
    ("sheet", "table", "problem"),
    [
        (NAMED, SPEEDS, "5:3: neither the sheet nor academy.yaml says which column is what. "
         "Add columns: {clubhead-speed: {column: ..., unit: mph}}."),
        (OWN, None, "5:9: the file is not there. Look at its name, or take the line out."),
        (OWN, "No;Sped\n1;84\n", "5:9: no line of the first 20 names the column 'Speed'. Did you mean Sped?"),
        (OWN, "No;Speed\n1;\n", "5:9: the column 'Speed' holds no number. Look at the file, or at the column's name."),
        (OWN, "No;Speed\n" + "1;84\n" * 201,
         "5:9: the column 'Speed' holds 201 numbers, more than 200. Export the swings of this lesson alone."),
        (OWN, "No,Speed\n1,84,5\n", "5:9: a line has more cells than the heading (1 | 84 | 5). "
         "Decimal commas may have split it: export with semicolons or decimal points."),
        (OWN, "No;Speed\n1;84\n2;0\n3;0\n",
         "5:9: 0 mph cannot be right for clubhead-speed. Look at the number and its unit (0.5 to 150 m/s)."),
        (OWN.replace("../swings.csv", "../../../../swings.csv"), SPEEDS,
         "5:9: the file lies outside the academy. Put it into the student's folder."),
        (OWN.replace("../swings.csv", "/swings.csv"), SPEEDS,
         "5:9: the path is not relative to the sheet. Write it as ../stills/name.png."),
        (OWN.replace("../swings.csv", ".."), SPEEDS, "5:9: the file is not there. "
         "Look at its name, or take the line out."),
        (OWN.replace("clubhead-speed", "clubhed-speed"), SPEEDS,
         "6:13: the metric 'clubhed-speed' is not known. Did you mean clubhead-speed?"),
        (OWN.replace("unit: mph", "unit: deg"), SPEEDS,
         "6:51: clubhead-speed is not measured in deg. Write one of m/s, km/h, mph, ft/s."),
        (OWN.replace("unit: mph", "unit: mhp"), SPEEDS, "6:51: the unit 'mhp' is not known. Did you mean mph?"),
    ],
    ids=["no map", "no file", "a misspelt column", "no number", "too many", "decimal commas", "swings of 0 mph",
         "out of the academy", "an absolute path", "a folder", "an unknown metric", "a wrong unit", "a misspelt unit"],
)  # fmt: skip
def test_a_fault_is_a_problem_at_its_line(sheet, table, problem, tmp_path):
    assert told(read(tmp_path, sheet, table)) == [f"{LESSON_FILE}:{problem}"]


@pytest.mark.parametrize(
    ("old", "new", "problem"),
    [
        ("ball-speed", "bal-speed", "6:3: the metric 'bal-speed' is not known. Did you mean ball-speed?"),
        ("{column: Ball, unit: mph}", "{column: Ball, unit: s}",
         "6:36: ball-speed is not measured in s. Write one of m/s, km/h, mph, ft/s."),
        ("{column: Ball, unit: mph}", "{column: Ball, unit: mhp}", "6:36: the unit 'mhp' is not known."
         " Did you mean mph?"),
    ],
    ids=["an unknown metric", "a wrong unit", "a misspelt unit"],
)  # fmt: skip
def test_a_fault_of_the_academys_map_is_told_once_there(old, new, problem, tmp_path):
    assert told(read(tmp_path, NAMED, academy=ACADEMY + MAP.replace(old, new))) == [f"academy.yaml:{problem}"]


def test_a_link_to_a_table_outside_the_academy_is_not_followed(tmp_path):
    outside = tmp_path / "outside.csv"
    outside.write_text(SPEEDS, encoding="utf-8")
    root = make_academy(tmp_path / "academy", {LESSON_FILE: OWN})
    (root / TABLE).symlink_to(outside)
    assert told(load_academy(root)) == [
        f"{LESSON_FILE}:5:9: the file lies outside the academy. Put it into the student's folder."
    ]


def test_a_table_of_more_than_8_mib_is_not_read(tmp_path):
    (problem,) = read(tmp_path, OWN, "No;Speed\n1;84\n" + " " * (8 << 20)).problems
    assert (problem.line, problem.wrong) == (5, "the file is larger than 8 MiB")


CLUB = "columns:\n  face-angle: {column: Face, unit: deg, plus: right of target}\n  carry: {column: Flew, unit: yd}\n"
FACE = "No;Face;Flew\n1;2,0;150\n2;-1,0;160\n"


@pytest.mark.parametrize(("plays", "face"), [("right", (2.0, -1.0)), ("left", (-2.0, 1.0))])
def test_a_table_of_swings_gives_club_and_ball_with_their_sides_turned(tmp_path, plays, face):
    files = {
        "students/mara-l/student.yaml": f"name: Mara Lind\nborn: 1990-05-17\nplays: {plays}\n",
        "academy.yaml": ACADEMY + CLUB,
        LESSON_FILE: NAMED,
        TABLE: FACE,
    }
    found = exported(load_academy(make_academy(tmp_path, files)))["mara-l"]
    assert found == [("face-angle", face, "deg", "sensor"), ("carry", (150.0, 160.0), "yd", "sensor")]


def test_columns_of_shots_that_a_table_of_swings_lacks_are_not_asked_of_it(tmp_path):
    folder = read(tmp_path, NAMED, academy=ACADEMY + MAP + CLUB.removeprefix("columns:\n"))
    assert [metric for metric, *_ in exported(folder)["mara-l"]] == ["clubhead-speed", "ball-speed"]


def test_a_side_that_letters_tell_is_read_in_a_table_of_shots_alone(tmp_path):
    own = NAMED + "  columns: {face-angle: {column: Face, unit: deg, plus: letters R and L}}\n"
    assert told(read(tmp_path, own, FACE)) == [
        f"{LESSON_FILE}:6:57: letters for a side are read in a table of shots alone. "
        "Name the file under shots_from:, with these columns."
    ]


def test_a_column_with_a_side_says_on_which_plus_is(tmp_path):
    own = NAMED + "  columns: {face-angle: {column: Face, unit: deg}}\n"
    (problem,) = told(read(tmp_path, own, FACE))
    assert "face-angle has a side, and nothing says on which plus numbers are" in problem


@pytest.mark.parametrize(
    ("metric", "value", "unit", "right"),
    [
        ("carry", 165, "m", True), ("carry", 180, "yd", True), ("carry", 401, "m", False), ("carry", -10, "m", False),
        ("side", -60, "m", True), ("curve", -120, "m", True), ("low-point", 12, "cm", True),
        ("low-point", 4, "m", False), ("face-angle", 91, "deg", False), ("strike-across", 101, "mm", False),
        ("pelvis-shift-impact", 4, "m", False),
    ],
)  # fmt: skip
def test_a_typed_number_of_club_and_ball_has_the_limits_of_its_column(tmp_path, metric, value, unit, right):
    typed = LESSON + f"readings: [{{metric: {metric}, value: {value}, unit: {unit}, how: sensor, u: 1}}]\n"
    assert (told(read(tmp_path, typed, None)) == []) is right
