"""What can lie behind what the ball did: chains from the body, through the club, to the ball."""

from types import SimpleNamespace

import pytest

from reportgen.judging.causes import chains
from reportgen.records.cause_findings import BallFact, BallFacts
from reportgen.records.causes import Cause
from tests.judging.academies import judged, one, reading, sheet
from tests.judging.ball_lessons import shots, told, with_shots

OPEN_SHOULDERS = reading("thorax-open-impact", 52, u=1) + reading("pelvis-open-impact", 27, u=1)
SEAT = reading("seat-forward-impact", 12, "cm", u=0.2)
SLICE = {"start": -3.0, "face": -2.0, "path": -8.0, "carry": 150.0, "side": 16.0}


def ends(report):
    return [[end.what for end in chain.ends] for chain in report.behind]


def test_the_slice_goes_back_to_the_shoulders_through_path_and_face(tmp_path):
    report = with_shots(tmp_path, shots(**SLICE), OPEN_SHOULDERS)
    assert ends(report) == [
        ["thorax-open-impact", "path", "face-to-path", "curve"],
        ["thorax-open-impact", "path", "start"],
    ]
    assert report.behind[0].rests_on == ("what teachers hold", "geometry", "geometry")


def test_a_chain_says_its_steps_with_what_each_rests_on(tmp_path):
    report = with_shots(tmp_path, shots(**SLICE), OPEN_SHOULDERS)
    assert report.behind[0].says == (
        "Shoulders open at impact (above your range), and what it can lead to, step by step: "
        "path from outside to inside (what teachers hold); face open to the path (geometry); "
        "curve to the trail side (geometry)."
    )


def test_where_a_step_does_not_hold_is_said_once(tmp_path):
    report = with_shots(tmp_path, shots(**SLICE), OPEN_SHOULDERS)
    said = [caveat for chain in report.behind for caveat in chain.caveats]
    assert len(said) == len(set(said))
    assert said[1:3] == ["This is so if the face stays the same.", "This is so for a hit in the middle of the face."]


def test_a_left_handed_player_of_mirrored_shots_is_told_the_same(tmp_path):
    right = with_shots(tmp_path / "right", shots(**SLICE), OPEN_SHOULDERS)
    left = with_shots(tmp_path / "left", shots(**SLICE, turned=-1), OPEN_SHOULDERS, plays="left")
    assert (left.ball, left.behind, left.ball_first) == (right.ball, right.behind, right.ball_first)


def test_a_cause_on_its_other_side_leads_to_no_such_thing(tmp_path):
    closed = reading("thorax-open-impact", -30, u=1)
    assert ends(with_shots(tmp_path, shots(**SLICE), closed)) == [["face-to-path", "curve"], ["path", "start"]]


def test_without_a_body_metric_out_of_range_the_chain_begins_at_the_club(tmp_path):
    assert ends(with_shots(tmp_path, shots(**SLICE))) == [["face-to-path", "curve"], ["path", "start"]]


def test_what_was_found_otherwise_breaks_the_chain(tmp_path):
    from_inside = shots(start=3.0, face=4.0, path=8.0, carry=150.0, side=-10.0)
    report = with_shots(tmp_path, from_inside, OPEN_SHOULDERS)
    assert not any("thorax-open-impact" in chain for chain in ends(report))


def test_what_lies_between_and_was_not_looked_at_is_said_to_be_so(tmp_path):
    blank = "\n".join(",".join((*row.split(",")[:1], "", "", *row.split(",")[3:])) for row in shots(**SLICE).split())
    table = blank.replace("start,,,carry", "start,face,path,carry")
    (chain,) = [c for c in with_shots(tmp_path, table, OPEN_SHOULDERS).behind if c.ends[-1].what == "start"]
    assert [(end.name, end.where) for end in chain.ends] == [
        ("Shoulders open", "Impact"),
        ("Path from outside to inside", "Club, not measured"),
        ("Start to the lead side", "Ball"),
    ]


def test_a_side_within_twice_its_uncertainty_is_none(tmp_path):
    report = with_shots(tmp_path, shots(start=-0.5, face=-1.5, path=-1.8, carry=150.0, side=0.0))
    assert {fact.what: fact.side for fact in report.ball.facts if fact.side} == {}


def test_a_face_that_the_device_computed_explains_no_start(tmp_path):
    rows = ["start,face,path,carry,side"]
    for k in range(12):
        path, face = -4 + (k % 4) * 0.9, 3 + (k % 5) * 0.8
        rows.append(f"{0.8 * face + 0.2 * path:.2f},{face:.2f},{path:.2f},{150 + k % 3},{9 + 0.3 * (k % 4):.1f}")
    report = with_shots(tmp_path, "\n".join(rows) + "\n")
    assert report.ball.face_computed
    assert not any(chain[-2:] == ["face", "start"] for chain in ends(report))


