"""Which cautions apply to this student today: the safety rules of the library, held against one lesson."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from reportgen.judging.comfort import comfort_courses, comfort_now
from reportgen.judging.growth import growth_of
from reportgen.records.academy import Student
from reportgen.records.body import ComfortCourse, GrowthEstimate, Load
from reportgen.records.conditions import (
    ComfortIs,
    ComfortLasts,
    ComfortRises,
    Condition,
    FindingIs,
    HipTurns,
    PracticeIs,
)
from reportgen.records.findings import Finding
from reportgen.records.lesson import Comfort, Lesson
from reportgen.records.mobility import Mobility
from reportgen.records.report import Caution
from reportgen.records.safety import SafetyRule
from reportgen.records.words import CONCERNS, SITES, ClubFamily, Hips, LessonKind, Site, Stage, club_family

_LEVELS = ("stop", "hold", "note")


@dataclass(frozen=True)
class Facts:
    """What a rule can ask about. None or nothing where it is not known."""

    stage: Stage
    hips: Hips
    watch: tuple[Site, ...]
    comfort: tuple[Comfort, ...]
    findings: Mapping[str, Finding]
    age: int | None = None
    growth: GrowthEstimate | None = None
    mobility: Mobility = field(default_factory=Mobility)
    club: ClubFamily | None = None
    courses: tuple[ComfortCourse, ...] = ()
    load: Load | None = None
    kind: LessonKind = "full-swing"


def facts_of(
    student: Student, lessons_so_far: Sequence[Lesson], findings: Sequence[Finding], load: Load | None
) -> Facts:
    """The facts of the last of these lessons, of which `findings` are the judged values."""
    lesson = lessons_so_far[-1]
    return Facts(
        stage=student.stage_on(lesson.date),
        hips=student.mobility.hips,
        watch=student.watch,
        comfort=comfort_now(lesson),
        findings={finding.metric: finding for finding in findings},
        age=student.age_on(lesson.date),
        growth=growth_of(student, lesson.date),
        mobility=student.mobility,
        kind=lesson.kind,
        club=club_family(lesson.club),
        courses=comfort_courses(lessons_so_far, lesson.date),
        load=load,
    )


def applies(condition: Condition, facts: Facts) -> bool:
    """Whether a rule's condition holds. What was not measured, asked or logged makes a condition on it false."""
    (asked,) = condition.model_fields_set
    wanted = getattr(condition, asked)
    match asked:
        case "always":
            return True
        case "all":
            return all(applies(inner, facts) for inner in wanted)
        case "any":
            return any(applies(inner, facts) for inner in wanted)
        case "not_":
            return not applies(wanted, facts)
        case "stage":
            return facts.stage in wanted
        case "age":
            return facts.age is not None and bool(wanted.at_least <= facts.age <= wanted.at_most)
        case "growth":
            return facts.growth is not None and facts.growth.stage in wanted
        case "grows":
            velocity = facts.growth.velocity if facts.growth else None
            return velocity is not None and bool(velocity >= wanted)
        case "hips":
            return facts.hips in wanted
        case "restricted":
            return any(hip in facts.mobility.restricted for hip in wanted)
        case "hip_turns":
            return _turns_less(wanted, facts.mobility)
        case "hip_difference":
            return facts.mobility.difference is not None and bool(facts.mobility.difference >= wanted)
        case "watch":
            return any(site in facts.watch for site in wanted)
        case "comfort":
            return any(_felt(wanted, felt) for felt in _worst(wanted, facts.comfort))
        case "comfort_rises":
            return any(_rises(wanted, course) for course in facts.courses)
        case "comfort_lasts":
            return any(_lasts(wanted, course) for course in facts.courses)
        case "finding":
            return _found(wanted, facts.findings.get(wanted.metric))
        case "club":
            return facts.club in wanted
        case "practice":
            return facts.load is not None and _practises(wanted, facts.load)
        case "practised":
            return facts.load is not None and any(kind in wanted for kind in facts.load.kinds)
    raise ValueError(f"no condition is called {asked}")


def _turns_less(asked: HipTurns, mobility: Mobility) -> bool:
    turns = {"lead-hip": mobility.lead_hip.rotation_deg, "trail-hip": mobility.trail_hip.rotation_deg}
    return any((degrees := turns[hip]) is not None and degrees < asked.below for hip in asked.hip)


def _worst(asked: ComfortIs, comfort: Iterable[Comfort]) -> Iterable[Comfort]:
    """Of each place the highest score of the times that are asked about: what was 2 before and is 5 after is not a
    little sore."""
    worst: dict[Site, Comfort] = {}
    for felt in comfort:
        at_that_time = not asked.when or felt.when in asked.when
        if at_that_time and (felt.site not in worst or felt.score > worst[felt.site].score):
            worst[felt.site] = felt
    return worst.values()


