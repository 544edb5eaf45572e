"""A table of shots gives readings of club and ball, which are judged, followed and held against others as all are."""

import csv
import json
from io import StringIO
from math import hypot
from pathlib import Path
from time import process_time

import pytest

from reportgen.history import history_csv
from reportgen.pipeline import load, reports_of
from reportgen.records.academy import ShotError
from reportgen.records.shot_table import UNIT_OF, WORDS
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import ADULT, ID, finding_of, library, reading, sheet, tell_folder, write_academy

CASES = json.loads((Path(__file__).parents[1] / "published" / "cases" / "ball.json").read_text(encoding="utf-8"))[
    "cases"
]
SIDES = {"target": "right of target", "face": "toward the toe"}
ENDS = (-1.0, 1.0, -1.0, 1.0, -1.0, 1.0)
"""Six shots about a mean; their standard deviation is the root of 6/5."""
SHOT = {
    "start-direction": -2.0, "launch-angle": 17.0, "face-angle": -1.0, "club-path": -5.0, "attack-angle": -4.0,
    "dynamic-loft": 24.0, "swing-plane": 60.0, "spin": 6200.0, "carry": 150.0, "side": 6.0, "height": 28.0,
    "strike-across": -8.0, "strike-up": 3.0,
}  # fmt: skip


def table(shot, ends=ENDS, hand=1):
    """A table of shots about these numbers; everything that has a side of the target is mirrored where `hand` is -1."""
    turned = {word: hand if WORDS[word].side == "target" else 1 for word in shot}
    lines = [";".join(f"{turned[word] * (value + end):.4f}" for word, value in shot.items()) for end in ends]
    return "\n".join([";".join(shot), *lines]) + "\n"


def columns(words):
    told = []
    for word in words:
        side = WORDS[word].side
        plus = f", plus: {SIDES[side]}" if side else ""
        told.append(f"  {word}: {{column: {word}, unit: {WORDS[word].unit}{plus}}}")
    return "\n".join(["columns:", *told, ""])


def lessons(root, tables, *, more="", plays="right", student=ADULT, academy="", readings="", entry=""):
    """A lesson with a table for each day, told to the student; the map is the academy's."""
    sheets = {
        day: sheet(readings, f"{more}\nshots_from:\n  - {{file: ../{day}.csv{entry}}}\n") for day, _ in tables.items()
    }
    write_academy(root, sheets, student)
    folder = root / "students" / ID
    for day, text in tables.items():
        (folder / f"{day}.csv").write_text(text, encoding="utf-8")
    person = (folder / "student.yaml").read_text(encoding="utf-8").replace("plays: right", f"plays: {plays}")
    (folder / "student.yaml").write_text(person, encoding="utf-8")
    words = next(iter(tables.values())).split("\n")[0].split(";")
    written = (root / "academy.yaml").read_text(encoding="utf-8") + columns([w for w in words if w in WORDS]) + academy
    (root / "academy.yaml").write_text(written, encoding="utf-8")
    read = load(root)
    assert [str(problem) for problem in read.problems] == []
    return tell_folder(read)


def lesson(root, text, **more):
    return lessons(root, {"2026-03-05": text}, **more)[-1]


def of(report):
    return {finding.metric: finding for finding in report.findings}


def test_the_shots_of_a_table_give_a_reading_of_every_metric_of_club_and_ball(tmp_path):
    found = of(lesson(tmp_path, table(SHOT)))
    assert set(found) == {*SHOT, "face-to-path", "curve", "loft-to-path", "low-point"} - {"swing-plane"}
    assert {finding.how for finding in found.values()} == {"sensor"}


def test_a_reading_is_the_mean_as_sure_as_its_shots_and_the_device(tmp_path):
    """The device's error is alike in all shots (JCGM 100:2008, 4.2.3): it does not shrink with their number."""
    launch = of(lesson(tmp_path, table(SHOT)))["launch-angle"]
    assert launch.value == pytest.approx(17.0)
    assert launch.u == pytest.approx(hypot(ShotError().launch_deg, (6 / 5 / 6) ** 0.5))
    assert launch.swings == pytest.approx([16, 18, 16, 18, 16, 18])


def test_the_academy_says_how_sure_its_device_is(tmp_path):
    launch = of(lesson(tmp_path, table(SHOT), academy="shot_u: {launch_deg: 2.0}\n"))["launch-angle"]
    assert launch.u == pytest.approx(hypot(2.0, (6 / 5 / 6) ** 0.5))


@pytest.mark.parametrize(
    ("case", "metric", "times", "words"),
    [
        ("curve-1", "curve", 1, {"carry": "carry", "side": "side", "start-direction": "start_"}),
        ("low-1", "low-point", 100, {"attack-angle": "attack", "swing-plane": "plane"}),
    ],
)
def test_what_follows_from_the_columns_is_as_worked_out_elsewhere(tmp_path, case, metric, times, words):
    given = CASES[case]
    text = table({word: given["inputs"][name] for word, name in words.items()}, ends=(0.0,) * 5)
    found = of(lesson(tmp_path, text))[metric]
    assert found.value == pytest.approx(times * given["expected"], abs=times * given["tolerance"])


