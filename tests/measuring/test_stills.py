"""Readings from the stills of a lesson: what is measured, how it is told, and what is said to be missing."""

import numpy as np
import pytest

from reportgen.measuring.blur import Noise
from reportgen.measuring.stills import measure
from reportgen.records.stills import FilmLag, Still, swing_numbers
from reportgen.saying.missing import told_missing
from tests.bench.measuring import MEASURES, METRICS
from tests.judging.academies import library
from tests.measuring import figures, pinhole

FIGURE = figures.bodies(4, np.random.default_rng(30))
VIEWS = pinhole.View("face-on", 4.0, 1.1), pinhole.View("down-the-line", 4.5, 1.1, 0.3)


def lesson(*views: pinhole.View, number: int = 0, seed: int = 1, click_px: float = 3.0, **how) -> list[Still]:
    return pinhole.stills(FIGURE, number, views or VIEWS, np.random.default_rng(seed), click_px, **how)


def measured(taken: list[Still], plays: str = "right", **options):
    options.setdefault("sizes", pinhole.sizes(taken))
    readings, missing = measure(taken, METRICS, plays, **options)
    return {r.metric: r for r in readings}, {m.metric: told_missing(m, library()).says for m in missing}


def remarks(reading):
    return {remark.code for remark in reading.remarks}


def mirrored(taken: list[Still]) -> list[Still]:
    def over(place):
        return pinhole.WIDTH - place[0], place[1]

    return [
        still.model_copy(
            update={
                "marks": {name: over(place) for name, place in still.marks.items()},
                "scale": still.scale.model_copy(update={"from_": over(still.scale.from_), "to": over(still.scale.to)}),
            }
        )
        for still in taken
    ]


def without(taken: list[Still], *marks: str, view: str | None = None, checkpoint: str | None = None) -> list[Still]:
    return [
        still.model_copy(update={"marks": {n: p for n, p in still.marks.items() if n not in marks}})
        if view in (None, still.view) and checkpoint in (None, still.checkpoint)
        else still
        for still in taken
    ]


@pytest.mark.parametrize("views", [VIEWS, VIEWS[:1], VIEWS[1:]], ids=["two views", "face-on", "down the line"])
def test_a_left_handed_mirror_image_has_the_same_readings(views):
    taken = lesson(*views)
    right, _ = measured(taken)
    left, _ = measured(mirrored(taken), "left")
    for metric, reading in right.items():
        assert left[metric].value == pytest.approx(reading.value, abs=1e-9)
        assert left[metric].u == pytest.approx(reading.u, abs=1e-9)


def test_a_left_handed_player_on_film_has_the_same_values_as_the_right_handed_twin():
    right, _ = measured(lesson(click_px=0.0))
    left_views = [pinhole.View(v.view, v.distance, v.height, v.aside, plays="left") for v in VIEWS]
    left, _ = measured(lesson(*left_views, click_px=0.0), "left")
    assert {m: r.value for m, r in left.items()} == pytest.approx({m: r.value for m, r in right.items()}, abs=1e-9)


def test_the_same_sheet_gives_the_same_readings():
    assert measured(lesson()) == measured(lesson())


def test_a_picture_by_another_name_gives_the_same_readings():
    taken = lesson()
    renamed = [still.model_copy(update={"file": f"other-{still.file}"}) for still in taken]
    assert measured(renamed) == measured(taken)


def test_a_further_still_leaves_the_other_readings_as_they_were():
    taken = lesson()
    fewer, _ = measured([still for still in taken if still.checkpoint != "delivery"])
    all_readings, _ = measured(taken)
    assert {m: all_readings[m] for m in fewer} == fewer


def test_everything_is_measured_from_two_complete_views():
    readings, missing = measured(lesson())
    assert set(readings) == {measure.metric for measure in MEASURES}
    assert missing == {}
    assert {r.views for r in readings.values()} == {2}


def test_readings_come_in_the_metrics_own_unit():
    centimetres, _ = measured(lesson())
    in_inches = METRICS["lead-hip-rise"].model_copy(update={"unit": "in"})
    readings, _ = measure(lesson(), {"lead-hip-rise": in_inches}, "right", pinhole.sizes(lesson()))
    assert readings[0].value == pytest.approx(centimetres["lead-hip-rise"].value / 2.54)
    assert readings[0].u == pytest.approx(centimetres["lead-hip-rise"].u / 2.54)


def test_a_turn_from_one_view_says_so_and_is_less_sure_than_from_two():
    both, _ = measured(lesson())
    one, _ = measured(lesson(VIEWS[0]))
    assert one["pelvis-open-impact"].views == 1
    assert "one-view turn" in remarks(one["pelvis-open-impact"])
    assert one["pelvis-open-impact"].u > 1.5 * both["pelvis-open-impact"].u


def test_a_turn_near_square_from_one_view_has_an_interval_that_reaches_to_square():
    taken = lesson(VIEWS[0], checkpoints=("setup",))
    impact = [still.model_copy(update={"checkpoint": "impact", "file": "impact.png"}) for still in taken]
    readings, _ = measured([*taken, *impact])
    square = readings["pelvis-open-impact"]
    assert square.value - 1.96 * square.u <= 1.0
    assert square.value + 1.96 * square.u > 15.0


