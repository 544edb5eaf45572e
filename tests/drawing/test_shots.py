"""Shots drawn: landing places from above, flights, and places on the face; as the player sees them."""

import pytest

from reportgen.drawing.club_face import strike, strike_plate, struck, struck_plate
from reportgen.drawing.flights import flights, flights_plate
from reportgen.drawing.landed import landed, landed_plate, outline
from reportgen.drawing.plate import Disc, Label, Way
from reportgen.drawing.style import EDGE, HAIR, INK, THICK
from reportgen.records.shot_findings import Ellipse
from tests.judging.academies import judged, sheet
from tests.judging.shot_academies import about, days, full, landing, told

FACE = {"heel": 3, "middle": 5, "toe": 0, "high": 0, "low": 0}


def shots(root, *tables):
    return told(root, dict(zip(days(len(tables)), tables, strict=True)))[-1].patterns[0]


def dots(plate, fill=EDGE):
    return [part for part in plate.drawn if isinstance(part, Disc) and part.look.fill == fill]


def labels(plate):
    return [part.text for part in plate.drawn if isinstance(part, Label)]


def dashed(plate):
    return [part for part in plate.drawn if isinstance(part, Way) and part.look.dashes]


def crosses(plate):
    return [part for part in plate.drawn if isinstance(part, Way) and part.look.edge == INK]


def test_each_shot_is_a_dot_and_a_mishit_a_ring(tmp_path):
    of = shots(tmp_path, [*about(11), *landing((2.0, 60.0))])
    plate = landed_plate(of, of.now, "right")
    rings = [part for part in plate.drawn if isinstance(part, Disc) and part.look.edge == INK]
    assert (len(dots(plate)), len(rings)) == (11, 1)


@pytest.mark.parametrize(("n", "lines"), [(7, 0), (8, 1)])
def test_below_eight_shots_there_are_dots_only(tmp_path, n, lines):
    of = shots(tmp_path, about(n))
    plate = landed_plate(of, of.now, "right")
    assert (len(dashed(plate)), len(crosses(plate))) == (lines, 2 * lines)


def test_the_ground_is_mirrored_for_a_left_handed_player_and_its_words_with_it(tmp_path):
    of = shots(tmp_path, about(9, side=10.0))
    right, left = (landed_plate(of, of.now, plays) for plays in ("right", "left"))
    (middle,) = {x for part in right.drawn if isinstance(part, Label) and part.text == "target" for x in [part.x]}
    mirrored = [(2 * middle - disc.centre[0], disc.centre[1]) for disc in dots(right)]
    assert [disc.centre for disc in dots(left)] == [pytest.approx(place) for place in mirrored]
    assert min(disc.centre[0] for disc in dots(right)) > middle - 1
    sides = [[text for text in labels(plate) if text.endswith("side")] for plate in (right, left)]
    assert sides == [["lead side", "trail side"], ["trail side", "lead side"]]


def test_both_days_stand_on_one_scale(tmp_path):
    of = shots(tmp_path, about(9, wide=4.0), about(9, side=20.0, wide=15.0))
    now, before = (
        [(part.text, part.baseline) for part in landed_plate(of, day, "right").drawn if isinstance(part, Label)]
        for day in (of.now, of.before)
    )
    carries = [one for one in now if one[0].endswith("\u00a0m")]
    assert carries
    assert carries == [one for one in before if one[0].endswith("\u00a0m")]


def test_everything_lies_inside_the_drawing(tmp_path):
    of = shots(tmp_path, full(20, side=-30.0, wide=25.0), full(20, side=40.0))
    for day in (of.now, of.before):
        for plate in (landed_plate(of, day, "right"), flights_plate(of, day, "left"), struck_plate(of, day, "left")):
            places = [place for part in plate.drawn if isinstance(part, Way) for place in part.places]
            places += [part.centre for part in plate.drawn if isinstance(part, Disc)]
            assert all(0 <= x <= plate.width and 0 <= y <= plate.height for x, y in places)


