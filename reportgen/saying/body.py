"""Growth, hip mobility, comfort and practice in words. The pages of a minor carry no figure of the body."""

from math import ceil, floor

from reportgen.judging.mobility import HEALTHY_DEG
from reportgen.languages.speaking import later, say, say_count
from reportgen.records.academy import ADULT_FROM
from reportgen.records.body import ComfortCourse, GrowthEstimate, Load, Screen
from reportgen.records.mobility import RESTRICTED_BELOW_DEG
from reportgen.records.told import ToldComfort, ToldGrowth, ToldLoad, ToldScreen
from reportgen.records.words import ScreenPosition, Stage
from reportgen.saying.wording import listed, number, slug_name

_POSITION = {"prone": later("lying face down"), "supine": later("lying on the back"), "seated": later("seated")}
_ON = {"lead": later("{degrees} on the lead side"), "trail": later("{degrees} on the trail side")}


def told_growth(growth: GrowthEstimate) -> ToldGrowth:
    """The stage of growth in words."""
    return ToldGrowth(**dict(growth), says=_growth(growth))


def _growth(growth: GrowthEstimate) -> str | None:
    if growth.stage is None or growth.interval is None:
        return None
    low, high = growth.interval
    match growth.stage:
        case "before":
            first = say("By an estimate you are before your growth spurt.")
            where = say("The fastest growing is probably {years} ahead.", years=_years(-high, -low))
        case "around":
            first = say("By an estimate you are around your growth spurt.")
            where = say(
                "The fastest growing may be anywhere from {ahead} ahead to {behind} behind you.",
                ahead=_years(0, -low),
                behind=_years(0, high),
            )
        case "after":
            first = say("By an estimate you are after your growth spurt.")
            where = say("The fastest growing was probably {years} ago.", years=_years(low, high))
    last = say(
        "Such an estimate can be wrong by a year and more. It helps us to plan practice, and it is no medical "
        "statement."
    )
    return f"{first} {where} {last}"


def _years(nearest: float, farthest: float) -> str:
    """A span of years in halves, rounded outward: `1 to 3.5 years`, or its far end alone where it begins at 0."""
    near, far = floor(2 * nearest) / 2, ceil(2 * farthest) / 2
    end = say_count("{years} year", "{years} years", far, years=_shortest(far))
    return say("{low} to {high}", low=_shortest(near), high=end) if near else end


def told_screen(screen: Screen, stage: Stage) -> ToldScreen:
    """The mobility screen of somebody of this stage, beside the published figures."""
    return ToldScreen(**dict(screen), says=_screen(screen, stage))


def _screen(screen: Screen, stage: Stage) -> str:
    figures = [
        say(_ON[side], degrees=f"{number(degrees, 0)}°")
        for side, degrees in (("lead", screen.lead_deg), ("trail", screen.trail_deg))
        if degrees is not None
    ]
    parts = []
    if figures:
        position = say(_POSITION[screen.position])
        parts.append(
            say("Your hips turn inward {figures}, measured {position}.", figures=listed(figures), position=position)
        )
        parts.append(_published(screen.position, stage))
    for hip in screen.restricted:
        parts.append(
            say("The lead hip counts as one that turns less, and your ranges are chosen for it.")
            if hip == "lead-hip"
            else say("The trail hip counts as one that turns less, and your ranges are chosen for it.")
        )
    return " ".join(parts)


def _published(position: ScreenPosition, stage: Stage) -> str:
    if stage == "junior":
        return say("There is no published figure for your age that we hold it against.")
    healthy = say(
        "A group of 120 healthy adults had {degrees} on average in this position.",
        degrees=f"{number(HEALTHY_DEG[position], 0)}°",
    )
    if position == "seated":
        return healthy
    most = say(
        "Most golfers without back pain in one study had {degrees} or more on the lead side.",
        degrees=f"{number(RESTRICTED_BELOW_DEG, 0)}°",
    )
    return f"{healthy} {most}"


def told_comfort(course: ComfortCourse) -> ToldComfort:
    """The scores of a site in words."""
    return ToldComfort(**dict(course), says=_comfort(course))


def _comfort(course: ComfortCourse) -> str:
    scores = [str(one.score) for one in course.felt]
    name = slug_name(course.site)
    name = name[:1].upper() + name[1:]
    if len(scores) == 1:
        return say("{site}: {score} of 10 this time.", site=name, score=scores[0])
    said = say_count(
        "{site}: {scores} of 10 the last time.",
        "{site}: {scores} of 10 the last {count} times.",
        len(scores),
        site=name,
        scores=listed(scores),
    )
    if course.rises >= 2:
        return f"{said} " + say("It has risen each time: talk to your teacher about it.")
    return said


def told_load(load: Load) -> ToldLoad:
    """The practice log in words."""
    return ToldLoad(**dict(load), says=_load(load))


def _load(load: Load) -> str | None:
    now, hours = load.swings_this_week, load.hours_this_week
    if now is None and not hours:
        return None
    parts = []
    if now is not None:
        parts.append(
            say_count(
                "The log of the last seven days has {count} full swing.",
                "The log of the last seven days has {count} full swings.",
                now,
            )
        )
        if before := [str(count) for count in load.weekly_swings[:-1]]:
            parts.append(
                say_count(
                    "The week before that had {swings}.",
                    "The weeks before that had {swings}.",
                    len(before),
                    swings=listed(before),
                )
            )
    if hours:
        parts.append(_golf(hours))
    parts.append(say("On {days} of the seven days there was no golf.", days=load.rest_days))
    if load.age < ADULT_FROM:
        parts.append(say("At your age, {hours} hours a week are enough, all sports together.", hours=load.age))
    return " ".join(parts)


def _golf(hours: float) -> str:
    if hours < 2:
        return say_count("It has {count} minute of golf.", "It has {count} minutes of golf.", round(60 * hours))
    return say("It has {hours} hours of golf.", hours=_shortest(hours))


def _shortest(figure: float) -> str:
    """A figure without a decimal where it needs none."""
    return number(figure, 0 if figure == round(figure) else 1)