def test_a_knee_from_one_view_says_that_it_is_planar():
    readings, _ = measured(lesson(VIEWS[1]))
    assert "planar bend" in remarks(readings["lead-knee-flex-impact"])


def test_without_the_cameras_distance_the_reading_says_so_and_is_less_sure():
    known, _ = measured(lesson())
    unknown, _ = measured(lesson(distances=False))
    assert "distance unknown" in remarks(unknown["pelvis-open-impact"])
    assert unknown["pelvis-open-impact"].u > known["pelvis-open-impact"].u


def test_a_missing_mark_is_named():
    _, missing = measured(without(lesson(VIEWS[0]), "neck"))
    assert missing["side-bend-impact"] == "Needs neck marked on the face-on picture (impact)."


def test_a_missing_picture_is_named_with_the_marks_it_needs():
    _, missing = measured(lesson(VIEWS[0]))
    assert missing["seat-forward-impact"] == (
        "Needs a down-the-line picture (set-up) with seat marked and a down-the-line picture (impact) with seat marked."
    )


def scaleless(taken, *views):
    return [
        s.model_copy(update={"scale": None}) if s.view in (views or ("face-on", "down-the-line")) else s for s in taken
    ]


@pytest.mark.parametrize("views", [("face-on", "down-the-line"), ("face-on",), ("down-the-line",)])
def test_angles_need_no_scale_and_lengths_say_that_they_do(views):
    known, _ = measured(lesson())
    found, missing = measured(scaleless(lesson(), *views))
    angles = {metric for metric in known if METRICS[metric].unit == "deg"}
    assert angles <= found.keys()
    for metric in angles:
        assert found[metric].value == pytest.approx(known[metric].value, abs=0.5 * known[metric].u)
    if len(views) == 2:
        assert found.keys() == angles
        assert missing["lead-hip-rise"].startswith("Needs a scale on the ")


def test_without_hips_and_ankles_and_without_a_scale_nothing_is_measured():
    bare = without(scaleless(lesson(VIEWS[0], checkpoints=("impact",))), "lead-ankle")
    readings, missing = measured(bare)
    assert readings == {}
    assert missing["side-bend-impact"] == "Needs a scale on the face-on picture (impact)."


def test_a_still_without_a_scale_takes_the_one_of_its_view():
    taken = lesson()
    bare = [still if still.checkpoint == "setup" else still.model_copy(update={"scale": None}) for still in taken]
    assert measured(bare) == measured(taken)


def test_marks_hidden_in_one_view_leave_the_other_view():
    readings, _ = measured(without(lesson(), "neck", view="down-the-line"))
    assert readings["side-bend-impact"].views == 1


def test_places_are_not_compared_between_pictures_of_different_sizes():
    taken = lesson(VIEWS[0])
    sizes = pinhole.sizes(taken) | {"impact-face-on.png": (1080, 1920)}
    readings, missing = measured(taken, sizes=sizes)
    assert "pelvis-shift-impact" not in readings
    assert "one size" in missing["pelvis-shift-impact"]
    assert "side-bend-impact" in readings


def shifted(taken: list[Still], *names: str, by: float = 80.0) -> list[Still]:
    """The impact stills with some marks, or all of them, further to the right."""
    return [
        still.model_copy(
            update={
                "marks": {
                    name: (x + by, y) if not names or name in names else (x, y) for name, (x, y) in still.marks.items()
                }
            }
        )
        if still.checkpoint == "impact"
        else still
        for still in taken
    ]


def test_a_camera_that_moved_within_a_swing_moves_no_value_where_the_ball_is_marked():
    taken = lesson(VIEWS[0])
    steady, moved = measured(taken)[0]["pelvis-shift-impact"], measured(shifted(taken))[0]["pelvis-shift-impact"]
    assert moved.value == pytest.approx(steady.value, abs=3 * 0.3)  # two clicks on the ball
    assert moved.u > steady.u
    assert "camera moved" in remarks(moved)
    assert "camera moved" not in remarks(steady)


def test_a_move_that_is_taken_out_is_said_of_movements_alone():
    assert "camera moved" not in remarks(measured(shifted(lesson(VIEWS[0])))[0]["side-bend-impact"])


def test_a_ball_that_lies_elsewhere_in_another_swing_casts_doubt_on_movements():
    first = lesson(VIEWS[0], checkpoints=("setup",))
    second = [
        still.model_copy(update={"swing": 2}) for still in shifted(lesson(VIEWS[0], checkpoints=("impact",)), "ball")
    ]
    assert remarks(measured([*first, *second])[0]["pelvis-shift-impact"]) >= {"ball moved"}


