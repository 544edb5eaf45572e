"""All readings of a lesson, however they were taken, and what becomes of them in its report."""

from math import hypot, sqrt

import pytest
from uncertainties import ufloat

from examples.drawn_lessons import CAMERAS
from reportgen.pipeline import load
from reportgen.sheets.mark_problems import mark_warnings
from tests.bench.measuring import METRICS
from tests.judging.academies import ID, finding_of, judge_folder, judged, reading, sheet, write_academy
from tests.measuring.drawn import POSES, TRUE, block, stills, write_pictures

DAY = "2026-03-05"
MARKED = stills()
METRIC = "pelvis-open-impact"


def report_of(root, readings, marked=MARKED, more=""):
    """The report of a lesson with these stills, readings (lines of `reading`) and whatever else its sheet says."""
    write_pictures(root / "students" / ID / "lessons", marked)
    return judged(root, {DAY: sheet(readings, block(marked), more)})[0]


def exported(root, metric, value, unit):
    """The line of a sheet that takes a metric from a table, which is written."""
    table = root / "students" / ID / "table.csv"
    table.parent.mkdir(parents=True)
    table.write_text(f"A;B\n{value:.4f};1\n", encoding="utf-8")
    return f"readings_from: {{file: ../table.csv, columns: {{{metric}: {{column: A, unit: {unit}, u: 1.0}}}}}}"


@pytest.fixture(scope="module")
def measured(tmp_path_factory):
    """A report that rests on marked stills alone."""
    return report_of(tmp_path_factory.mktemp("measured"), "")


def test_every_metric_of_the_figure_is_measured_and_is_what_the_figure_does(measured):
    assert {f.metric for f in measured.findings} == set(TRUE)
    for finding in measured.findings:
        assert finding.value == pytest.approx(TRUE[finding.metric], abs=0.6), finding.metric
        assert (finding.how, finding.views) == ("still", 2)


def test_a_measured_value_is_judged_as_the_same_value_typed_in(measured, tmp_path):
    lines = "".join(
        f"  - {{metric: {f.metric}, value: {f.value!r}, unit: {f.unit}, how: still, views: 2, u: {f.u!r}}}\n"
        for f in measured.findings
    )
    typed = judged(tmp_path, {DAY: sheet(lines)})[0]
    for one, other in zip(typed.findings, measured.findings, strict=True):
        assert one.level.value == pytest.approx(other.level.value)
        assert one.level.u == pytest.approx(other.level.u)
        rest = {"parts", "level", "probability"}
        assert one.model_dump(exclude=rest) == other.model_dump(exclude=rest)
    assert typed.summary == measured.summary
    assert typed.priorities == measured.priorities


def test_the_typed_value_wins_over_the_sensors_and_that_over_the_stills(tmp_path):
    by_eye = reading(METRIC, 60.0, how="by-eye")
    all_three = report_of(tmp_path / "a", by_eye, more=exported(tmp_path / "a", METRIC, 70.0, "deg"))
    two = report_of(tmp_path / "b", "", more=exported(tmp_path / "b", METRIC, 70.0, "deg"))
    taken = [(f.how, f.value) for f in (finding_of(all_three, METRIC), finding_of(two, METRIC))]
    assert taken == [("by-eye", 60.0), ("sensor", 70.0)]


@pytest.mark.parametrize(("apart", "noted"), [(1.9, False), (2.02, True), (-1.9, False), (-2.02, True)])
def test_a_difference_is_noted_where_both_uncertainties_do_not_explain_it(measured, apart, noted, tmp_path):
    still = finding_of(measured, METRIC)
    typed = still.value + apart * hypot(still.u, 3.0)
    finding = finding_of(report_of(tmp_path, reading(METRIC, typed, u=3.0)), METRIC)
    assert finding.value == pytest.approx(typed)
    says = "The marked pictures give 78° open. Our measuring error does not explain that gap."
    assert (says in (finding.note or "")) is noted


def test_tempo_comes_from_frame_numbers_with_what_a_frame_leaves_open(tmp_path):
    (report,) = judged(tmp_path, {DAY: "tempo: {start: 10, top: 34, impact: 42, fps: 30}"})
    finding = finding_of(report, "tempo-ratio")
    top = ufloat(34, 1 / sqrt(3))
    expected = (top - ufloat(10, 1 / sqrt(3))) / (ufloat(42, 1 / sqrt(3)) - top)
    assert (finding.value, finding.u) == pytest.approx((expected.nominal_value, expected.std_dev))
    assert finding.note == (
        "From a video of 30 frames a second: the downswing lasts 0.27 s, so counting frames is good to about 12 %."
    )


def test_tempo_can_be_the_priority_of_a_lesson_that_typed_no_number(tmp_path):
    more = "tempo: {start: 10, top: 34, impact: 42, fps: 30}\npriorities: [tempo-ratio]"
    (report,) = judged(tmp_path, {DAY: more})
    assert [p.metric for p in report.priorities] == ["tempo-ratio"]


SPEEDS_TYPED = reading("ball-speed", 140.0, "mph", u=1.5) + reading("clubhead-speed", 43.0, "m/s", u=0.6)


