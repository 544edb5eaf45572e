"""What a table of shots gives itself away by, and what is told of it by line."""

from datetime import date
from time import process_time
from typing import Any

import pytest

from reportgen.judging.shot_doubts import correlation, curve_of
from reportgen.judging.shot_groups import groups_of
from reportgen.judging.shot_remarks import shot_remarks
from reportgen.records.shot_remarks import ShotRemark
from reportgen.records.shot_table import LeftOut, Shot, ShotTable
from reportgen.records.tables import ColumnOf, ShotsFrom
from reportgen.sheets.shot_tables import Asked, shots_in
from tests.judging.shot_tables import FILE, WEIGHT, drawn, table

DAY = date(2026, 3, 5)


def remarks(*tables: ShotTable) -> list[ShotRemark]:
    return list(shot_remarks(tables, DAY))


def codes(*tables: ShotTable) -> list[str]:
    return [remark.code for remark in remarks(*tables)]


def lines(code: str, *tables: ShotTable) -> list[int]:
    return [at.line for remark in remarks(*tables) if remark.code == code for at in remark.at]


def test_a_sound_table_has_no_remark() -> None:
    assert codes(table(drawn(14, 3))) == []


@pytest.mark.parametrize(
    ("turned", "words"),
    [
        ({"face_angle": -1.0}, [("start-direction", "face-angle")]),
        ({"spin_axis": -1.0}, [("spin-axis", "curve")]),
        ({"club_path": -1.0, "face_angle": -1.0}, [("start-direction", "face-angle"), ("face-to-path", "curve")]),
    ],
)
def test_a_column_whose_sign_is_wrong_is_doubted(turned: dict[str, float], words: list[tuple[str, str]]) -> None:
    doubted = [remark for remark in remarks(table(drawn(14, 3, **turned))) if remark.code == "sign doubted"]
    assert [remark.words for remark in doubted] == words
    assert all(remark.figures["r"] < -0.6 and remark.figures["shots"] == 14 for remark in doubted)


def test_of_seven_shots_no_sign_is_doubted() -> None:
    assert codes(table(drawn(7, 3, spin_axis=-1.0))) == []
    assert codes(table(drawn(8, 3, spin_axis=-1.0))) == ["sign doubted"]


def test_the_signs_of_a_device_are_looked_at_over_its_clubs() -> None:
    shots = [{**shot, "club": f"{6 + n % 2}-iron"} for n, shot in enumerate(drawn(12, 3, spin_axis=-1.0))]
    assert codes(table(shots)) == ["sign doubted", "clubs apart"]


def test_sound_signs_are_hardly_ever_doubted() -> None:
    doubted = sum("sign doubted" in codes(table(drawn(10, seed))) for seed in range(300))
    assert doubted <= 1


@pytest.mark.parametrize("places", [1, 2])
def test_a_face_that_was_computed_from_the_ball_is_found(places: int) -> None:
    found = [remarks(table(drawn(8, seed, computed=True, places=places), places)) for seed in range(100)]
    computed = [told[0] for told in found if told and told[0].code == "face computed"]
    assert len(computed) >= 97
    assert all(remark.figures["face"] == pytest.approx(WEIGHT, abs=0.1) for remark in computed)
    assert all(remark.figures["residual"] <= 2 * 10**-places for remark in computed)


def test_a_face_that_was_measured_is_hardly_ever_taken_for_computed() -> None:
    taken = sum("face computed" in codes(table(drawn(8, seed, noise=0.6))) for seed in range(500))
    assert taken <= 2


@pytest.mark.parametrize(
    ("n", "places"), [(7, 1), (12, 0)], ids=["seven shots", "whole degrees"]
)  # fmt: skip
def test_a_computed_face_is_not_told_where_nothing_can_tell_it(n: int, places: int) -> None:
    assert "face computed" not in codes(table(drawn(n, 3, computed=True, places=places), places))


def test_putts_that_all_start_straight_tell_of_no_face() -> None:
    straight = [{"start_direction": 0.1 * (n % 2), "face_angle": 0.1 * (n % 3), "club_path": 0.1} for n in range(12)]
    assert codes(table(straight)) == []


def test_a_face_computed_with_a_weight_for_each_club_is_found_by_club() -> None:
    first, second = drawn(8, 1, computed=True), drawn(8, 2, computed=True)
    for shot in second:
        shot["face_angle"] = round((shot["start_direction"] - 0.4 * shot["club_path"]) / 0.6, 1)
    told = remarks(table([{**shot, "club": "driver"} for shot in first] + second))
    assert [(one.code, one.club) for one in told if one.code == "face computed"] == [
        ("face computed", "driver"),
        ("face computed", "7-iron"),
    ]


@pytest.mark.parametrize(
    ("code", "shot", "wrong"),
    [
        ("difference off", {"face_angle": 2.1, "club_path": -3.2, "face_to_path": 5.4}, {"face_to_path": 5.6}),
        ("ratio off", {"ball_speed": 50.3, "clubhead_speed": 36.4, "speed_ratio": 1.4}, {"speed_ratio": 1.5}),
        ("spins off", {"back_spin": 3000.0, "side_spin": -400.0, "spin": 3026.5}, {"spin": 3400.0}),
    ],
)
def test_columns_that_do_not_agree_within_rounding_are_told_by_line(
    code: str, shot: dict[str, float], wrong: dict[str, float]
) -> None:
    assert codes(table([shot, shot])) == []
    assert lines(code, table([shot, {**shot, **wrong}])) == [3]


