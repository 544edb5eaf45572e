"""What is different between two judged versions of one lesson, in one line for the reader."""

from collections.abc import Sequence

from reportgen.records.report import Finding, LessonReport
from reportgen.records.wording import amount, listed

NAMED = 3
"""So many values are named; the others are counted."""


def what_changed(before: LessonReport, now: LessonReport) -> str | None:
    """`Side bend at impact is now 31°, in range (it was 29°, too close to call).`; None where a reader sees no change.

    A stop that came or went is said first, then values; changes of plan, cautions and notes are named in general.
    """
    said = _values(before.findings, now.findings)
    if before.stopped != now.stopped:
        said.insert(0, "please stop for now, and read the caution first" if now.stopped else "the stop is taken back")
    elif different := _parts(before, now):
        said.append(f"{listed(different)} changed")
    if not said:
        return None
    line = "; ".join(said)
    return f"{line[0].upper()}{line[1:]}."


def _values(before: Sequence[Finding], now: Sequence[Finding]) -> list[str]:
    earlier = {f.metric: f for f in before}
    later = {f.metric for f in now}
    said = [
        f"{f.name} is now {_said(f)} (it was {_said(earlier[f.metric])})"
        for f in now
        if f.metric in earlier and _said(f) != _said(earlier[f.metric])
    ]
    said += [f"{f.name} is new: {_said(f)}" for f in now if f.metric not in earlier]
    said += [f"{f.name} is taken out" for f in before if f.metric not in later]
    rest = len(said) - NAMED
    return said if rest <= 0 else [*said[:NAMED], f"{rest} more {'value' if rest == 1 else 'values'} changed"]


def _said(finding: Finding) -> str:
    return f"{amount(finding.value, finding.unit, finding.decimals, finding.sign)}, {finding.verdict}"


def _parts(before: LessonReport, now: LessonReport) -> list[str]:
    """The parts of the report, values left out, that read otherwise now."""

    def parts(report: LessonReport) -> dict[str, object]:
        return {
            "the heading": (report.date, report.club, report.focus),
            "what to work on": [(p.metric, p.direction) for p in report.priorities],
            "the drills": [(d.drill, d.dose, d.note) for d in report.drills],
            "the week of practice": report.practice,
            "the cautions": [c.text for c in report.cautions],
            "the pictures": report.pictures,
            "the notes": report.notes,
        }

    earlier, later = parts(before), parts(now)
    return [name for name, part in later.items() if part != earlier[name]]
