"""Which cautions apply to this student today: the safety rules of the library, held against one lesson."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from reportgen.records.content import Condition, SafetyRule
from reportgen.records.lesson import Comfort, Lesson
from reportgen.records.report import Caution, Finding, LessonReport
from reportgen.records.words import Hips, Site, Stage

_LEVELS = ("stop", "hold", "note")


@dataclass(frozen=True)
class Facts:
    """What a rule can ask about."""

    stage: Stage
    hips: Hips
    watch: tuple[Site, ...]
    comfort: tuple[Comfort, ...]
    findings: Mapping[str, Finding]


def applies(condition: Condition, facts: Facts) -> bool:
    """Whether a rule's condition holds. What was not measured or not asked makes a condition on it false."""
    if condition.all is not None:
        return all(applies(inner, facts) for inner in condition.all)
    if condition.any is not None:
        return any(applies(inner, facts) for inner in condition.any)
    if condition.not_ is not None:
        return not applies(condition.not_, facts)
    if condition.stage is not None:
        return facts.stage in condition.stage
    if condition.hips is not None:
        return facts.hips in condition.hips
    if condition.watch is not None:
        return any(site in facts.watch for site in condition.watch)
    if condition.comfort is not None:
        asked = condition.comfort
        return any(
            felt.site in asked.site
            and asked.at_least <= felt.score <= asked.at_most
            and (not asked.when or felt.when in asked.when)
            for felt in facts.comfort
        )
    if condition.finding is not None:
        of = condition.finding
        finding = facts.findings.get(of.metric)
        return (
            finding is not None
            and (of.at_least is None or finding.value >= of.at_least)
            and (of.at_most is None or finding.value <= of.at_most)
            and (not of.verdict or finding.verdict in of.verdict)
        )
    return bool(condition.always)


def cautions(rules: Iterable[SafetyRule], facts: Facts) -> tuple[Caution, ...]:
    """The cautions that apply, the gravest first, those that are said to everybody last."""
    firing = [rule for rule in rules if applies(rule.when, facts)]
    found = [
        Caution(
            rule=rule.id,
            level=rule.level,
            text=rule.student,
            instructor=rule.instructor,
            source=rule.source,
            usual=rule.when.always is True,
        )
        for rule in firing
    ]
    return tuple(sorted(found, key=lambda c: (c.usual, _LEVELS.index(c.level))))


def carried_stop(before: Sequence[LessonReport], lesson: Lesson) -> tuple[Caution, ...]:
    """The stop of the last lesson, which stands until a sheet says that a clinician has cleared the student since.

    A clearance dated after its own lesson is a slip of the pen and clears nothing.
    """
    last = before[-1] if before else None
    if last is None or not last.stopped:
        return ()
    if lesson.cleared is not None and last.date <= lesson.cleared.on <= lesson.date:
        return ()
    stop = next(caution for caution in last.cautions if caution.level == "stop")
    return (stop,)


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