def test_counted_strikes_tie_the_seat_to_the_heel(tmp_path):
    report = judged(tmp_path, {"2026-03-05": sheet(SEAT, "shots:\n  - {strike: {heel: 8, middle: 2}}")})[-1]
    assert ends(report) == [["seat-forward-impact", "strike-across"]]
    assert report.behind[0].rests_on == ("what teachers hold",)


def test_strikes_that_show_no_side_tie_nothing(tmp_path):
    report = judged(tmp_path, {"2026-03-05": sheet(SEAT, "shots:\n  - {strike: {heel: 4, middle: 3, toe: 3}}")})[-1]
    assert ends(report) == []


@pytest.mark.parametrize(("club", "curves"), [("driver", True), ("7-iron", False)])
def test_a_row_holds_for_its_clubs_alone(tmp_path, club, curves):
    table = "axis,across\n" + "\n".join(f"{9 + k % 3},{-14 - k % 3}" for k in range(10)) + "\n"
    columns = "{spin-axis: {column: axis, unit: deg, plus: trail side}, "
    columns += "strike-across: {column: across, unit: mm, plus: toward the toe}}"
    more = f"club: {club}\nshots_from:\n  - {{file: ../shots.csv, columns: {columns}}}\n"
    report = told(tmp_path, {"2026-03-05": sheet("", more)}, {"shots.csv": table})[-1]
    assert (["strike-across", "curve"] in ends(report)) == curves


def test_a_lesson_without_shots_has_no_chain(tmp_path):
    assert one(tmp_path, OPEN_SHOULDERS).behind == ()


ARC = "{attack-angle: {column: attack, unit: deg}, swing-plane: {column: plane, unit: deg}}"


def of_arc(root, attack, club="7-iron"):
    """What a lesson with ten shots of this attack angle finds of attack and low point: (side, value)."""
    table = "attack;plane\n" + "\n".join(f"{attack + 0.5 * (-1) ** k};60" for k in range(10)) + "\n"
    more = f"club: {club}\nshots_from:\n  - {{file: ../shots.csv, columns: {ARC}}}\n"
    report = told(root, {"2026-03-05": sheet("", more)}, {"shots.csv": table})[-1]
    return {fact.what: (fact.side, fact.value) for fact in report.ball.facts}


def test_the_low_point_is_a_fact_where_attack_and_plane_are_there(tmp_path):
    """An arc of 1.5 m in a plane of 60 deg: 4 deg down is 12 cm beyond the ball (own geometry)."""
    side, value = of_arc(tmp_path, attack=-4.0)["low-point"]
    assert (side, round(value)) == (None, 12)  # as an iron is meant to


@pytest.mark.parametrize(
    ("club", "attack", "sides"), [("7-iron", 4.0, ("above", "below")), ("driver", -4.0, ("below", "above"))]
)
def test_attack_and_low_point_have_their_unusual_side_alone(tmp_path, club, attack, sides):
    found = of_arc(tmp_path, attack, club)
    assert (found["attack"][0], found["low-point"][0]) == sides


def test_the_low_point_does_not_explain_the_attack_angle_that_it_follows_from():
    rows = [
        Cause.model_validate(
            {"id": f"{one}-{other}", "cause": {"what": one, "side": "above"}, "effect": {"what": other, "side": side},
             "basis": "geometry", "source": "invented"}
        )
        for one, other, side in (("low-point", "attack", "below"), ("attack", "start", "above"))
    ]  # fmt: skip
    rows[1] = rows[1].model_copy(update={"cause": rows[0].effect})
    body = Cause.model_validate(
        {"id": "shift", "cause": {"what": "pelvis-shift-impact", "side": "above"}, "basis": "geometry",
         "effect": {"what": "low-point", "side": "above"}, "source": "invented"}
    )  # fmt: skip
    facts = [
        BallFact(what=what, club="driver", of=10, value=1.0, u=0.1, unit="deg", side=side)
        for what, side in (("low-point", "above"), ("attack", "below"), ("start", "above"))
    ]
    out = SimpleNamespace(metric="pelvis-shift-impact", verdict="above range")
    looked, not_looked = BallFacts(facts=tuple(facts)), BallFacts(facts=tuple(facts[1:]))
    assert [len(chain.ends) for chain in chains([out], not_looked, [body, *rows], "driver")] == [4]
    assert [len(chain.ends) for chain in chains([out], looked, [body, *rows], "driver")] == [2]
