"""The lesson in one row: what was measured at each checkpoint, and where it lies."""

from collections.abc import Sequence

from reportgen.records.findings import Finding
from reportgen.records.report import Glance
from reportgen.records.setup import SetupFound
from reportgen.records.words import CHECKPOINTS, GRAVEST_FIRST, Moment


def glance(findings: Sequence[Finding], setup: Sequence[SetupFound] = ()) -> tuple[Glance, ...]:
    """Every checkpoint of the swing, and the whole swing where something of it was measured; `setup` is what was
    observed there without measuring."""
    moments: list[Moment] = [*CHECKPOINTS]
    if any(f.checkpoint == "whole-swing" for f in findings):
        moments.append("whole-swing")
    observed = {"setup": len(setup)}
    return tuple(
        _at(moment, [f for f in findings if f.checkpoint == moment], observed.get(moment, 0)) for moment in moments
    )


def _at(moment: Moment, here: list[Finding], observed: int) -> Glance:
    gravest = min((f.verdict for f in here), key=GRAVEST_FIRST.index, default=None)
    judged = [f for f in here if f.verdict != "not judged"]
    inside = sum(f.verdict == "in range" for f in judged)
    return Glance(moment=moment, verdict=gravest, judged=len(judged), in_range=inside, observed=observed)
