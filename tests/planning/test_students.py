"""Five invented students, from their files to what is told: what a teacher would pick stands beside each in words
(`students/<name>/teacher.md`), and is picked.

Above the words: `heads` what of the ball heads the report; `work_on` the priorities with their sides, `wait` what
waits for them, `train` the counts that drills are given for, `keep` what is kept, `leave` what is measured and no
task; `never_load` what no drill may load; `stop` that nothing at all is planned; `curve` to which side the ball is
found to curve.
"""

from pathlib import Path

import pytest
import yaml

from reportgen.pipeline import load
from tests.judging.academies import tell_folder

ROOT = Path(__file__).parent
NAMES = sorted(path.name for path in (ROOT / "students").iterdir())


@pytest.fixture(scope="module")
def academy():
    folder = load(ROOT)
    assert [str(problem) for problem in folder.problems] == []
    return folder


@pytest.fixture(params=NAMES)
def student(request, academy):
    """The pick of the teacher, the last lesson as it is told, the library."""
    _, pick, words = (ROOT / "students" / request.param / "teacher.md").read_text(encoding="utf-8").split("---\n")
    assert len(words.split()) > 30
    return yaml.safe_load(pick), tell_folder(academy, request.param)[-1], academy.library


def test_there_are_five_of_them():
    assert len(NAMES) == 5


def test_the_teachers_pick_is_worked_on(student):
    pick, report, _ = student
    assert [f"{one.metric} {one.direction}" for one in report.priorities] == pick.get("work_on", [])
    assert (report.ball_first and report.ball_first.kind) == pick.get("heads")


def test_what_the_teacher_leaves_is_no_task_and_stays_on_the_page(student):
    pick, report, _ = student
    assert set(pick["leave"]) <= {finding.metric for finding in report.findings}
    assert not set(pick["leave"]) & {one.metric for one in report.priorities}
    assert {effect.metric for one in report.priorities for effect in one.effects} == set(pick.get("wait", []))


def test_each_drill_has_its_reason_and_serves_what_is_worked_on(student):
    pick, report, library = student
    assert all(given.why for given in report.drills)
    assert bool(report.drills) == bool(pick.get("work_on") or pick.get("train"))
    for given in report.drills:
        drill = library.drills[given.drill]
        served = {f"{serves.metric} {serves.when}" for serves in drill.serves} | set(drill.trains)
        assert served & {*pick["work_on"], *pick.get("train", ())}
        assert not set(drill.loads) & set(pick.get("never_load", []))


def test_what_the_teacher_keeps_is_kept(student):
    pick, report, _ = student
    kept = set(report.outlook.keep) if report.outlook else set()
    assert bool(kept) == ("keep" in pick)
    assert kept <= set(pick.get("keep", []))


def test_a_stop_plans_nothing(student):
    pick, report, _ = student
    assert report.stopped == pick.get("stop", False)
    assert (report.practice is None) == (not report.drills)


def test_the_ball_curves_to_the_side_that_the_teacher_saw(student):
    pick, report, _ = student
    if "curve" in pick:
        assert [fact.side for fact in report.ball.facts if fact.what == "curve"] == [pick["curve"]]