def test_an_outline_is_as_long_and_as_wide_as_its_ellipse():
    places = outline(Ellipse(side=0.0, carry=100.0, long=20.0, short=5.0, tilt=90.0))
    assert max(side for side, _ in places) == pytest.approx(20.0)
    assert max(carry for _, carry in places) == pytest.approx(105.0, abs=0.1)


def test_the_far_end_of_a_tilted_ellipse_is_on_its_side():
    places = outline(Ellipse(side=0.0, carry=100.0, long=20.0, short=1.0, tilt=30.0))
    assert max(places, key=lambda place: place[1])[0] > 9


def test_each_flight_is_a_line_and_the_mean_is_thick(tmp_path):
    of = shots(tmp_path, full(14))
    ways = [part for part in flights_plate(of, of.now, "right").drawn if isinstance(part, Way) and part.curved]
    assert [way.look.width for way in ways] == [HAIR] * 14 + [THICK]


def test_a_flight_leaves_along_its_start_line_and_ends_where_it_landed(tmp_path):
    rows = [{"start-direction": 3.0, "side": 0.0, "carry": 140.0}]
    of = shots(tmp_path, rows)
    way = next(part for part in flights_plate(of, of.now, "right").drawn if isinstance(part, Way) and part.curved)
    ball, handle, _, end = way.places
    assert handle[0] > ball[0]
    assert end[0] == pytest.approx(ball[0])


def test_a_flight_drawing_says_how_much_wider_it_is(tmp_path):
    of = shots(tmp_path, full(14))
    (said,) = [text for text in labels(flights_plate(of, of.now, "right")) if "×" in text]
    assert f"Drawn {said[-1]} times as wide as it is." in flights(of, of.now, "right").alt


def test_the_heel_is_on_the_players_side_seen_from_the_front():
    for plays, sign in (("right", 1), ("left", -1)):
        plate = strike_plate("7-iron", {**FACE, "heel": 4, "middle": 0}, plays, "now")
        assert all(sign * (disc.centre[0] - plate.width / 2) > 0 for disc in dots(plate, INK))


def test_counted_strikes_have_a_dot_each_and_their_number():
    plate = strike_plate("driver", FACE, "right", "now")
    assert len(dots(plate, INK)) == 8
    assert [text for text in labels(plate) if text.isdigit()] == ["3", "5"]


def test_very_many_strikes_are_counted_by_the_number_alone():
    plate = strike_plate("driver", {**FACE, "middle": 400, "heel": 0}, "right", "now")
    assert len(dots(plate, INK)) < 400
    assert "400" in labels(plate)


def test_counted_strikes_of_an_earlier_date_stand_beside(tmp_path):
    rows = ["shots: [{strike: {heel: 6, middle: 3, toe: 1}}]", "shots: [{strike: {heel: 2, middle: 8}}]"]
    lessons = judged(tmp_path, {day: sheet("", text) for day, text in zip(days(2), rows, strict=True)})
    (of,) = lessons[-1].strikes
    assert strike(of, "right").alt == (
        "Places on the face, seen from the front: of 10 shots 2 towards the heel and 8 in the middle."
    )
    assert "6 towards the heel" in strike(of, "right", before=True).alt


def test_the_words_of_a_drawing_say_what_it_shows(tmp_path):
    of = shots(tmp_path, full(14))
    for drawing, said in (
        (landed(of, of.now, "right"), of.landed_says),
        (flights(of, of.now, "right"), of.flew_says),
        (struck(of, of.now, "right"), of.struck_says),
    ):
        assert drawing.alt.endswith(" ".join(said))


@pytest.mark.parametrize("table", [landing((0.0, 0.0)), landing((3.0, 140.0)), landing(*[(1.0, 100.0)] * 9), full(1)])
def test_any_table_can_be_drawn(tmp_path, table):
    of = shots(tmp_path, table)
    assert landed(of, of.now, "right").svg.startswith("<svg")
    if of.now.flights:
        assert flights(of, of.now, "right").svg.startswith("<svg")
