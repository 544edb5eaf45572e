"""Whether something may stand in a plan beside the cautions that stand: the one place that decides it.

Drills, the instructor's own choice, every item of a week, putts, short shots and counts to be made again all go through
`refusal`. What is not known of an item counts as the most that it can be.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from reportgen.judging.comfort import comfort_now
from reportgen.judging.safety import held_sites
from reportgen.records.content import Drill
from reportgen.records.lesson import Lesson
from reportgen.records.practice_week import PracticeItem
from reportgen.records.report import Caution
from reportgen.records.safety import SafetyRule
from reportgen.records.skipping import SoreSite
from reportgen.records.words import SITES, Activity, LessonKind, Site, Stage, Swing

_STRIKING: frozenset[Site] = frozenset(
    {"lead-wrist", "trail-wrist", "lead-elbow", "trail-elbow"},
)
_SWUNG_FAR: frozenset[Site] = frozenset(
    {"low-back", "lead-shoulder", "trail-shoulder", "lead-hip", "trail-hip", "lead-knee"},
)
"""What a ball struck, and a swing beyond hip height, work hard (common practice, no source)."""


@dataclass(frozen=True)
class Standing:
    """What stands against a plan: a stop; sites that are `spared` (on hold, or watched and not cleared); the last
    score of each `sore` site; what is `forbidden`; and whether the player is a `junior`, for whom any pain counts and
    no speed is trained."""

    spared: frozenset[Site] = frozenset()
    sore: Mapping[Site, int] = field(default_factory=dict)
    forbidden: frozenset[Activity] = frozenset()
    junior: bool = False
    stopped: bool = False


class Asks(NamedTuple):
    """What a drill or an item asks of a body: what is done in it, the sites that it `loads`, those for whose soreness
    it is left out, and whether it trains speed."""

    activities: frozenset[Activity] = frozenset()
    loads: frozenset[Site] = frozenset()
    hurts: tuple[SoreSite, ...] = ()
    trains_speed: bool = False


class Refusal(NamedTuple):
    """Why something is out of a plan: sites, in the order of the body, and what is forbidden. Neither: a stop stands,
    or speed is not for this player."""

    sites: tuple[Site, ...] = ()
    activities: tuple[Activity, ...] = ()


def refusal(asks: Asks, standing: Standing) -> Refusal | None:
    """Why what asks this is out of the plan; None where it may stand."""
    sore_from = {site: SoreSite(site=site).at_least for site in asks.loads} | {s.site: s.at_least for s in asks.hurts}
    sites = {site for site in asks.loads if site in standing.spared}
    for site, least in sore_from.items():
        if standing.sore.get(site, 0) >= (1 if standing.junior else least):
            sites.add(site)
    activities = asks.activities & standing.forbidden
    too_fast = asks.trains_speed and standing.junior
    if not (standing.stopped or sites or activities or too_fast):
        return None
    return Refusal(tuple(site for site in SITES if site in sites), tuple(sorted(activities)))


def allowed(asks: Asks, standing: Standing) -> bool:
    """Whether what asks this may stand in the plan."""
    return refusal(asks, standing) is None


def asked_by_drill(drill: Drill) -> Asks:
    """What a drill asks."""
    done = _of_a_swing(drill.swings, ball=drill.ball, ground=drill.meets_ground)
    if "driver" in drill.equipment:
        done |= {"driver"}
    return Asks(done, frozenset(drill.loads), drill.skip_if.hurts)


def asked_by_item(item: PracticeItem, drills: Mapping[str, Drill], kind: LessonKind) -> Asks:
    """What an item of a week asks: a block what its drill and its pace do, a count again the strokes of its lesson's
    kind. Swings slow and without a ball work little as long as they are small."""
    done = _of_a_swing(item.swing, fast=item.kind == "speed")
    far = _SWUNG_FAR if item.swing in ("half", "full") else frozenset()
    if item.driver:
        done |= {"driver"}
    if item.kind == "block" and item.drill is not None:
        of_drill = asked_by_drill(drills[item.drill])
        full = item.dose is not None and item.dose.pace == "full"
        return of_drill._replace(activities=of_drill.activities | ({"fast-swings"} if full else frozenset()))
    if item.kind == "mixed":
        return Asks(done | {"balls", "ground"}, far | _STRIKING)
    if item.kind == "speed":
        return Asks(done, frozenset(SITES), trains_speed=True)
    if item.kind == "count":
        putts = kind == "putting"
        return Asks(done | ({"balls"} if putts else {"balls", "ground"}), frozenset() if putts else far | _STRIKING)
    return Asks(done, far)


def first_allowed(
    items: Iterable[PracticeItem], standing: Standing, drills: Mapping[str, Drill], kind: LessonKind = "full-swing"
) -> PracticeItem | None:
    """The first of these forms of an item that may stand; None where none may."""
    return next((item for item in items if allowed(asked_by_item(item, drills, kind), standing)), None)


def standing_of(
    rules: Mapping[str, SafetyRule],
    cautions: Sequence[Caution],
    lessons: Sequence[Lesson],
    watch: Iterable[Site],
    stage: Stage,
) -> Standing:
    """What stands after the last of these lessons, whose cautions these are.

    A place that is watched is spared until a clinician has cleared the student. The last score that was written of a
    place stands until another is; of earlier lessons only those after the last clearance.
    """
    held = held_sites(rules, cautions)
    forbidden = {done for caution in cautions if caution.rule in rules for done in rules[caution.rule].forbids}
    today = lessons[-1].date
    cleared = [one.cleared.on for one in lessons if one.cleared is not None and one.cleared.on <= one.date]
    counting = [one for one in lessons if one.date == today or not cleared or one.date > max(cleared)]
    return Standing(
        spared=held if cleared else held | frozenset(watch),
        sore={site: score for one in counting for site, score in _worst(one).items()},
        forbidden=frozenset(forbidden),
        junior=stage == "junior",
        stopped=any(caution.level == "stop" for caution in cautions),
    )


def _worst(lesson: Lesson) -> dict[Site, int]:
    """The highest score of each site that the lesson, or the log in its sheet, tells of."""
    worst: dict[Site, int] = {}
    for felt in comfort_now(lesson):
        worst[felt.site] = max(felt.score, worst.get(felt.site, 0))
    return worst


def _of_a_swing(swing: Swing, *, ball: bool = False, ground: bool = False, fast: bool = False) -> frozenset[Activity]:
    done: dict[Activity, bool] = {
        "swings": swing != "none",
        "full-swings": swing in ("half", "full"),
        "fast-swings": fast,
        "balls": ball,
        "ground": ground,
    }
    return frozenset(activity for activity, is_done in done.items() if is_done)
