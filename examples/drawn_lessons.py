"""The lessons of the demo academy that have stills: how the golfer stood at setup, top and impact, and the captions."""

from dataclasses import dataclass, replace

from examples.golfer import Camera, Pose

CAMERAS = (Camera("face-on", distance=4.40), Camera("down-the-line", distance=4.20))
NEARER = (Camera("face-on", distance=4.10), Camera("down-the-line", distance=4.00))


@dataclass(frozen=True)
class DrawnLesson:
    """One lesson's poses. `captions`: face-on and down-the-line at setup, the same at the top, the same at impact."""

    student: str
    date: str
    setup: Pose
    top: Pose
    impact: Pose
    captions: tuple[str, str, str, str, str, str]
    cameras: tuple[Camera, Camera] = CAMERAS
    fps: int | None = None
    """Frames a second of the film that the stills are said to be from."""

    def poses(self) -> dict[str, Pose]:
        """The three poses by checkpoint, in the order of the swing."""
        return {"setup": self.setup, "top": self.top, "impact": self.impact}


def _at_the_top(setup: Pose, **changes: float) -> Pose:
    arms_up = replace(setup, lead_arm=(0.5, 0.7, 0.5), side_bend=2.0, lead_knee=32.0, pelvis_shift=-0.012)
    return replace(arms_up, **changes)  # type: ignore[arg-type]


def _at_impact(setup: Pose, **changes: float) -> Pose:
    return replace(setup, trail_knee=32.0, lean=0.08, **changes)  # type: ignore[arg-type]


_TALL = Pose(stature=1.80, lead_knee=19, trail_knee=19)
_LEFTY = Pose(stature=1.68, plays="left", stance=0.20, lead_knee=21, trail_knee=21, forward_bend=39)
_BOY = Pose(stature=1.60, stance=0.18, lead_knee=18, trail_knee=18, forward_bend=36)
_FATHER = Pose(stature=1.78, lead_knee=22, trail_knee=22, forward_bend=34)
_STIFF = Pose(stature=1.77, lead_knee=18, trail_knee=18, forward_bend=37, ball=(0.06, 0.75))
_GIRL = Pose(stature=1.66, stance=0.19, lead_knee=19, trail_knee=19, forward_bend=37)

