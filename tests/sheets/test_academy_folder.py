"""An academy as a whole: every problem in one pass, names of folders and files, the order of lessons."""

from random import Random
from string import ascii_letters, digits

import pytest

from reportgen.errors import ReportgenError
from reportgen.records.secret import secret_fault
from reportgen.sheets.academy_folder import NoAcademyError, load_academy, sound
from tests.sheets.academies import (
    ACADEMY,
    DEMO,
    LESSON,
    LESSON_FILE,
    STUDENT,
    STUDENT_FILE,
    make_academy,
    with_picture,
    write,
)


def told(root):
    return [str(problem) for problem in load_academy(root).problems]


def test_the_demo_has_no_problem():
    assert told(DEMO) == []


def test_an_academy_is_sound_whose_student_alone_has_a_problem(tmp_path):
    folder = load_academy(make_academy(tmp_path, {STUDENT_FILE: "name: Mara Lind\n"}))
    home = sound(folder)
    assert (home.root, home.academy, home.library) == (tmp_path, folder.academy, folder.library)


@pytest.mark.parametrize("file", ["academy.yaml", "metrics/own.yaml"])
def test_no_academy_is_sound_that_has_a_problem_which_touches_everybody(file, tmp_path):
    folder = load_academy(make_academy(tmp_path, {file: "name: x\n"}))
    with pytest.raises(ReportgenError, match="problems that touch every student"):
        sound(folder)


METRIC = """\
id: own
name: Own
short: Own
checkpoint: impact
unit: cm
explain: What.
taken: How.
uncertainty: {by-eye: 2, source: memory}
source: memory
"""
BANDS = """\
metric: side-bend-impact
unit: deg
bands: [{id: own, for: me, low: 1, fits: {sex: [male]}, basis: memory, limits: a span, source: memory}]
"""
RULES = """\
rules: [{id: own, level: note, when: {always: true}, student: Mind., instructor: Mind., basis: memory, source: memory}]
"""
PETRA = "students/petra-k"


def test_ten_faults_in_ten_files_are_ten_problems_in_order(tmp_path):
    hers = LESSON.replace("mara-l", "petra-k")
    root = make_academy(
        tmp_path,
        {
            "academy.yaml": ACADEMY + "paper: A5\n",
            "bands/own.yaml": BANDS.replace("low: 1", "low: one"),
            "drills/own.md": "No front matter.\n",
            "metrics/own.yaml": METRIC.replace("impact", "impct"),
            "safety/own.yaml": RULES.replace("note", "warning"),
            STUDENT_FILE: STUDENT.replace("right", "rihgt"),
            LESSON_FILE: LESSON + "fokus: hips\n",
            f"{PETRA}/student.yaml": STUDENT + "watch: [low-bak]\n",
            f"{PETRA}/lessons/2026-03-05.yaml": hers + "focus: 012\n",
            f"{PETRA}/lessons/2026-03-06.yaml": hers,
        },
    )
    assert [line.split(" ")[0] for line in told(root)] == [
        "academy.yaml:4:8:",
        "bands/own.yaml:3:33:",
        "drills/own.md:1:1:",
        "metrics/own.yaml:4:13:",
        "safety/own.yaml:1:26:",
        f"{LESSON_FILE}:4:1:",
        f"{STUDENT_FILE}:3:8:",
        f"{PETRA}/lessons/2026-03-05.yaml:4:8:",
        f"{PETRA}/lessons/2026-03-06.yaml:2:7:",
        f"{PETRA}/student.yaml:4:9:",
    ]


@pytest.mark.usefixtures("library_read_once")
def test_a_trap_in_a_sheet_does_not_hide_what_the_academy_knows_about_it(tmp_path):
    sheet = LESSON + "focus: no\nreadings:\n  - {metric: pelvis-open-inpact, value: 48, unit: deg, how: by-eye}\n"
    lines = told(make_academy(tmp_path, {LESSON_FILE: sheet}))
    assert [line.split(": ")[1] for line in lines] == [
        'YAML reads no as false. Write false, or "no" in quotes if you mean the word.',
        "the metric 'pelvis-open-inpact' is not known. Did you mean pelvis-open-impact?",
    ]


@pytest.mark.usefixtures("library_read_once")
def test_a_broken_student_file_does_not_hide_the_lessons_problems(tmp_path):
    root = make_academy(tmp_path, {STUDENT_FILE: "name: [\n", LESSON_FILE: LESSON + "drills: [free-leed-heel]\n"})
    assert len(told(root)) == 2


