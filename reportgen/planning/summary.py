"""The lesson in one sentence and in one row: how many values lie where, and at which checkpoint."""

from collections.abc import Sequence

from reportgen.languages.speaking import later, say
from reportgen.records.report import Finding, Glance
from reportgen.records.wording import listed, verdict_name
from reportgen.records.words import CHECKPOINTS, Moment, Verdict

_GRAVEST_FIRST: tuple[Verdict, ...] = (
    "above range",
    "below range",
    "too close to call",
    "in range",
    "no range",
)

_ONE: dict[Verdict, str] = {
    "in range": later("We measured one thing: it is in your range."),
    "above range": later("We measured one thing: it is outside your range."),
    "below range": later("We measured one thing: it is outside your range."),
    "too close to call": later("We measured one thing: it is too close to call."),
    "no range": later("We measured one thing: it is shown without a range."),
}


def summary(findings: Sequence[Finding]) -> str:
    """`We measured 8 things: 4 in your range, 2 outside it and 2 too close to call.`"""
    if not findings:
        return say("Nothing was measured in this lesson.")
    verdicts = [f.verdict for f in findings]
    inside = verdicts.count("in range")
    outside = verdicts.count("above range") + verdicts.count("below range")
    close, unjudged = verdicts.count("too close to call"), verdicts.count("no range")
    if len(findings) == 1:
        return say(_ONE[verdicts[0]])
    beyond = say("{count} outside it", count=outside) if inside else say("{count} outside your range", count=outside)
    counts = [
        (inside, say("{count} in your range", count=inside)),
        (outside, beyond),
        (close, say("{count} too close to call", count=close)),
        (unjudged, say("{count} shown without a range", count=unjudged)),
    ]
    said = listed([where for count, where in counts if count])
    return say("We measured {number} things: {counts}.", number=len(findings), counts=said)


def glance(findings: Sequence[Finding]) -> tuple[Glance, ...]:
    """Every checkpoint of the swing, and the whole swing where something of it was measured."""
    moments: list[Moment] = [*CHECKPOINTS]
    if any(f.checkpoint == "whole-swing" for f in findings):
        moments.append("whole-swing")
    return tuple(_at(moment, [f for f in findings if f.checkpoint == moment]) for moment in moments)


def _at(moment: Moment, here: list[Finding]) -> Glance:
    if not here:
        return Glance(moment=moment, verdict=None, says=say("not measured"))
    gravest = min((f.verdict for f in here), key=_GRAVEST_FIRST.index)
    judged = [f for f in here if f.verdict != "no range"]
    inside = sum(f.verdict == "in range" for f in judged)
    says = (
        say("{inside} of {judged} in range", inside=inside, judged=len(judged)) if judged else verdict_name("no range")
    )
    return Glance(moment=moment, verdict=gravest, says=says)
