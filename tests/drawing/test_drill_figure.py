"""The figures of drills as drawn: inside their frame, the lead side filled, mirrored for left-handers, and small."""

import re
from functools import cache

import pytest

from reportgen.drawing.drill_figure import drill_figures, figure_plate, place_of
from reportgen.drawing.figure_view import LEAD, SCALE, View, extent
from reportgen.drawing.plate import Blob, Disc, Plate, Way
from reportgen.drawing.saving import to_png
from reportgen.drawing.style import FEEL, MUTED, PAPER
from reportgen.posing.solving import posed
from reportgen.records.content import Drill
from reportgen.records.drill_figures import DrillFigure
from reportgen.records.words import Side
from reportgen.saying.drill_figures import told_figures
from tests.content.shipped import DRILLS, each_drill
from tests.posing.shipped import base, each_figure

SIZE = 6_000
"""Bytes of one figure."""
each_hand = pytest.mark.parametrize("plays", ["right", "left"])
drawn = cache(figure_plate)


def filled(plate: Plate, colour: str) -> list[Blob]:
    return [part for part in plate.drawn if isinstance(part, Blob) and part.look.fill == colour]


def middle(blobs: list[Blob]) -> float:
    """How far to the right the discs of some shapes lie, in the mean."""
    places = [arc.centre[0] for blob in blobs for arcs in blob.outlines for arc in arcs]
    return sum(places) / len(places)


def target_of(plate: Plate) -> float:
    """Where the point of the arrow on the ground is, from the left."""
    (head,) = (
        part for part in plate.drawn if isinstance(part, Way) and part.look.fill == MUTED and len(part.places) == 3
    )
    return head.places[1][0]


@each_drill
def test_a_drill_has_one_to_three_figures_and_begins_with_how_it_is_done(drill: Drill) -> None:
    assert 1 <= len(drill.figures) <= 3
    assert drill.figures[0].mistake is None


@each_hand
@each_drill
def test_nothing_of_a_figure_is_outside_its_frame_and_it_is_small(drill: Drill, plays: Side) -> None:
    for drawing in drill_figures(told_figures(drill), plays):
        assert len(drawing.svg.encode()) < SIZE
        assert drawing.width_pt < 260
        assert drawing.height_pt < 190


@each_figure
def test_the_frame_holds_all_that_is_drawn(figure: DrillFigure) -> None:
    left, low, right, top = extent(drawn(figure, "right"))
    for part in drawn(figure, "right").drawn:
        discs = [(arc.centre, arc.radius) for arcs in part.outlines for arc in arcs] if isinstance(part, Blob) else []
        discs += [(part.centre, part.radius)] if isinstance(part, Disc) else []
        discs += [(place, 0.0) for place in part.places] if isinstance(part, Way) else []
        for (x, y), r in discs:
            assert left - 1e-6 <= x - r
            assert x + r <= right + 1e-6
            assert low - 1e-6 <= y - r
            assert y + r <= top + 1e-6


@each_figure
def test_a_left_handed_player_is_the_mirror_image(figure: DrillFigure) -> None:
    right, left = extent(drawn(figure, "right")), extent(drawn(figure, "left"))
    assert left == pytest.approx((-right[2], right[1], -right[0], right[3]))
    for part, other in zip(drawn(figure, "right").drawn, drawn(figure, "left").drawn, strict=True):
        if isinstance(part, Disc) and isinstance(other, Disc):
            assert other.centre == pytest.approx((-part.centre[0], part.centre[1]))
        if isinstance(part, Blob) and isinstance(other, Blob):
            assert middle([other]) == pytest.approx(-middle([part]), abs=0.5)


@each_hand
@pytest.mark.parametrize("pose", ["address", "upright", "chip", "putt", "sitting"])
def test_the_lead_limbs_are_the_filled_ones_and_on_the_side_of_the_target(pose: str, plays: Side) -> None:
    plate = drawn(base(pose, hands="hanging"), plays)
    lead, trail = middle(filled(plate, LEAD)), middle(filled(plate, PAPER))
    assert (lead > trail) == (target_of(plate) > 0) == (plays == "right")


@each_hand
@each_figure
def test_a_ring_is_round_the_part_that_it_names(figure: DrillFigure, plays: Side) -> None:
    plate, found = drawn(figure, plays), posed(figure)
    rings = [part for part in plate.drawn if isinstance(part, Disc) and part.look.edge == FEEL]
    named = [part for part in figure.feel if part != "belt"]
    places = [View(figure.seen, plays).at(place_of(part, found)) for part in named]
    assert [ring.centre for ring in rings] == places
    for part, ring in zip(named, rings, strict=True):
        side = part.split("-")[0]
        if side in ("lead", "trail"):
            joints = [point for name, point in found.body.items() if name.startswith(side)]
            near = min(abs(complex(*View(figure.seen, plays).at(joint)) - complex(*ring.centre)) for joint in joints)
            assert near < 0.13 * SCALE


def test_a_ring_is_dashed_where_a_mistake_is_shown() -> None:
    rings = [
        part.look.dashes
        for figure in (base("address", feel=["head"]), base("address", feel=["head"], mistake=1))
        for part in drawn(figure, "right").drawn
        if isinstance(part, Disc) and part.look.edge == FEEL
    ]
    assert [bool(dashes) for dashes in rings] == [False, True]


@pytest.mark.parametrize(("to", "way"), [("target", 1), ("away", -1)])
@each_hand
def test_an_arrow_points_where_it_says(to: str, way: int, plays: Side) -> None:
    plate = drawn(base("address", moves=[{"part": "lead-hip", "to": to}]), plays)
    (shaft,) = (part for part in plate.drawn if isinstance(part, Way) and part.look.edge == FEEL)
    assert (shaft.places[1][0] - shaft.places[0][0]) * way * (1 if plays == "right" else -1) > 0


@pytest.mark.parametrize("side", ["lead", "trail"])
@each_hand
def test_a_chair_on_a_side_is_drawn_on_that_side(side: str, plays: Side) -> None:
    toward = 80 if side == "lead" else -80
    with_chair = drawn(base("address", hands="hanging", things=[{"what": "chair", "toward": toward}]), plays)
    left, _, right, _ = extent(with_chair)
    assert (abs(right) > abs(left)) == ((side == "lead") == (plays == "right"))


@pytest.mark.parametrize("seen", ["face-on", "down-the-line"])
def test_what_stands_on_the_ground_stands_on_the_line_of_the_ground(seen: str) -> None:
    things = [{"what": "chair", "toward": 60, "ahead": 0}, {"what": "wall", "side": "behind", "away": 60}]
    for thing in things:
        alone, both = (drawn(base("address", seen=seen, things=of), "right") for of in ([], [thing]))
        assert extent(both)[1] == pytest.approx(extent(alone)[1], abs=3.5)


def test_figures_of_a_drill_have_their_ground_on_one_line() -> None:
    (drill,) = (one for one in DRILLS if one.id == "seat-on-the-wall")
    grounds = {re.search(r'd="M[\d.]+ ([\d.]+)L', one.svg)[1] for one in drill_figures(told_figures(drill), "right")}  # type: ignore[index]
    assert len(grounds) == 1


def test_a_figure_can_be_painted_in_pixels_too() -> None:
    plate = Plate(120, 160, [])
    plate.drawn.extend(drawn(base("address"), "right").drawn)
    assert to_png(plate).startswith(b"\x89PNG")