def test_ball_over_clubhead_speed_carries_both_uncertainties(tmp_path):
    (report,) = judged(tmp_path, {DAY: sheet(SPEEDS_TYPED)})
    finding = finding_of(report, "speed-ratio")
    expected = ufloat(140.0, 1.5) * 0.44704 / ufloat(43.0, 0.6)
    assert (finding.value, finding.u) == pytest.approx((expected.nominal_value, expected.std_dev), rel=1e-6)
    assert "Check both readings" not in (finding.note or "")


TOO_FAST = reading("ball-speed", 70.0, "m/s") + reading("clubhead-speed", 45.0, "m/s")


@pytest.mark.parametrize(
    "readings",
    [
        TOO_FAST,
        reading("speed-ratio", 1.56, '"1"'),
        TOO_FAST + reading("speed-ratio", 1.6, '"1"'),
    ],
    ids=["of two speeds", "typed in", "both"],
)  # fmt: skip
def test_a_ratio_that_no_club_gives_is_doubted_and_not_praised(readings, tmp_path):
    before = sheet(reading("speed-ratio", 1.40, '"1"'), "club: driver")
    reports = judged(tmp_path, {"2026-02-03": before, "2026-02-10": before, DAY: sheet(readings, "club: driver")})
    finding = finding_of(reports[-1], "speed-ratio")
    assert "A ball cannot leave at" in finding.note
    assert finding.verdict == "not judged"
    assert "speed-ratio" not in {p.metric for p in reports[-1].priorities}


@pytest.mark.parametrize("metric", ["pelvis-open-impact", "side-bend-impact", "pelvis-closed-top"])
def test_a_slow_film_adds_the_time_of_the_frame_that_was_picked(measured, metric, tmp_path):
    slow = finding_of(report_of(tmp_path, "", stills(fps=30)), metric)
    still = finding_of(measured, metric)
    assert slow.value == still.value
    assert slow.u == pytest.approx(hypot(still.u, (METRICS[metric].stills.rate or 0.0) / 30 * sqrt(1 / 3 + 1 / 12)))


def test_several_swings_combine(tmp_path):
    swings = [still for n in (1, 2, 3) for still in stills(click_px=3.0, seed=n, swing=n)]
    several = finding_of(report_of(tmp_path / "three", "", swings), METRIC)
    alone = [
        finding_of(report_of(tmp_path / str(n), "", stills(click_px=3.0, seed=n, swing=n)), METRIC) for n in (1, 2, 3)
    ]
    assert several.swings == pytest.approx([f.value for f in alone])
    assert several.value == pytest.approx(sum(f.value for f in alone) / 3)
    assert several.u < min(f.u for f in alone)
    assert several.parts.still < 0.8 * min(f.parts.still for f in alone)
    assert several.parts.habit == pytest.approx(alone[0].parts.habit, rel=0.1)


def without(view, checkpoint, *marks):
    """The stills, one of them without some marks."""

    def kept(still):
        here = (still["view"], still["checkpoint"]) == (view, checkpoint)
        return {k: p for k, p in still["marks"].items() if not (here and k in marks)}

    return [{**still, "marks": kept(still)} for still in MARKED]


def needs(report):
    return {gap.metric: gap.says for gap in report.missing if gap.kind == "needs"}


def test_a_metric_that_lacks_a_mark_tells_which(tmp_path):
    report = report_of(tmp_path, "", without("down-the-line", "impact", "seat"))
    assert "seat-forward-impact" not in {f.metric for f in report.findings}
    assert needs(report)["seat-forward-impact"] == "Needs seat marked on the down-the-line picture (impact)."


def test_a_metric_that_lacks_a_picture_tells_which(measured):
    assert needs(measured)["lead-hip-rise"] == ("Needs a face-on picture (transition) with lead hip marked.")


def test_what_is_typed_in_is_not_missing(tmp_path):
    assert "lead-hip-rise" not in needs(report_of(tmp_path, reading("lead-hip-rise", 3.0, "cm")))


def test_one_view_says_that_it_is_one(tmp_path):
    (face_on, _) = CAMERAS
    report = report_of(tmp_path, "", stills(POSES, [face_on]))
    finding = finding_of(report, METRIC)
    assert (finding.how, finding.views) == ("still", 1)
    assert "Estimated from the face-on picture" in finding.note


FAULTY = """\
stills:
  - file: ../stills/setup.png
    view: face-on
    checkpoint: setup
    scale: {from: [230, 1250], to: [730, 1250], length: 1.00 m}
    camera: {distance: 4.40 m}
    swing: 1
    marks:
      lead-hip: [523, 784]
      trail-hip: [431, 786]
      neck: [470, 580]
  - {file: ../stills/setup.png, view: down-the-line, checkpoint: setup, swing: 1, marks: {neck: [540, 580]}}
"""


