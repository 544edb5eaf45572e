"""What a drill says it asks of a body, held against its own text: swing, ball, ground, places that work, things."""

import re

import pytest

from reportgen.records.content import Drill
from reportgen.records.skipping import SORE_FROM
from reportgen.records.words import Site
from tests.content.shipped import DRILLS, PRIORITIES, each_common, each_drill, each_priority, serving

ARMS: set[Site] = {"lead-wrist", "trail-wrist", "lead-elbow", "trail-elbow"}

THINGS = {
    "club": r"club|irons?|wedges?",
    "putter": r"putter",
    "ball": r"balls?|putts?|chips?|toss",
    "tee": r"tees?",
    "towel": r"towel",
    "chair": r"chair",
    "wall": r"wall",
    "mirror": r"mirror",
    "alignment-stick": r"stick",
    "coin": r"coin",
    "two-scales": r"scales?",
    "paper": r"paper",
}
"""The words of a text by which it speaks of a thing."""

NOT_THE_THING = re.compile(
    r"as if (you|they) held a club|as for an? [\w ]+|as you would for an? [\w ]+|two club lengths|(no|without a) ball"
    r"|ball['’]s place|(the )?ball of the foot|where the ball would be|middle of the club|handle of a club"
    r"|club['’]s place|toward the ball",
)


def told(drill: Drill) -> str:
    """What is set up and done."""
    return NOT_THE_THING.sub("", f"{drill.sections['Set-up']} {drill.sections['Steps']}".lower())


def left_out_for(drill: Drill) -> set[Site]:
    return {*drill.loads, *(sore.site for sore in drill.skip_if.hurts)}


@each_drill
def test_swing_and_ground_are_said_of_every_drill(drill: Drill) -> None:
    assert drill.swing is not None
    assert drill.ground is not None


@each_drill
def test_a_ball_that_is_no_putt_is_struck_off_the_ground(drill: Drill) -> None:
    if drill.ball:
        assert drill.ground == (drill.kinds != ("putting",))


@each_drill
def test_a_club_that_brushes_grass_or_sand_meets_the_ground(drill: Drill) -> None:
    if re.search(r"\bbrush(es|ed)? (the|of) grass|\bsole brush|\bsand\b", drill.aim + told(drill)):
        assert drill.ground


@each_drill
def test_a_club_that_meets_ground_or_ball_is_left_out_for_every_sore_wrist_and_elbow(drill: Drill) -> None:
    if drill.ground:
        assert left_out_for(drill) >= ARMS


@each_drill
def test_the_height_of_the_hands_is_the_size_of_the_swing(drill: Drill) -> None:
    """What the steps say the hands do; `arms` that swing without a club are no swing."""
    steps = drill.sections["Steps"].lower()
    if drill.swing == "small":
        assert not re.search(r"chest height|to the top", steps)
    if drill.swing == "none":
        assert not re.search(r"\bswing (back|through|down|from|to)\b", steps)
    if drill.swing == "full":
        assert re.search(r"\bthe target\b|full end|finish|to the top|finish the turn", steps)


@each_drill
def test_a_place_stands_once_in_what_a_drill_loads_and_whom_it_hurts(drill: Drill) -> None:
    assert not set(drill.loads) & {sore.site for sore in drill.skip_if.hurts}


@each_drill
def test_a_site_counts_as_sore_where_the_holds_begin(drill: Drill) -> None:
    assert {sore.at_least for sore in drill.skip_if.hurts} <= {SORE_FROM}


@pytest.mark.parametrize("thing", THINGS)
@each_drill
def test_what_the_text_takes_in_hand_the_drill_says_it_needs(drill: Drill, thing: str) -> None:
    speaks = re.search(rf"\b({THINGS[thing]})\b", told(drill))
    if speaks and not (thing == "ball" and not drill.ball and "ball" not in drill.equipment):
        assert thing in drill.needs or (thing == "club" and "putter" in drill.needs)


@each_drill
def test_what_a_drill_needs_its_text_takes_in_hand(drill: Drill) -> None:
    unsaid = [thing for thing in drill.needs if not re.search(rf"\b({THINGS[thing]})\b", told(drill))]
    assert [thing for thing in unsaid if thing not in ("club", "putter", "ball")] == []


@each_drill
def test_no_empty_hands_need_a_club(drill: Drill) -> None:
    if re.search(r"empty hands|hands are empty|arms crossed|cross your arms", drill.sections["Set-up"].lower()):
        assert not {"club", "putter"} & set(drill.needs)


@pytest.mark.parametrize("site", ["low-back", "lead-knee", "lead-wrist", "trail-hip"])
@each_common
def test_common_priorities_keep_a_drill_where_a_place_is_sore(metric: str, when: str, site: Site) -> None:
    assert [drill.id for drill in serving(metric, when) if site not in left_out_for(drill)]


@each_priority
def test_every_priority_keeps_a_drill_for_one_who_hits_no_ball(metric: str, when: str) -> None:
    assert [drill.id for drill in serving(metric, when) if not drill.ball and not drill.ground]


@pytest.mark.parametrize("metric", sorted({m for m, _ in PRIORITIES if not m.startswith(("putt", "chip", "tempo"))}))
def test_what_is_worked_on_keeps_a_drill_without_any_swing(metric: str) -> None:
    drills = [d for d in DRILLS if d.swings == "none" and any(s.metric == metric for s in d.serves)]
    assert drills
