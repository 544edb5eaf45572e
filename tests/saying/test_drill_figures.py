"""What a figure shows is told in sentences made from the same data as the drawing."""

from typing import get_args

import pytest

from reportgen.records.content import Drill
from reportgen.records.drill_figures import Base, DrillFigure, HandsAt, Held, Part, Thing, Way
from reportgen.saying.drill_figures import of_figure, told_figures
from tests.content.shipped import DRILLS, each_drill
from tests.posing.shipped import base, each_figure

NAMES = {"lead-pocket": "lead back pocket", "trail-pocket": "trail back pocket", "club": "clubhead"}


@each_figure
def test_every_thing_and_every_ring_of_a_figure_is_named(figure: DrillFigure) -> None:
    said = of_figure(figure)
    assert [thing.what for thing in figure.things if thing.what not in said] == []
    for part in figure.feel:
        assert f"the {NAMES.get(part, part.replace('-', ' '))}" in said
    assert said.count("ring is round") == bool(figure.feel)
    assert said.count("rrow point") == len(figure.moves)


@each_figure
def test_a_heel_in_the_air_is_told(figure: DrillFigure) -> None:
    assert ("The lead heel is off the ground." in of_figure(figure)) == bool(figure.lead_foot.heel)


@pytest.mark.parametrize("pose", get_args(Base))
@pytest.mark.parametrize("seen", ["face-on", "down-the-line", "above"])
def test_every_pose_and_side_has_a_sentence(pose: str, seen: str) -> None:
    first, second, *_ = of_figure(base(pose, seen=seen)).split(". ")
    assert first.startswith("Seen")
    assert second.startswith(("The player", "The hands"))


@pytest.mark.parametrize("at", [at for at in get_args(HandsAt) if at != "club"])
def test_every_place_of_the_hands_has_a_sentence(at: str) -> None:
    both = of_figure(base("upright", hands=at))
    one = of_figure(base("upright", lead_hand=at, trail_hand="hanging" if at != "hanging" else "hip"))
    assert "and" in both.lower() or "arm" in both
    assert "The lead hand" in one or "The lead arm" in one


@pytest.mark.parametrize("held", [held for held in get_args(Held) if held != "nothing"])
def test_what_is_held_is_told(held: str) -> None:
    assert held in of_figure(base("address", holds=held))


@pytest.mark.parametrize("part", get_args(Part))
@pytest.mark.parametrize("to", get_args(Way))
def test_every_part_can_be_felt_and_can_move(part: str, to: str) -> None:
    said = of_figure(base("address", feel=[part], moves=[{"part": part, "to": to}]))
    assert said.count(NAMES.get(part, part.replace("-", " "))) >= 2


@pytest.mark.parametrize("what", [what for what in get_args(Thing) if what not in ("wall", "mirror", "chair")])
def test_every_thing_has_a_name(what: str) -> None:
    assert what in of_figure(base("address", things=[{"what": what}]))


@pytest.mark.parametrize("what", ["wall", "mirror"])
@pytest.mark.parametrize(
    ("side", "said"),
    [("ahead", "in front"), ("behind", "behind"), ("lead", "on the lead side"), ("trail", "on the trail side")],
)
def test_a_wall_is_told_with_its_side(what: str, side: str, said: str) -> None:
    assert f"a {what} {said}" in of_figure(base("upright", things=[{"what": what, "side": side, "away": 60}]))


@pytest.mark.parametrize(
    ("toward", "ahead", "said"),
    [(50, 0, "on the lead side"), (-50, 10, "on the trail side"), (0, -47, "behind"), (0, 60, "in front")],
)
def test_a_chair_is_told_where_it_is_and_not_where_its_back_is(toward: int, ahead: int, said: str) -> None:
    chair = {"what": "chair", "toward": toward, "ahead": ahead, "side": "ahead"}
    assert f"a chair {said}" in of_figure(base("upright", things=[chair]))


def test_a_turn_is_told_away_from_the_target_or_towards_it() -> None:
    assert "The belt is turned 40° away from the target." in of_figure(base("address", belt=40))
    assert "The belt is turned 40° towards the target." in of_figure(base("address", belt=-40))


@each_drill
def test_the_line_below_a_figure_is_a_step_or_a_mistake_of_the_drill(drill: Drill) -> None:
    for told, figure in zip(told_figures(drill), drill.figures, strict=True):
        section = "Steps" if figure.step else "Common mistakes"
        shown = figure.step or figure.mistake
        assert (told.says is None) == (shown is None)
        assert told.says is None or told.says in drill.sections[section]


def test_a_line_that_a_translation_does_not_have_is_left_out() -> None:
    drill = next(one for one in DRILLS if one.id == "seat-on-the-wall")
    short = drill.model_copy(update={"sections": {"Steps": "1. Turn."}})
    assert [told.says for told in told_figures(short)] == [None, "Turn.", None]