@pytest.mark.parametrize(
    "shot", [{"speed_ratio": 1.54}, {"ball_speed": 77.0, "clubhead_speed": 50.0}], ids=["as told", "from the speeds"]
)
def test_a_ball_faster_than_a_club_makes_it_is_told_by_line(shot: dict[str, float]) -> None:
    assert lines("ratio too high", table([{"speed_ratio": 1.53}, shot], 2)) == [3]


def test_mishits_are_counted_by_club_and_stay() -> None:
    carries = [{"carry": carry} for carry in (140.0, 138.0, 95.0, 142.0, 139.0)]
    wedge = {"carry": 60.0, "club": "sand-wedge"}
    both = table([*carries, wedge])
    assert lines("mishits", both) == [4]
    assert [len(group.shots) for group in groups_of([both])] == [5, 1]


@pytest.mark.parametrize(
    ("other", "code"),
    [({"device": "net"}, "devices apart"), ({"club": "driver"}, "clubs apart"), ({"surface": "mat"}, "surfaces apart")],
)
def test_two_devices_two_clubs_mat_and_turf_are_never_pooled(other: dict[str, Any], code: str) -> None:
    one = {"carry": 140.0, "device": "dome", "surface": "turf"}
    two = table([one, {**one, **other}, one])
    assert [[shot.line for shot in group.shots] for group in groups_of([two])] == [[2, 4], [3]]
    assert codes(two) == [code]


def test_shots_of_one_kind_in_two_tables_are_one_group() -> None:
    first, second = table([{"carry": 140.0}]), table([{"carry": 150.0}], file="students/mara-l/more.csv")
    (group,) = groups_of([first, second])
    assert [shot.file for shot in group.shots] == [FILE, "students/mara-l/more.csv"]


def test_estimated_spin_among_measured_is_counted_and_told_by_line() -> None:
    sources = [{"spin": 6000.0, "spin_source": source} for source in ("measured", "estimated", "measured")]
    (remark,) = remarks(table(sources))
    assert remark.code == "spin estimated"
    assert remark.figures == {"shots": 3, "measured": 2, "estimated": 1}
    assert [at.line for at in remark.at] == [3]


@pytest.mark.parametrize(
    ("more", "code", "at"),
    [
        ({"blanks": {"spin": (2, 3)}}, "blank cells", [2, 3]),
        ({"left_out": (LeftOut(line=9, why="mean"),)}, "summed up", [9]),
        ({"left_out": (LeftOut(line=7, why="no number"), LeftOut(line=8, why="not numbered"))}, "no shot", [7, 8]),
        ({"unread_dates": (3,)}, "day not read", [3]),
        ({"absent": ("side",)}, "column absent", [1]),
    ],
)
def test_what_reading_left_open_is_told_by_line(more: dict[str, Any], code: str, at: list[int]) -> None:
    assert lines(code, table([{"carry": 140.0}], **more)) == at


def test_a_shot_of_another_day_is_told_and_stays() -> None:
    two = table([{"carry": 140.0, "day": DAY}, {"carry": 141.0, "day": date(2026, 3, 4)}])
    assert lines("other day", two) == [3]


def test_the_curve_is_the_distance_from_the_start_line() -> None:
    shot = Shot(file=FILE, line=2, club="7-iron", side=6.0, carry=150.0, start_direction=-2.0)
    assert curve_of(shot) == pytest.approx(11.2381, abs=1e-4)


def test_a_correlation_is_one_for_a_line_and_none_where_nothing_varies() -> None:
    assert correlation([(0.0, 1.0), (1.0, 3.0), (2.0, 5.0)]) == pytest.approx(1.0)
    assert correlation([(0.0, 1.0), (1.0, 1.0), (2.0, 1.0)]) is None


def test_three_hundred_shots_are_read_and_looked_through_in_30_ms() -> None:
    """The least processor time of several runs."""
    lines = [f"7i;{';'.join(str(value) for value in shot.values())}" for shot in drawn(300, 3)]
    names = list(drawn(1, 3)[0])
    columns = {"club": ColumnOf(column="Stick")} | {
        name.replace("_", "-"): ColumnOf(
            column=name,
            unit="m" if name in ("carry", "side") else "deg",
            plus=None if name == "carry" else "trail side",
        )
        for name in names
    }
    raw = "\n".join([";".join(("Stick", *names)), *lines]).encode()
    asked = Asked(ShotsFrom(file="shots.csv"), columns, False, "left", "driver")
    took = []
    for _ in range(7):
        began = process_time()
        made, faults = shots_in(raw, FILE, asked)
        remarks(made)
        took.append(process_time() - began)
    assert (len(made.shots), faults) == (300, [])
    assert min(took) < 0.030


def test_columns_that_say_the_same_are_not_doubted() -> None:
    same = [{"start_direction": float(k), "face_angle": float(k)} for k in range(9)]
    assert codes(table(same)) == []