def test_loft_to_path_is_loft_less_attack_where_the_face_is_square_to_the_path(tmp_path):
    """Both lie in one upright plane then (own geometry)."""
    square = {"face-angle": 3.0, "club-path": 3.0, "attack-angle": -4.1, "dynamic-loft": 20.2}
    found = of(lesson(tmp_path, table(square, ends=(0.0,) * 5)))
    assert found["loft-to-path"].value == pytest.approx(24.3, abs=1e-3)


def test_a_left_handed_players_table_mirrored_is_told_word_for_word_alike(tmp_path):
    text = {day: SHOT | {"face-angle": 1.0 + k} for k, day in enumerate(("2026-03-05", "2026-03-12", "2026-03-19"))}
    right, left = (
        lessons(tmp_path / plays, {day: table(shot, hand=hand) for day, shot in text.items()}, plays=plays)
        for plays, hand in (("right", 1), ("left", -1))
    )
    assert len(right[-1].findings) == 16
    for one, other in zip(right, left, strict=True):
        apart = {"person": None, "revision": None}
        assert one.model_copy(update=apart) == other.model_copy(update=apart)


def test_fewer_than_five_shots_give_none(tmp_path):
    assert lesson(tmp_path, table(SHOT, ends=ENDS[:4])).findings == ()


def test_shots_with_another_club_are_no_readings_of_this_lesson(tmp_path):
    assert lesson(tmp_path, table(SHOT), more="club: 7-iron", entry=", club: driver").findings == ()


def test_a_column_whose_sign_is_in_doubt_gives_none(tmp_path):
    rows = [f"{face * -0.8:.1f};{face}" for face in range(-5, 6)]
    report = lesson(tmp_path, "\n".join(["start-direction;face-angle", *rows]) + "\n")
    assert report.findings == ()


def test_a_spin_that_the_device_estimates_is_none(tmp_path):
    source = "columns:\n  spin: {column: spin, unit: rpm}\n  spin-source: {column: source}\n"
    text = "spin;source\n" + "6000;measured\n" * 5 + "9000;estimated\n" * 5
    write_academy(tmp_path, {"2026-03-05": "shots_from:\n  - {file: ../s.csv}"})
    (tmp_path / "students" / ID / "s.csv").write_text(text, encoding="utf-8")
    (tmp_path / "academy.yaml").write_text((tmp_path / "academy.yaml").read_text() + source, encoding="utf-8")
    (report,) = tell_folder(load(tmp_path))
    assert [(f.metric, f.value, len(f.swings)) for f in report.findings] == [("spin", 6000.0, 5)]


def test_what_stands_among_the_shots_is_not_listed_again(tmp_path):
    report = lesson(tmp_path, table(SHOT))
    listed = {finding.metric for finding in report.findings if finding.listed}
    among = {"carry", "side", "start-direction", "curve", "strike-across", "strike-up"}
    assert set(of(report)) - listed == among
    assert report.summary == "We measured 10 things: 10 shown and not judged."


def test_what_is_followed_is_listed_though_it_stands_among_the_shots(tmp_path):
    report = lesson(tmp_path, table(SHOT), more="follow: [curve, face-to-path]")
    assert report.followed == ("curve", "face-to-path")
    assert {"curve", "face-to-path"} <= {finding.metric for finding in report.findings if finding.listed}


def test_a_target_judges_it_and_makes_it_a_priority(tmp_path):
    target = f"{ADULT}\ntargets: [{{metric: face-to-path, low: -4, high: 4, unit: deg, reason: Agreed.}}]"
    wild = SHOT | {"face-angle": 6.0, "side": -6.0, "start-direction": 4.0}
    report = lesson(tmp_path, table(wild), student=target)
    assert of(report)["face-to-path"].verdict == "above range"
    assert report.priorities[0].headline == "Bring face and path closer, the face less open"
    assert all(chain.ends[0].part != "body" for chain in report.behind)


def test_three_dates_have_a_course(tmp_path):
    days = ("2026-03-05", "2026-03-12", "2026-03-19")
    report = lessons(tmp_path, {day: table(SHOT) for day in days})[-1]
    assert of(report)["club-path"].course.lessons == 3


@pytest.mark.parametrize(
    ("entry", "how"),
    [
        (", device: another radar", "by another device"),
        (", surface: turf", "from another kind of ground"),
    ],
)
def test_another_device_or_ground_is_not_held_against_it(tmp_path, entry, how):
    days = ("2026-03-05", "2026-03-12")
    lessons(tmp_path, {day: table(SHOT) for day in days})
    first = tmp_path / "students" / ID / "lessons" / f"{days[0]}.yaml"
    first.write_text(first.read_text().replace(".csv", f".csv{entry}"), encoding="utf-8")
    last = tell_folder(load(tmp_path))[-1]
    assert of(last)["club-path"].change is None
    (series,) = [one for one in last.progress if one.metric == "club-path"]
    assert series.says == f"We do not compare with 5 March, when it was measured {how}."


