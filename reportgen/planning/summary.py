"""The lesson in one sentence and in one row: how many values lie where, and at which checkpoint."""

from collections.abc import Sequence

from reportgen.records.report import Finding, Glance
from reportgen.records.wording import listed
from reportgen.records.words import CHECKPOINTS, Moment, Verdict

_GRAVEST_FIRST: tuple[Verdict, ...] = (
    "above range",
    "below range",
    "too close to call",
    "in range",
    "no range",
)


def summary(findings: Sequence[Finding]) -> str:
    """`We measured 8 things: 4 in your range, 2 outside it and 2 too close to call.`"""
    if not findings:
        return "Nothing was measured in this lesson."
    verdicts = [f.verdict for f in findings]
    inside = verdicts.count("in range")
    outside = verdicts.count("above range") + verdicts.count("below range")
    close, unjudged = verdicts.count("too close to call"), verdicts.count("no range")
    counts = [(inside, "in your range"), (outside, "outside it" if inside else "outside your range"),
              (close, "too close to call"), (unjudged, "shown without a range")]  # fmt: skip
    if len(findings) == 1:
        return f"We measured one thing: it is {next(where for count, where in counts if count)}."
    return f"We measured {len(findings)} things: {listed([f'{count} {where}' for count, where in counts if count])}."


def glance(findings: Sequence[Finding]) -> tuple[Glance, ...]:
    """Every checkpoint of the swing, and the whole swing where something of it was measured."""
    moments: list[Moment] = [*CHECKPOINTS]
    if any(f.checkpoint == "whole-swing" for f in findings):
        moments.append("whole-swing")
    return tuple(_at(moment, [f for f in findings if f.checkpoint == moment]) for moment in moments)


def _at(moment: Moment, here: list[Finding]) -> Glance:
    if not here:
        return Glance(moment=moment, verdict=None, says="not measured")
    gravest = min((f.verdict for f in here), key=_GRAVEST_FIRST.index)
    judged = [f for f in here if f.verdict != "no range"]
    inside = sum(f.verdict == "in range" for f in judged)
    says = f"{inside} of {len(judged)} in range" if judged else "no range"
    return Glance(moment=moment, verdict=gravest, says=says)
