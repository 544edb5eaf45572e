"""The second looks of an academy: each problem of their files with its place."""

from datetime import date

import pytest

from reportgen.sheets.academy_folder import load_academy
from reportgen.sheets.rounds import name_of_round, read_rounds
from tests.sheets.academies import LESSON, LESSON_FILE, make_academy, with_picture

MARKED = """\
stills:
  - file: ../stills/impact.png
    view: face-on
    checkpoint: impact
    scale: {from: [1, 1], to: [40, 1], length: 1 m}
    marks: {neck: [30, 5], lead-hip: [33, 20]}
"""
ROUND = """\
date: 2026-11-28
marked_by: Ada
stills:
  - student: mara-l
    lesson: 2026-03-05
    file: ../stills/impact.png
    marks:
      neck: [31, 5]
"""
pytestmark = pytest.mark.usefixtures("library_read_once")


@pytest.fixture
def academy(tmp_path):
    with_picture(tmp_path)
    return make_academy(tmp_path, {LESSON_FILE: LESSON + MARKED, "rounds/2026-11-28.yaml": ROUND})


def problems(root):
    return [str(problem) for problem in read_rounds(load_academy(root)).problems]


def test_a_sound_round_is_read(academy):
    kept = read_rounds(load_academy(academy))
    assert kept.problems == ()
    assert [(sheet.path, sheet.record.marked_by, len(sheet.record.stills)) for sheet in kept.rounds] == [
        ("rounds/2026-11-28.yaml", "Ada", 1)
    ]


@pytest.mark.parametrize(
    ("wrong", "written", "says"),
    [
        ("mara-l", "mara-k", "4:14: there is no student mara-k. Did you mean mara-l? Take these lines out if"),
        ("2026-03-05", "2026-03-06", "5:13: mara-l has no lesson 2026-03-06. Did you mean 2026-03-05?"),
        ("impact.png", "impac.png", "6:11: the lesson has no marked picture of this name. Did you mean ../stills/imp"),
        ("neck", "head", "8:7: the lesson's sheet has no head on this picture. Set it there too, or take it out here."),
        ("neck", "nek", "8:7: "),
        ("[31, 5]", "[31]", "8:13: "),
        ("marked_by: Ada", "marked: Ada", "2:1: the key 'marked' is not known here. Did you mean marked_by?"),
        ("2026-11-28", "28.11.2026", "1:7: date is not a date"),
    ],
)
def test_what_is_wrong_is_told_at_its_place(academy, wrong, written, says):
    (academy / "rounds/2026-11-28.yaml").write_text(ROUND.replace(wrong, written, 1), encoding="utf-8")
    (told,) = problems(academy)
    assert told.startswith(f"rounds/2026-11-28.yaml:{says}")


def test_a_picture_twice_in_a_round_is_a_problem(academy):
    twice = ROUND + ROUND.split("stills:\n")[1]
    (academy / "rounds/2026-11-28.yaml").write_text(twice, encoding="utf-8")
    (told,) = problems(academy)
    assert "has a picture twice" in told


def test_a_file_with_another_name_is_a_problem(academy):
    (academy / "rounds/2026-11-28.yaml").rename(academy / "rounds/second.yaml")
    (told,) = problems(academy)
    assert told.startswith("rounds/second.yaml:1:1: the name of the file is not a date. Name it as 2026-03-05.yaml")


def test_what_a_system_or_a_killed_run_leaves_there_is_looked_past(academy):
    for name in (".DS_Store", ".2026-11-28.yaml.new", "2026-11-28.yaml~"):
        (academy / "rounds" / name).write_text("no round", encoding="utf-8")
    assert problems(academy) == []


def test_an_academy_without_a_round_has_none(tmp_path):
    assert read_rounds(load_academy(make_academy(tmp_path))) == ((), ())


@pytest.mark.parametrize(
    ("who", "taken", "name"),
    [
        (None, [], "2026-11-28.yaml"),
        ("Ada Bø", [], "2026-11-28-ada-b.yaml"),
        ("Ada", ["2026-11-28-ada.yaml", "2026-11-28-ada-2.yaml"], "2026-11-28-ada-3.yaml"),
        ("木村", [], "2026-11-28.yaml"),
    ],
)
def test_a_round_is_named_by_its_day_and_marker(who, taken, name):
    assert name_of_round(date(2026, 11, 28), who, taken) == name