def _felt(asked: ComfortIs, felt: Comfort) -> bool:
    return felt.site in asked.site and asked.at_least <= felt.score <= asked.at_most


def _rises(asked: ComfortRises, course: ComfortCourse) -> bool:
    return course.site in asked.site and course.rises >= asked.times and course.felt[-1].score >= asked.at_least


def _lasts(asked: ComfortLasts, course: ComfortCourse) -> bool:
    last = course.felt[-asked.lessons :]
    return course.site in asked.site and len(last) == asked.lessons and all(f.score >= asked.at_least for f in last)


def _found(asked: FindingIs, finding: Finding | None) -> bool:
    return (
        finding is not None
        and (asked.at_least is None or finding.value >= asked.at_least)
        and (asked.at_most is None or finding.value <= asked.at_most)
        and (not asked.verdict or finding.verdict in asked.verdict)
    )


def _practises(asked: PracticeIs, load: Load) -> bool:
    figure = {
        "swings-a-week": load.swings_this_week,
        "rise": load.rise,
        "days-in-a-row": load.days_in_a_row,
        "hours-a-week": load.hours_this_week,
        "swings-a-day": load.most_swings_a_day,
        "swings-in-two-days": load.most_swings_in_two_days,
        "hours-over-age": load.hours_this_week - load.age,
        "months-in-a-row": load.months_in_a_row,
    }[asked.measure]
    if figure is None:
        return False
    return figure >= asked.at_least if asked.at_least is not None else figure > (asked.above or 0.0)


def cautions(rules: Iterable[SafetyRule], facts: Facts) -> tuple[Caution, ...]:
    """The cautions that apply, the gravest first (`in_gravity`)."""
    firing = [rule for rule in rules if facts.kind in rule.kinds and applies(rule.when, facts)]
    found = [
        Caution(
            rule=rule.id,
            level=rule.level,
            usual=rule.when.always is True,
            sites=_raised_by(rule, facts),
        )
        for rule in firing
    ]
    return in_gravity({rule.id: rule for rule in firing}, found)


def in_gravity(rules: Mapping[str, SafetyRule], found: Iterable[Caution]) -> tuple[Caution, ...]:
    """The cautions, the gravest first: those of this student before those that everybody hears; a stop, a hold, a
    note; by what they are about, in the order of `CONCERNS`; then by the name of the rule. No two are alike in all
    four, so that a page that shows the first two shows the same two each time."""

    def key(caution: Caution) -> tuple[bool, int, int, str]:
        concern = rules[caution.rule].concern if caution.rule in rules else CONCERNS[0]
        return caution.usual, _LEVELS.index(caution.level), CONCERNS.index(concern), caution.rule

    return tuple(sorted(found, key=key))


def _raised_by(rule: SafetyRule, facts: Facts) -> tuple[Site, ...]:
    """The places whose scores raise a rule that applies, whatever else raises it too."""
    felt = set(_sites_felt(rule.when, facts))
    return tuple(site for site in SITES if site in felt)


def _sites_felt(condition: Condition, facts: Facts) -> Iterator[Site]:
    if condition.comfort is not None:
        told = _worst(condition.comfort, facts.comfort)
        yield from (felt.site for felt in told if _felt(condition.comfort, felt))
    if condition.comfort_rises is not None:
        yield from (course.site for course in facts.courses if _rises(condition.comfort_rises, course))
    if condition.comfort_lasts is not None:
        yield from (course.site for course in facts.courses if _lasts(condition.comfort_lasts, course))
    for inner in (*(condition.all or ()), *(condition.any or ())):
        yield from _sites_felt(inner, facts)


def said_now(rules: Mapping[str, SafetyRule], firing: Sequence[Caution]) -> tuple[Caution, ...]:
    """The cautions that are said. Beside a stop these are the usual ones and those that go with a stop: others speak
    of how to practise on, and would contradict it."""
    if not any(caution.level == "stop" for caution in firing):
        return tuple(firing)
    return tuple(c for c in firing if c.level == "stop" or c.usual or (c.rule in rules and rules[c.rule].with_stop))


def cautioned_metrics(rules: Mapping[str, SafetyRule], firing: Sequence[Caution]) -> frozenset[str]:
    """The metrics that the firing rules ask about: what a caution names is worked on first."""
    found = {
        metric for caution in firing if caution.rule in rules for metric in _metrics_asked(rules[caution.rule].when)
    }
    return frozenset(found)


def _metrics_asked(condition: Condition) -> Iterator[str]:
    if condition.finding is not None:
        yield condition.finding.metric
    for inner in (*(condition.all or ()), *(condition.any or ())):
        yield from _metrics_asked(inner)


def held_sites(rules: Mapping[str, SafetyRule], firing: Sequence[Caution]) -> frozenset[Site]:
    """The sites that no drill may load now."""
    return frozenset(site for caution in firing if caution.rule in rules for site in rules[caution.rule].holds)
