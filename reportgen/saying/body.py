"""Growth, hip mobility, comfort and practice in words. The pages of a minor carry no figure of the body."""

from math import ceil, floor

from reportgen.judging.mobility import HEALTHY_DEG
from reportgen.languages.speaking import later, say, say_count
from reportgen.records.academy import ADULT_FROM
from reportgen.records.body import ComfortCourse, GrowthEstimate, Load, Screen
from reportgen.records.mobility import RESTRICTED_BELOW_DEG
from reportgen.records.told import ToldComfort, ToldGrowth, ToldLoad, ToldScreen
from reportgen.records.words import ScreenPosition, Stage
from reportgen.saying.wording import decimals_apart, listed, number, slug_name

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
            first = say("Our estimate: your growth spurt has not begun.")
            where = say("You will probably grow fastest in {years}.", years=_years(-high, -low))
        case "around":
            first = say("Our estimate: you are in your growth spurt, or near it.")
            where = say(
                "You may grow fastest up to {ahead} from now, or did so up to {behind} ago.",
                ahead=_years(0, -low),
                behind=_years(0, high),
            )
        case "after":
            first = say("Our estimate: your growth spurt is behind you.")
            where = say("You probably grew fastest {years} ago.", years=_years(low, high))
    last = say(
        "The estimate can be wrong by a year or more. It helps us to plan practice and is not a medical statement."
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
        say(_ON[side], degrees=f"{number(degrees, decimals_apart(0, degrees, RESTRICTED_BELOW_DEG))}°")
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
            say("We count your lead hip as one that turns less, and your ranges allow for that.")
            if hip == "lead-hip"
            else say("We count your trail hip as one that turns less, and your ranges allow for that.")
        )
    return " ".join(parts)


def _published(position: ScreenPosition, stage: Stage) -> str:
    if stage == "junior":
        return say("We know of no published figure for your age.")
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
        return f"{said} " + say("The score has gone up each time: talk to your teacher.")
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
                "In the last seven days you logged {count} full swing.",
                "In the last seven days you logged {count} full swings.",
                now,
            )
        )
        if before := [str(count) for count in load.weekly_swings[:-1]]:
            parts.append(
                say_count(
                    "The week before: {swings}.",
                    "The weeks before: {swings}.",
                    len(before),
                    swings=listed(before),
                )
            )
    if hours:
        parts.append(_golf(hours))
    parts.append(say("Days without golf: {days} of seven.", days=load.rest_days))
    if load.age < ADULT_FROM:
        parts.append(say("At your age, {hours} hours a week are enough, all sports together.", hours=load.age))
    return " ".join(parts)


def _golf(hours: float) -> str:
    if hours < 2:
        return say_count(
            "In the last seven days: {count} minute of golf.",
            "In the last seven days: {count} minutes of golf.",
            round(60 * hours),
        )
    return say("In the last seven days: {hours} hours of golf.", hours=_shortest(hours))


def _shortest(figure: float) -> str:
    """A figure without a decimal where it needs none."""
    return number(figure, 0 if figure == round(figure) else 1)
