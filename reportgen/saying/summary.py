"""The lesson in one sentence and in one row: how many values lie where, and at which checkpoint."""

from collections.abc import Sequence

from reportgen.languages.speaking import later, say, say_count
from reportgen.records.findings import Finding
from reportgen.records.report import Glance
from reportgen.records.told import ToldGlance, ToldSetup
from reportgen.records.words import Verdict
from reportgen.saying.setup import seen_shortly
from reportgen.saying.wording import listed, verdict_name

_ONE: dict[Verdict, str] = {
    "in range": later("We measured one thing: it is in your range."),
    "above range": later("We measured one thing: it is outside your range."),
    "below range": later("We measured one thing: it is outside your range."),
    "too close to call": later("We measured one thing: it is too close to call."),
    "not judged": later("We measured one thing: it is shown and not judged."),
}


def summary(findings: Sequence[Finding], counted: int = 0) -> str:
    """`We measured 8 things: 4 in your range, 2 outside it and 2 too close to call.` Where nothing was measured, how
    many rows of shots were `counted`."""
    if not findings and counted:
        return say_count("We counted {count} row of shots.", "We counted {count} rows of shots.", counted)
    if not findings:
        return say("Nothing was measured in this lesson.")
    verdicts = [f.verdict for f in findings]
    inside = verdicts.count("in range")
    outside = verdicts.count("above range") + verdicts.count("below range")
    close, unjudged = verdicts.count("too close to call"), verdicts.count("not judged")
    if quiet(findings) and inside == len(findings) > 1:
        return say("All {number} values are in your range, with no clear change.", number=inside)
    if len(findings) == 1:
        return say(_ONE[verdicts[0]])
    beyond = say("{count} outside it", count=outside) if inside else say("{count} outside your range", count=outside)
    counts = [
        (inside, say("{count} in your range", count=inside)),
        (outside, beyond),
        (close, say("{count} too close to call", count=close)),
        (unjudged, say("{count} shown and not judged", count=unjudged)),
    ]
    said = listed([where for count, where in counts if count])
    return say("We measured {number} things: {counts}.", number=len(findings), counts=said)


def quiet(findings: Sequence[Finding]) -> bool:
    """Whether the values say nothing new: each was measured before, has not changed as far as we can see, and is in its
    range or without one. Where nothing was measured nothing is new either."""
    return all(
        f.verdict in ("in range", "not judged")
        and (f.course is not None or f.change is not None)
        and (f.course is None or f.course.rung == "no change we can see")
        for f in findings
    )


def told_glance(glance: Glance, setup: Sequence[ToldSetup] = ()) -> ToldGlance:
    """One checkpoint in words: `2 of 3 in range`; `setup` is what was observed at setup."""
    seen = tuple(map(seen_shortly, setup)) if glance.observed else ()
    if glance.verdict is None and seen:
        says = say("observed")
    elif glance.verdict is None:
        says = say("not measured")
    elif glance.judged:
        says = say("{inside} of {judged} in range", inside=glance.in_range, judged=glance.judged)
    else:
        says = verdict_name("not judged")
    return ToldGlance(**dict(glance), says=says, seen=seen)