@pytest.mark.parametrize(
    ("written", "wrong", "line", "column", "says"),
    [
        ("[470, 580]", "[970, 580]", 14, 13, "neck at [970, 580] lies outside the picture, which is 960 wide"),
        ("[470, 580]", "[470, -1]", 14, 13, "neck at [470, -1] lies outside the picture"),
        ("[470, 580]", "[431, 786]", 14, 13, "neck is in the same place as trail-hip"),
        ("[470, 580]", "[.nan, 580]", 14, 14, "'.nan'"),
        ("[470, 580]", "[470]", 14, 13, "neck"),
        ("neck", "nekc", 14, 7, "'nekc'"),
        ("neck", "seat", 14, 13, "seat is marked on a face-on still"),
        ("lead-hip: [523, 784]", "lead-hip: [331, 784]", 12, 17, "the hip line points away from the target"),
        ("to: [730, 1250]", "to: [230, 1250]", 8, 12, "both ends of the scale are at [230, 1250]"),
        ("to: [730, 1250]", "to: [730, 1450]", 8, 36, "the scale's to at [730, 1450] lies outside the picture"),
        ("length: 1.00 m", "length: 0 m", 8, 57, "length is out of its limits; it says '0 m'"),
        ("length: 1.00 m", "length: one metre", 8, 57, "length is not a number and a unit; it says 'one metre'"),
        ("4.40 m", "-4.40 m", 9, 24, "distance is out of its limits; it says '-4.40 m'"),
        ("down-the-line", "face-on", 15, 74, "there is already a face-on still of swing 1 (setup)"),
    ],
    ids=["beside the picture", "above the picture", "two in one place", "NaN", "half a place", "an unknown mark",
         "in the wrong view", "lead and trail swapped", "a scale without length", "a scale outside", "a scale of 0 m",
         "a scale in words", "a camera behind the player", "one view and swing twice"],
)  # fmt: skip
def test_a_bad_mark_is_a_problem_at_its_line_and_never_a_number(written, wrong, line, column, says, tmp_path):
    assert written in FAULTY
    root = write_academy(tmp_path, {DAY: FAULTY.replace(written, wrong, 1)})
    write_pictures(root / "students" / ID / "lessons", [{"file": "../stills/setup.png"}])
    folder = load(root)
    problems = folder.problems
    assert [(p.path, p.line, p.column) for p in problems] == [(f"students/{ID}/lessons/{DAY}.yaml", line, column)], [
        str(p) for p in problems
    ]
    assert says in problems[0].wrong
    assert problems[0].mend
    with pytest.raises(ValueError, match="has problems"):
        judge_folder(folder)


def test_two_marks_within_a_pixel_are_a_warning_and_no_problem(tmp_path):
    near = FAULTY.replace("[470, 580]", "[431.6, 786.5]", 1)
    write_pictures(root_stills(tmp_path), [{"file": "../stills/setup.png"}])
    folder = load(write_academy(tmp_path, {DAY: near}))
    assert folder.problems == []
    (warning,) = mark_warnings(folder)
    assert warning.startswith(
        f"students/{ID}/lessons/{DAY}.yaml: setup, face-on: neck lies within a pixel of trail-hip."
    )


def test_that_no_sheet_names_a_stand_is_told_once(tmp_path):
    write_pictures(root_stills(tmp_path), [{"file": "../stills/setup.png"}])
    sheets = {DAY: FAULTY, "2026-09-01": FAULTY}
    (warning,) = mark_warnings(load(write_academy(tmp_path, sheets)))
    assert warning.startswith("2 sheets have marked stills and none says where the cameras stood")
    sheets[DAY] = f"stand: kept\n{FAULTY}"
    assert list(mark_warnings(load(write_academy(tmp_path, sheets)))) == []


def root_stills(root):
    return root / "students" / ID / "lessons"


def test_the_sheet_of_these_tests_is_sound_but_for_what_they_change(tmp_path):
    root = write_academy(tmp_path, {DAY: FAULTY})
    write_pictures(root / "students" / ID / "lessons", [{"file": "../stills/setup.png"}])
    assert load(root).problems == []


def test_a_scale_of_nothing_is_a_problem_even_without_a_mark(tmp_path):
    scale = "{from: [2, 2], to: [2, 2], length: 1 m}"
    still = f"stills: [{{file: ../stills/setup.png, view: face-on, checkpoint: setup, scale: {scale}}}]"
    root = write_academy(tmp_path, {DAY: still})
    write_pictures(root / "students" / ID / "lessons", [{"file": "../stills/setup.png"}])
    (problem,) = load(root).problems
    assert problem.wrong.startswith("both ends of the scale")


@pytest.mark.parametrize("frames", ["start: 34, top: 10, impact: 42", "start: 10, top: 42, impact: 42"])
def test_frames_out_of_order_are_a_problem(frames, tmp_path):
    (problem,) = load(write_academy(tmp_path, {DAY: f"tempo: {{{frames}, fps: 30}}"})).problems
    assert (problem.line, "frames out of order" in problem.wrong) == (4, True)


def test_a_clubhead_that_stands_still_is_a_problem(tmp_path):
    (problem,) = load(write_academy(tmp_path, {DAY: sheet(reading("clubhead-speed", 0.0, "mph"))})).problems
    assert problem.wrong == "0 mph cannot be right for clubhead-speed"