@pytest.mark.usefixtures("library_read_once")
def test_a_missing_secret_is_mended_by_a_fresh_one_each_time(tmp_path):
    root = make_academy(tmp_path, {"academy.yaml": "name: Example\ninstructor: {name: Ada}\n"})
    (first,), (second,) = told(root), told(root)
    assert first.startswith("academy.yaml:1:1: secret is missing. ")
    assert first != second
    fresh = first.rsplit("secret: ", 1)[1]
    write(root, "academy.yaml", f"name: Example\ninstructor: {{name: Ada}}\nsecret: {fresh}\n")
    assert told(root) == []


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize("name", ["Mara L", "mara_l", "MARA", "mara--l", "mära", "mara-l\n", "mara\x1b[31m"])
def test_a_student_folder_with_a_bad_name(name, tmp_path):
    root = make_academy(tmp_path)
    write(root, f"students/{name}/student.yaml", STUDENT)
    (line,) = told(root)
    assert line.endswith(
        ":1:1: the name of a student's folder has other signs than small letters, digits and hyphens."
        " Rename it, as in mara-l."
    )
    assert line.isprintable()


@pytest.mark.usefixtures("library_read_once")
def test_a_student_folder_that_is_a_link_out_of_the_academy(tmp_path):
    write(tmp_path, "elsewhere/petra-k/student.yaml", STUDENT)
    root = make_academy(tmp_path / "academy")
    (root / "students/petra-k").symlink_to(tmp_path / "elsewhere/petra-k")
    assert told(root) == [
        "students/petra-k:1:1: the student's folder is a link out of the academy. Put the folder itself there."
    ]


@pytest.mark.usefixtures("library_read_once")
def test_a_student_folder_without_student_yaml(tmp_path):
    root = make_academy(tmp_path)
    (root / "students/petra-k").mkdir()
    assert told(root) == ["students/petra-k/student.yaml:1:1: student.yaml is missing. Write it: name, born, plays."]


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize(
    "name",
    [
        "first.yaml",
        "2026-3-5.yaml",
        "5.3.2026.yaml",
        "2026-02-30.yaml",
        "2026-03-05-1.yaml",
        "2026-03-05-10.yaml",
        "2026-03-05 copy.yaml",
        "2026-03-05\n.yaml",
    ],
)
def test_a_lesson_file_whose_name_is_no_date(name, tmp_path):
    root = make_academy(tmp_path)
    write(root, f"students/mara-l/lessons/{name}", LESSON)
    (line,) = told(root)
    assert line.endswith(":1:1: the file's name is not a date. Name it as 2026-03-05.yaml.")
    assert line.isprintable()


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize(
    ("at", "says"),
    [
        ("lessons/2026-03-05.yml", "the file's name does not end in .yaml. Name it 2026-03-05.yaml."),
        ("lessons/2026-03-05.txt", "the file's name does not end in .yaml. Name it 2026-03-05.yaml."),
        ("2026-03-05.yaml", "the sheet does not lie in lessons. Move it there, or rename its folder."),
        ("lesson/2026-03-05.yaml", "the sheet does not lie in lessons. Move it there, or rename its folder."),
    ],
)
def test_a_lesson_sheet_that_would_not_be_read_is_told(at, says, tmp_path):
    root = make_academy(tmp_path)
    write(root, f"students/mara-l/{at}", LESSON)
    assert told(root) == [f"students/mara-l/{at}:1:1: {says}"]


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize("name", ["Old stuff", "__MACOSX"])
def test_a_folder_that_is_no_students_is_left_alone(name, tmp_path):
    root = make_academy(tmp_path)
    write(root, f"students/{name}/mara-l/student.yaml", STUDENT)
    assert told(root) == []


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize("name", [".2026-03-05.yaml.swp", ".DS_Store", "2026-03-05.yaml~"])
def test_files_that_editors_and_systems_leave_behind_are_passed_over(name, tmp_path):
    root = make_academy(tmp_path)
    write(root, f"students/mara-l/lessons/{name}", b"\x00")
    assert told(root) == []


@pytest.mark.usefixtures("library_read_once")
def test_lessons_stand_in_the_order_of_their_dates_the_second_of_a_day_after_the_first(tmp_path):
    names = ["2026-03-05-3", "2026-03-05-2", "2026-03-06", "2026-03-05", "2025-12-31-2"]
    root = make_academy(
        tmp_path,
        {f"students/mara-l/lessons/{name}.yaml": LESSON.replace("2026-03-05", name[:10]) for name in names},
    )
    folder = load_academy(root)
    assert folder.problems == []
    assert [sheet.name for sheet in folder.students["mara-l"].lessons] == [
        "2025-12-31-2",
        "2026-03-05",
        "2026-03-05-2",
        "2026-03-05-3",
        "2026-03-06",
    ]


