"""A metric of stills that an academy adds: one content file, and it is measured, judged and shown."""

import pytest

from reportgen.pipeline import load
from tests.judging.academies import finding_of, tell_folder
from tests.measuring.own_metrics import HANDS, METRICS, OWN, STANCE, VIEWS, marked, true_hands, true_stance, write

FACE_ON = VIEWS[:1]


def report_of(root, stills, content=OWN):
    academy = load(write(root, stills, content))
    assert [str(problem) for problem in academy.problems] == []
    return tell_folder(academy)[0]


@pytest.fixture(scope="module")
def report(tmp_path_factory):
    return report_of(tmp_path_factory.mktemp("own"), marked())


@pytest.mark.parametrize(
    ("metric", "truth"), [("stance-width-setup", true_stance()), ("hands-height-top", true_hands())]
)
def test_it_is_measured_from_marked_stills(report, metric, truth):
    finding = finding_of(report, metric)
    assert (finding.how, finding.views) == ("still", 2)
    assert finding.value == pytest.approx(truth, abs=0.3)
    assert 0.3 < finding.u < 3.0


def test_it_is_judged_by_its_range(report):
    assert true_stance() > 30
    assert finding_of(report, "stance-width-setup").verdict == "above range"
    assert finding_of(report, "hands-height-top").verdict == "not judged"
    assert "Bring your feet closer" in [priority.headline for priority in report.priorities]


def strokes_of(report, view, checkpoint):
    (picture,) = [p for p in report.pictures if (p.view, p.checkpoint) == (view, checkpoint)]
    return picture.still.strokes


def place(view, checkpoint, *marks):
    """The middle of marks on a still, pixels."""
    (still,) = [s for s in marked() if (s.view, s.checkpoint) == (view, checkpoint)]
    return tuple(sum(still.marks[mark][axis] for mark in marks) / len(marks) for axis in (0, 1))


def test_the_still_shows_the_width_as_a_level_line_with_its_value(report):
    (line,) = [s for s in strokes_of(report, "face-on", "setup") if s.says]
    trail, lead = place("face-on", "setup", "trail-heel"), place("face-on", "setup", "lead-heel")
    assert (line.kind, line.verdict) == ("line", "above range")
    assert line.says == f"{finding_of(report, 'stance-width-setup').value:.0f}\N{NO-BREAK SPACE}cm"
    assert line.points == (pytest.approx(trail), pytest.approx((lead[0], trail[1])))


def test_the_still_shows_the_height_as_an_upright_line_beside_the_level_of_the_shoulders(report):
    drawn = strokes_of(report, "face-on", "top")
    at = [stroke.metric for stroke in drawn].index("hands-height-top")
    level, line = drawn[at - 1 : at + 1]
    shoulders = place("face-on", "top", "lead-shoulder", "trail-shoulder")
    hands = place("face-on", "top", "lead-wrist", "trail-wrist")
    corner = (hands[0], shoulders[1])
    assert (level.kind, level.points) == ("plumb", (pytest.approx(shoulders), pytest.approx(corner)))
    assert (line.kind, line.points) == ("line", (pytest.approx(corner), pytest.approx(hands)))
    assert line.says.endswith("cm below")


def test_one_view_is_enough_where_it_shows_the_direction(tmp_path):
    finding = finding_of(report_of(tmp_path, marked(*FACE_ON)), "stance-width-setup")
    assert finding.views == 1
    assert abs(finding.value - true_stance()) < 2 * finding.u


def test_what_it_lacks_is_told_like_that_of_any_other(tmp_path):
    report = report_of(tmp_path, marked(*FACE_ON, without=("lead-heel",)))
    says = {gap.metric: gap.says for gap in report.missing}
    assert says["stance-width-setup"] == "Needs lead heel marked on the face-on picture (setup)."


def test_it_changes_no_number_of_another(report, tmp_path):
    without = report_of(tmp_path, marked(), content={})
    with_them = {f.metric: f for f in report.findings}
    assert len(with_them) == len(without.findings) + len(METRICS)
    assert {f.metric: f for f in without.findings} == {f.metric: with_them[f.metric] for f in without.findings}


def test_a_length_comes_in_the_unit_of_the_metric(tmp_path):
    inches = {"metrics/stance-width-setup.yaml": STANCE.replace("unit: cm", "unit: in")}
    finding = finding_of(report_of(tmp_path, marked(), inches), "stance-width-setup")
    assert finding.value == pytest.approx(true_stance() / 2.54, abs=0.15)


def test_a_file_in_the_place_of_a_shipped_metric_keeps_its_formula(report, tmp_path):
    shipped = "pelvis-shift-impact"
    words = STANCE.replace("stance-width-setup", shipped).replace("checkpoint: setup", "checkpoint: impact")
    own = "".join(line for line in words.splitlines(keepends=True) if not line.startswith("stills:"))
    found = finding_of(report_of(tmp_path, marked(), {f"metrics/{shipped}.yaml": own}), shipped)
    assert found.name == "Stance width at set-up"
    assert found.value == finding_of(report, shipped).value


def test_a_formula_of_its_own_takes_the_place_of_the_shipped_one(tmp_path):
    shipped = "pelvis-shift-impact"
    own = HANDS.replace("hands-height-top", shipped).replace("checkpoint: top", "checkpoint: impact")
    found = finding_of(report_of(tmp_path, marked(), {f"metrics/{shipped}.yaml": own}), shipped)
    assert found.value < -20


def test_a_faulty_formula_measures_nothing_and_nothing_that_rests_on_it(tmp_path):
    wrong = STANCE.replace("unit: cm", "unit: deg")
    rests = HANDS.replace("distance: {from: mid-shoulder, to: mid-wrist, toward: up}",
                          "difference: {of: lead-hip-rise, less: stance-width-setup}")  # fmt: skip
    content = {"metrics/stance-width-setup.yaml": wrong, "metrics/hands-height-top.yaml": rests}
    library = load(write(tmp_path, marked(), content)).library
    assert library.metrics["stance-width-setup"].stills is None
    assert library.metrics["hands-height-top"].stills is None
