"""What is different between two judged versions of one lesson, in one line for the reader."""

from collections.abc import Sequence

from reportgen.languages.speaking import say, say_count
from reportgen.records.report import Finding, LessonReport
from reportgen.records.wording import amount, apart, listed, verdict_name

NAMED = 3
"""So many values are named; the others are counted."""


def what_changed(before: LessonReport, now: LessonReport) -> str | None:
    """`Side bend at impact is now 31°, in range (it was 29°, too close to call).`; None where a reader sees no change.

    A stop that came or went is said first, then values; changes of plan, cautions and notes are named in general.
    """
    said = _values(before.findings, now.findings)
    if before.stopped != now.stopped:
        stopped, lifted = say("please stop for now, and read the caution first"), say("the stop is taken back")
        said.insert(0, stopped if now.stopped else lifted)
    elif different := _parts(before, now):
        said.append(say("{parts} changed", parts=listed(different)))
    if not said:
        return None
    line = apart(said)
    return f"{line[0].upper()}{line[1:]}."


def _values(before: Sequence[Finding], now: Sequence[Finding]) -> list[str]:
    earlier = {f.metric: f for f in before}
    later = {f.metric for f in now}
    said = [
        say("{metric} is now {now} (it was {before})", metric=f.name, now=_said(f), before=_said(earlier[f.metric]))
        for f in now
        if f.metric in earlier and _said(f) != _said(earlier[f.metric])
    ]
    said += [say("{metric} is new: {now}", metric=f.name, now=_said(f)) for f in now if f.metric not in earlier]
    said += [say("{metric} is taken out", metric=f.name) for f in before if f.metric not in later]
    rest = len(said) - NAMED
    if rest <= 0:
        return said
    return [*said[:NAMED], say_count("{count} more value changed", "{count} more values changed", rest)]


def _said(finding: Finding) -> str:
    return f"{amount(finding.value, finding.unit, finding.decimals, finding.sign)}, {verdict_name(finding.verdict)}"


def _parts(before: LessonReport, now: LessonReport) -> list[str]:
    """The parts of the report, values left out, that read otherwise now."""

    def parts(report: LessonReport) -> dict[str, object]:
        return {
            say("the heading"): (report.date, report.club, report.focus),
            say("what to work on"): [(p.metric, p.direction) for p in report.priorities],
            say("the drills"): [(d.drill, d.dose, d.note) for d in report.drills],
            say("the week of practice"): report.practice,
            say("the cautions"): [c.text for c in report.cautions],
            say("the pictures"): report.pictures,
            say("the notes"): report.notes,
        }

    earlier, later = parts(before), parts(now)
    return [name for name, part in later.items() if part != earlier[name]]
