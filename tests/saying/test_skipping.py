"""Who leaves a drill out, in words made of the data that the plan goes by."""

import pytest

from reportgen.records.content import Drill
from reportgen.saying.skipping import leave_out_if


def drill(**changed):
    front = {"id": "own", "title": "Own", "aim": "Turns.", "dose": "2 x 8", "feel": "Turn.", "source": "our own"}
    serves = [{"metric": "pelvis-open-impact", "when": "below"}]
    return Drill.model_validate({**front, "serves": serves, "ball": False, **changed})


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({}, None),
        ({"loads": ["low-back"]}, "Your low back hurts more than a little, or is being watched."),
        (
            {"loads": ["lead-knee", "trail-knee", "lead-hip"]},
            "Your lead hip or a knee hurts more than a little, or is being watched.",
        ),
        ({"skip_if": {"hurts": ["neck"]}}, "Your neck hurts more than a little."),
        ({"skip_if": {"hurts": [{"site": "neck", "at_least": 1}]}}, "Your neck hurts at all."),
        ({"skip_if": {"hurts": [{"site": "neck", "at_least": 5}]}}, "Your neck hurts 5 out of 10 or more."),
        (
            {"skip_if": {"conditions": ["unsteady", "turning-hurts"]}},
            "You feel unsteady on your feet. Turning hurts, even slowly.",
        ),
        ({"skip_if": "Your big toe hurts."}, "Your big toe hurts."),
    ],
)
def test_the_sentence_follows_from_the_data(changed, says):
    assert leave_out_if(drill(**changed)) == says


def test_a_place_is_named_once():
    with pytest.raises(ValueError, match="names neck twice"):
        drill(skip_if={"hurts": ["neck", {"site": "neck", "at_least": 1}]})


def test_what_a_drill_needs_follows_from_its_swing_and_its_ball():
    assert drill(swing="none", equipment=["mirror"]).needs == ("mirror",)
    assert drill(swing="half", ball=True, equipment=["tee"]).needs == ("club", "ball", "tee")
    assert drill(swing="small", ball=True, kinds=["putting"]).needs == ("putter", "ball")


def test_what_a_drill_does_not_say_is_taken_for_the_most_it_can_be():
    unsaid = drill(ball=True)
    assert (unsaid.swings, unsaid.meets_ground) == ("full", True)
    putt = drill(ball=True, kinds=["putting"])
    assert (putt.swings, putt.meets_ground) == ("small", False)