def test_values_of_club_and_ball_are_held_against_the_very_same_club_alone(tmp_path):
    sheets = {
        f"2026-03-{day}": sheet(reading("carry", 140, "m") + reading("pelvis-open-impact", 40), f"club: {club}\n")
        for day, club in (("05", "5-iron"), ("12", "7-iron"))
    }
    found = of(tell_folder(load(write_academy(tmp_path, sheets)))[-1])
    assert found["carry"].not_compared.club == "5-iron"
    assert found["pelvis-open-impact"].change is not None


def test_a_typed_number_wins_and_the_table_stands_beside_it(tmp_path):
    report = lesson(tmp_path, table(SHOT), readings=reading("launch-angle", 12.0))
    launch = of(report)["launch-angle"]
    assert (launch.value, launch.also[0].value) == (12.0, pytest.approx(17.0))
    assert [remark.code for remark in launch.remarks] == ["ways differ"]


def test_a_typed_number_of_a_device_is_as_sure_as_the_academy_says(tmp_path):
    write_academy(tmp_path, {"2026-03-05": sheet(reading("face-angle", 2.0) + reading("carry", 160.0, "m"))})
    written = (tmp_path / "academy.yaml").read_text() + "shot_u: {face_deg: 0.4, carry_percent: 5}\n"
    (tmp_path / "academy.yaml").write_text(written, encoding="utf-8")
    (report,) = tell_folder(load(tmp_path))
    assert finding_of(report, "face-angle").u == pytest.approx(0.4)
    assert finding_of(report, "carry").u == pytest.approx(8.0)


def test_the_metrics_are_by_default_as_sure_as_the_academys_devices():
    """One assumption, written in two places; shares are of the number that the metric's source names."""
    error, metrics = ShotError(), library().metrics
    both = {
        "face-angle": error.face_deg, "club-path": error.path_deg, "attack-angle": error.attack_deg,
        "dynamic-loft": error.loft_deg, "start-direction": error.start_deg, "launch-angle": error.launch_deg,
        "strike-across": error.strike_mm, "strike-up": error.strike_mm,
        "face-to-path": hypot(error.face_deg, error.path_deg), "loft-to-path": hypot(error.loft_deg, error.attack_deg),
        "carry": 150 * error.carry_percent / 100, "side": 150 * error.side_percent / 100,
        "spin": 6000 * error.spin_percent / 100, "height": 30 * error.height_percent / 100,
    }  # fmt: skip
    assert {name: metrics[name].uncertainty.sensor for name in both} == pytest.approx(both, abs=0.005)


def test_what_a_metric_is_called_by_and_a_column_is_the_same_word_in_units_that_convert():
    named = [name for name in library().metrics if name in UNIT_OF]
    assert {name: library().metrics[name].unit for name in named} == {name: UNIT_OF[name] for name in named}


def test_what_the_last_table_gave_is_not_missed_where_there_is_none_today(tmp_path):
    lessons(tmp_path, {"2026-03-05": table(SHOT)})
    today = tmp_path / "students" / ID / "lessons" / "2026-03-12.yaml"
    today.write_text(
        f"student: {ID}\ndate: 2026-03-12\nclub: 7-iron\n{sheet(reading('pelvis-open-impact', 45))}", encoding="utf-8"
    )
    assert tell_folder(load(tmp_path))[-1].missing == ()


def test_a_history_has_a_line_for_each_of_them(tmp_path):
    report = lesson(tmp_path, table(SHOT))
    rows = {row["metric"]: row for row in csv.DictReader(StringIO(history_csv([report]), newline=""))}
    assert set(rows) == set(of(report))
    assert (float(rows["face-to-path"]["value"]), rows["face-to-path"]["unit"]) == (pytest.approx(4.0), "deg")


def test_a_reader_of_imperial_units_reads_yards_and_keeps_millimetres(tmp_path):
    found = of(lesson(tmp_path, table(SHOT), student=f"{ADULT}\nunits: imperial"))
    assert (found["carry"].unit, found["strike-across"].unit, found["low-point"].unit) == ("yd", "mm", "in")


def test_300_shots_of_all_columns_are_judged_in_less_than_30_ms_more_than_none(tmp_path):
    ends = tuple((k * 7 % 13 - 6) / 3 for k in range(300))
    lessons(tmp_path / "shots", {"2026-03-05": table(SHOT, ends)})
    write_academy(tmp_path / "none", {"2026-03-05": ""})
    least = {}
    for name in ("none", "shots"):
        folder, times = load(tmp_path / name), []
        for _ in range(9):
            begin = process_time()
            reports_of(folder.students[ID], sound(folder))
            times.append(process_time() - begin)
        least[name] = min(times)
    assert least["shots"] - least["none"] < 0.030