def test_marks_from_which_nothing_follows_give_no_number():
    taken = [
        s.model_copy(update={"marks": s.marks | {"lead-hip": (960.0, 500.0), "trail-hip": (960.0, 500.0)}})
        if s.checkpoint == "setup"
        else s
        for s in lesson(VIEWS[0])
    ]
    readings, missing = measured(taken, noise=Noise(1e-9, 1e-9, 0, 0, 0, 0, 0, 0))
    assert "pelvis-open-impact" not in readings
    assert missing["pelvis-open-impact"].startswith("These marks do not fit together, so there is no value.")


def test_the_frame_rate_adds_the_time_of_the_frame_that_was_picked_to_fast_moments():
    still_, _ = measured(lesson())
    slow, _ = measured([still.model_copy(update={"fps": 30.0}) for still in lesson()])
    metric = "pelvis-open-impact"
    assert slow[metric].u ** 2 - still_[metric].u ** 2 == pytest.approx((300 / 30) ** 2 * (1 / 3 + 1 / 12))
    assert slow["pelvis-closed-top"].u == still_["pelvis-closed-top"].u


def test_the_stills_of_a_view_and_checkpoint_count_the_swings():
    taken = [*lesson(VIEWS[0], checkpoints=("setup", "impact")), *lesson(VIEWS[0], checkpoints=("impact",))]
    assert swing_numbers(taken) == (1, 1, 2)


def test_a_still_without_marks_shows_no_swing():
    first, second = lesson(VIEWS[0], checkpoints=("impact",)) * 2
    assert swing_numbers([first.model_copy(update={"marks": {}}), second]) == (0, 1)


def test_a_still_with_its_own_swing_number_keeps_it():
    first, second, third = lesson(VIEWS[0], checkpoints=("impact",)) * 3
    assert swing_numbers([first, second.model_copy(update={"swing": 1}), third]) == (2, 1, 3)


def test_swings_combine_to_their_mean():
    swings = [lesson(number=0, seed=s, click_px=1.0, placement_mm=2.0) for s in (1, 2, 3)]
    single = [measured(taken)[0]["side-bend-impact"].value for taken in swings]
    together = measured([still for taken in swings for still in taken])[0]["side-bend-impact"]
    assert together.value == pytest.approx(np.mean(single))
    assert together.swings == pytest.approx(single)


def test_more_swings_take_away_from_click_and_still_alone():
    swings = [lesson(number=0, seed=s, placement_mm=4.0) for s in range(4)]
    one = measured(swings[0])[0]["side-bend-impact"].parts
    four = measured([still for taken in swings for still in taken])[0]["side-bend-impact"].parts
    assert four.still == pytest.approx(one.still / 2, rel=0.1)
    shared = [(of.habit, of.camera, of.visit) for of in (one, four)]
    assert shared[1] == pytest.approx(shared[0], rel=0.05)


def test_a_small_error_of_the_still_never_makes_a_value_surer_than_its_habit():
    dots = Noise(click_px=0.1, still_mm=0.1)
    found, _ = measured([still for s in range(5) for still in lesson(number=0, seed=s)], noise=dots)
    reading = found["pelvis-open-impact"]
    assert reading.u > reading.parts.habit > 3.0


def test_swings_that_differ_leave_their_own_uncertainty():
    swings = [lesson(number=n, click_px=0.1) for n in range(4)]
    small = Noise(0.1, 0.1, 0, 0, 0, 0, 0, 0)
    together = measured([still for taken in swings for still in taken], noise=small)[0]["side-bend-impact"]
    assert together.u == pytest.approx(np.std(together.swings, ddof=1) / 2, rel=0.02)
    assert together.dof == pytest.approx(3, rel=0.05)


def test_a_swing_without_its_own_setup_takes_the_first_ones():
    first = lesson(VIEWS[0])
    second = lesson(VIEWS[0], seed=2, checkpoints=("impact",))
    readings, _ = measured([*first, *second])
    assert len(readings["pelvis-shift-impact"].swings) == 2


def filmed(taken: list[Still], apart: float) -> list[Still]:
    """The same from two films on one clock by sound, whose pictures of a moment are `apart` seconds by it."""
    lag = FilmLag(seconds=apart - 2.0, by="sound")
    return [
        still.model_copy(update={"time": 1.0} if still.view == "face-on" else {"time": 3.0, "lag": lag})
        for still in taken
    ]


def test_two_films_on_one_clock_are_as_sure_as_their_pictures_are_near():
    taken = lesson(*VIEWS)
    undeclared = measured(taken)[0]["pelvis-open-impact"].u
    together = measured(filmed(taken, 0.0))[0]["pelvis-open-impact"].u
    apart = measured(filmed(taken, -0.03))[0]["pelvis-open-impact"].u
    assert together < undeclared < apart


def test_how_far_pictures_are_apart_counts_at_every_moment():
    taken = lesson(*VIEWS)
    early = {metric: r.u for metric, r in measured(filmed(taken, 0.0))[0].items()}
    late = {metric: r.u for metric, r in measured(filmed(taken, 0.05))[0].items()}
    assert {metric for metric in early if late[metric] > early[metric]} >= {
        "knee-flex-transition",
        "pelvis-open-impact",
    }