DRAWN = (
    DrawnLesson(
        student="duarte-pemberlow",
        date="2026-08-20",
        setup=_TALL,
        top=_at_the_top(_TALL, pelvis_closed=43, thorax_closed=89, forward_bend=37, trail_knee=15),
        impact=_at_impact(
            _TALL, pelvis_closed=-78, thorax_closed=-36, side_bend=41, forward_bend=31,
            lead_knee=8, pelvis_shift=0.11, seat_forward=0.022, heel_lift=0.085,
        ),
        captions=(
            "A balanced start, with feet, knees and shoulders square.",
            "Weight over the middle of the feet, arms hanging.",
            "A full turn with the head in its place.",
            "The back of the trail hip has stayed where it began.",
            "The trunk leans well away from the target.",
            "Both hips can be seen, so far has the pelvis turned past the ball.",
        ),
    ),
    DrawnLesson(
        student="duarte-pemberlow",
        date="2026-11-19",
        setup=_TALL,
        top=_at_the_top(_TALL, pelvis_closed=44, thorax_closed=91, forward_bend=37, trail_knee=17),
        impact=_at_impact(
            _TALL, pelvis_closed=-58, thorax_closed=-31, side_bend=33, forward_bend=33,
            lead_knee=13, pelvis_shift=0.09, seat_forward=0.014, heel_lift=0.050,
        ),
        captions=(
            "The same set-up as in August. Leave it alone.",
            "Nothing to change here.",
            "Trail knee keeps its bend a little better now.",
            "The turn is as full as ever.",
            "Chest more over the ball than in August.",
            "The hips have waited. There is less of the lead hip to see than in August.",
        ),
    ),
    DrawnLesson(
        student="rosalind-okevre",
        date="2026-08-25",
        setup=_LEFTY,
        top=_at_the_top(_LEFTY, pelvis_closed=47, thorax_closed=86, forward_bend=38, trail_knee=17),
        impact=_at_impact(
            _LEFTY, pelvis_closed=-34, thorax_closed=-24, side_bend=22, forward_bend=24,
            lead_knee=14, pelvis_shift=0.06, seat_forward=0.063, heel_lift=0.030,
        ),
        captions=(
            "Setup, ball just ahead of the middle.",
            "A good bend from the hips. This is what we want to keep.",
            "A lovely wide turn.",
            "Seat still on its line.",
            "Standing tall through the ball.",
            "The seat has left its line and come toward the ball.",
        ),
    ),
    DrawnLesson(
        student="rosalind-okevre",
        date="2026-11-17",
        setup=_LEFTY,
        top=_at_the_top(_LEFTY, pelvis_closed=46, thorax_closed=88, forward_bend=38, trail_knee=18),
        impact=_at_impact(
            _LEFTY, pelvis_closed=-41, thorax_closed=-27, side_bend=25, forward_bend=32,
            lead_knee=13, pelvis_shift=0.08, seat_forward=0.026, heel_lift=0.035,
        ),
        captions=(
            "Setup, the same as in August.",
            "The bend we start from.",
            "The top, unhurried.",
            "Seat on its line, and she knows it without looking.",
            "Room for the arms now.",
            "Most of the bend is still there. Compare it with August.",
        ),
    ),
    DrawnLesson(
        student="miro-tavenhall",
        date="2026-11-14",
        setup=_BOY,
        top=_at_the_top(_BOY, pelvis_closed=52, thorax_closed=97, forward_bend=35, trail_knee=12),
        impact=_at_impact(
            _BOY, pelvis_closed=-47, thorax_closed=-30, side_bend=26, forward_bend=27,
            lead_knee=17, pelvis_shift=0.07, seat_forward=0.034, heel_lift=0.060,
        ),
        captions=(
            "Longer legs, same friendly setup.",
            "Set up for the height of today, a touch further from the ball.",
            "A big easy turn. No more is needed.",
            "The club stops short of level. Good.",
            "Trail heel up, balance kept.",
            "Standing up a little. Legs that grow do that.",
        ),
        cameras=NEARER,
    ),
    DrawnLesson(
        student="henrik-tavenhall",
        date="2026-11-14",
        setup=_FATHER,
        top=_at_the_top(_FATHER, pelvis_closed=41, thorax_closed=80, forward_bend=33, trail_knee=19),
        impact=_at_impact(
            _FATHER, pelvis_closed=-36, thorax_closed=-22, side_bend=20, forward_bend=27,
            lead_knee=16, pelvis_shift=0.052, seat_forward=0.008, heel_lift=0.032,
        ),
        captions=(
            "Feet square, knees soft.",
            "A little upright, and comfortable.",
            "Enough turn for an eight-iron.",
            "The trail knee has kept its bend.",
            "Over on the lead foot at last.",
            "A little taller than you began.",
        ),
        cameras=NEARER,
        fps=120,
    ),
    DrawnLesson(
        student="callum-weirbridge",
        date="2026-10-23",
        setup=_STIFF,
        top=_at_the_top(_STIFF, pelvis_closed=35, thorax_closed=83, forward_bend=36, trail_knee=14),
        impact=_at_impact(
            _STIFF, pelvis_closed=-36, thorax_closed=-26, side_bend=27, forward_bend=31,
            lead_knee=13, pelvis_shift=0.07, seat_forward=0.018, heel_lift=0.040,
        ),
        captions=(
            "Setup for the longer club, ball a touch further forward.",
            "And a touch further away.",
            "The hips have gone as far as they care to.",
            "And the arms have waited for them.",
            "Through the ball without a push.",
            "Still well bent over it.",
        ),
        fps=120,
    ),
    DrawnLesson(
        student="wren-castellow",
        date="2026-10-24",
        setup=_GIRL,
        top=_at_the_top(_GIRL, pelvis_closed=50, thorax_closed=94, forward_bend=36, trail_knee=15),
        impact=_at_impact(
            _GIRL, pelvis_closed=-52, thorax_closed=-33, side_bend=28, forward_bend=31,
            lead_knee=10, pelvis_shift=0.08, seat_forward=0.010, heel_lift=0.050,
        ),
        captions=(
            "Setup.",
            "Setup from behind the hands.",
            "Top of the backswing.",
            "Top from behind the hands.",
            "Impact.",
            "Impact from behind the hands.",
        ),
        cameras=NEARER,
    ),
)  # fmt: skip
