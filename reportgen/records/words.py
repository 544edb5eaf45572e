"""The closed vocabularies of sheets and content: words of the trade and of the standards only."""

from collections.abc import Sequence
from typing import Annotated, Literal, cast, get_args

from pydantic import Field, StringConstraints

Checkpoint = Literal["setup", "takeaway", "top", "transition", "delivery", "impact", "finish"]
Moment = Literal[
    "setup", "takeaway", "top", "transition", "delivery", "impact", "finish", "whole-swing", "whole-stroke",
    "flight",
]  # fmt: skip
LessonKind = Literal["full-swing", "short-game", "putting", "on-the-course"]
"""What a lesson is about. Metrics, drills and plan are of one kind; on the course all of them can be met."""
View = Literal["face-on", "down-the-line"]
Side = Literal["right", "left"]
Sex = Literal["female", "male"]
How = Literal["by-eye", "still", "sensor"]
Stage = Literal["junior", "adult", "senior"]
Hips = Literal["typical", "restricted"]
Skill = Literal["beginner", "high-handicap", "middle-handicap", "low-handicap"]
"""How practised a player is: a beginner by the instructor's word, the others by their handicap."""
PressureStyle = Literal["front-foot", "reverse"]
Level = Literal["note", "hold", "stop"]
Activity = Literal["balls", "ground", "full-swings", "fast-swings", "driver", "swings"]
"""What a caution can forbid: to hit balls, to meet the ground with the club, swings beyond hip height, swings at speed,
the driver, any swing of a club."""
Swing = Literal["none", "small", "half", "full"]
"""How far the hands go with a club: not at all, up to the hips, up to the chest, beyond it."""
Unfit = Literal[
    "unsteady", "told-to-rest", "walking-hurts", "turning-hurts", "bending-hurts", "swinging-hurts",
    "holding-still-hurts",
]  # fmt: skip
"""What only the student can tell beforehand, and for which a drill is left out."""
Concern = Literal["pain", "emergency", "signs", "care", "load", "growth", "swing", "hips", "usual"]
"""What a caution is about, the gravest first: something that hurts, signs for a doctor at once, signs for a doctor, a
place that is watched, how much is practised, growing, how the swing moves, hips that turn little, what is said to
everybody."""
CONCERNS: tuple[Concern, ...] = get_args(Concern)
Basis = Literal["published", "common practice", "memory", "instructor"]
Verdict = Literal["in range", "below range", "above range", "too close to call", "not judged"]
GRAVEST_FIRST: tuple[Verdict, ...] = ("above range", "below range", "too close to call", "in range", "not judged")
Direction = Literal["below", "above"]
FeltWhen = Literal["before", "during", "after", "next-morning"]
GrowthStage = Literal["before", "around", "after"]
"""Where a growing player stands: before, around or after the growth spurt."""
ScreenPosition = Literal["prone", "supine", "seated"]
"""How somebody lies or sits while the hips are screened: face down, on the back with straight legs, seated."""
PractisedKind = Literal["range", "course", "speed-sticks", "short-game"]
Surface = Literal["mat", "turf"]
"""What the ball is hit from."""
SpinSource = Literal["measured", "estimated"]
Result = Literal["holed", "missed"]
"""What became of a putt, or of a shot at a hole."""
Plus = Literal[
    "right of target", "left of target", "trail side", "lead side", "letters R and L", "toward the toe",
    "toward the heel",
]  # fmt: skip
"""On which side plus numbers of a column are; or that a letter tells the side (R is right of the target)."""
UnitSystem = Literal["metric", "imperial"]
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]

Site = Literal[
    "low-back", "neck",
    "lead-shoulder", "trail-shoulder", "lead-elbow", "trail-elbow", "lead-wrist", "trail-wrist",
    "lead-hip", "trail-hip", "lead-knee", "trail-knee", "lead-ankle", "trail-ankle",
]  # fmt: skip
"""A place of the body that hurts, is watched, or is loaded by a drill."""

Mark = Literal[
    "lead-toe", "trail-toe", "lead-heel", "trail-heel", "lead-ankle", "trail-ankle", "lead-knee", "trail-knee",
    "lead-hip", "trail-hip", "lead-shoulder", "trail-shoulder", "lead-wrist", "trail-wrist",
    "neck", "head", "seat", "ball",
]  # fmt: skip
"""A point that is marked on a still."""

Club = Annotated[
    str,
    StringConstraints(
        pattern=r"^(driver|[2-9]-wood|[1-7]-hybrid|[1-9]-iron|(pitching|gap|sand|lob)-wedge|putter|no-club)$"
    ),
    Field(description="a club: driver, 3-wood, 4-hybrid, 7-iron, sand-wedge, putter or no-club"),
]

CHECKPOINTS: tuple[Checkpoint, ...] = get_args(Checkpoint)
MOMENTS: tuple[Moment, ...] = get_args(Moment)
SITES: tuple[Site, ...] = get_args(Site)
LESSON_KINDS: tuple[LessonKind, ...] = get_args(LessonKind)
ClubFamily = Literal["driver", "wood", "hybrid", "iron", "wedge", "putter", "no-club"]


def club_family(club: str) -> ClubFamily:
    """The family a club belongs to: `7-iron` is an iron, `sand-wedge` a wedge."""
    family = club if club in ("driver", "putter", "no-club") else club.rsplit("-", 1)[1]
    return cast(ClubFamily, family)


def fits_kind(kinds: Sequence[LessonKind], kind: LessonKind) -> bool:
    """Whether what is for lessons of these `kinds` has a place in a lesson of that `kind`."""
    return kind == "on-the-course" or kind in kinds