@pytest.mark.usefixtures("library_read_once")
def test_a_lesson_before_the_student_was_born(tmp_path):
    root = make_academy(tmp_path, {STUDENT_FILE: STUDENT.replace("1990", "2026")})
    (line,) = told(root)
    assert line == f"{LESSON_FILE}:2:7: the lesson is before the student was born. Look at born in student.yaml."


@pytest.mark.usefixtures("library_read_once")
def test_two_stills_with_two_faults_are_two_problems(tmp_path):
    still = "  - {{file: ../stills/{}.png, view: face-on, checkpoint: impact}}\n"
    root = make_academy(tmp_path, {LESSON_FILE: LESSON + "stills:\n" + still.format("a") + still.format("b")})
    file = with_picture(root, name="b.png")
    file.write_bytes(file.read_bytes()[:500])
    assert [line.split(": ", 1)[1] for line in told(root)] == [
        "the picture is not there. Did you mean b.png?",
        "the picture is broken or cut short. Save it again.",
    ]


@pytest.mark.usefixtures("library_read_once")
def test_one_student_alone_is_read_on_demand(tmp_path):
    root = make_academy(tmp_path, {"students/petra-k/student.yaml": "name: ["})
    assert list(load_academy(root, "mara-l").students) == ["mara-l"]
    assert load_academy(root, "mara-l").problems == []


@pytest.mark.parametrize("there", [None, "a file", "an empty folder"])
def test_what_is_no_academy_cannot_be_read(there, tmp_path):
    root = tmp_path / "academy"
    if there == "a file":
        root.write_text("")
    elif there:
        root.mkdir()
    with pytest.raises(NoAcademyError, match=r"academy\.yaml"):
        load_academy(root)


@pytest.mark.usefixtures("library_read_once")
def test_an_academy_without_students(tmp_path):
    write(tmp_path, "academy.yaml", ACADEMY)
    assert told(tmp_path) == ["students:1:1: there is no folder students. Make it, with a folder for each student."]


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize("theme", [".look", "students/mara-l/look", "look/../.look"])
def test_a_theme_where_a_publish_does_not_look_for_changes_is_refused(theme, tmp_path):
    root = make_academy(tmp_path, {"academy.yaml": f"{ACADEMY}theme: {theme}\n"})
    (root / "look").mkdir()
    (root / theme).mkdir(parents=True)
    (line,) = told(root)
    assert "the theme lies in a hidden folder, among the students, or" in line
    assert line.endswith("Put it beside students, as in theme: look.")


@pytest.mark.parametrize(
    ("secret", "wrong"),
    [
        ("a" * 40, "repeats the same few signs"),
        ("abcabcabc" * 5, "repeats the same few signs"),
        ("1234567890" * 3, "repeats the same few signs"),
        ("xyxyxxyyxyxxyyxxyxyyxyx", "repeats the same few signs"),
        ("abcdefghijklmnopqrstuvwxyz", "is a row of signs that everybody knows"),
        ("zyxwvutsrqponmlkjihgfedcba", "is a row of signs that everybody knows"),
        ("nine slow herons count the tide at Lanternfold", "is that of the shipped examples, which everybody can read"),
        ("a-fresh-one-is-written-here", "is that of the shipped examples, which everybody can read"),
    ],
)
def test_a_secret_that_can_be_guessed_is_a_problem_and_is_not_repeated(tmp_path, secret, wrong):
    root = make_academy(tmp_path)
    write(root, "academy.yaml", f"name: Example\ninstructor: {{name: Ada}}\nsecret: {secret}\n")
    (problem,) = load_academy(root).shared_problems
    assert (problem.line, problem.wrong) == (3, f"secret {wrong}")
    assert secret not in str(problem)
    fresh = problem.mend.split("secret: ")[1].split(". ")[0]
    write(root, "academy.yaml", f"name: Example\ninstructor: {{name: Ada}}\nsecret: {fresh}\n")
    assert load_academy(root).shared_problems == ()


def test_random_secrets_are_taken():
    hand = Random(17)
    for signs in ("0123456789abcdef", "abcdefghijklmnopqrstuvwxyz", ascii_letters + digits):
        for _ in range(200):
            assert secret_fault("".join(hand.choices(signs, k=24)), "Example") is None
