"""What a chart says, in sentences and in short labels."""

from reportgen.drawing.letters import text_width
from reportgen.languages.conventions import decimal_sign
from reportgen.languages.speaking import later, say
from reportgen.records.report import Finding, Movement, Series
from reportgen.records.wording import MINUS, amount, apart, full_day, limits, number, short_day
from reportgen.records.words import Verdict

_HELD_AGAINST: dict[Verdict, str] = {
    "in range": later("in your range of {range}"),
    "above range": later("above your range of {range}"),
    "below range": later("below your range of {range}"),
    "too close to call": later("too close to call against your range of {range}"),
}

_SINCE_LAST: dict[Movement, str] = {
    "moved toward the range": later("Last time {before}: moved toward the range."),
    "moved away from the range": later("Last time {before}: moved away from the range."),
    "no change we can see": later("Last time {before}: no change we can see."),
    "changed": later("Last time {before}: changed."),
}


def of_finding(finding: Finding) -> str:
    """The sentences for one finding."""
    sentences = [
        say("{metric}: {judged}.", metric=finding.name, judged=_judged(finding)),
        say("The true value lies from {interval}, 19 times in 20.", interval=_between(finding)),
    ]
    if finding.change is not None:
        before = _amount(finding, finding.change.before)
        sentences.append(say(_SINCE_LAST[finding.change.says], before=before))
    return " ".join(sentences)


def of_series(series: Series) -> str:
    """The sentences for one metric over the lessons."""
    first, last = series.points[0], series.points[-1]
    today = f"{_amount(series, last.value)}, {_against(series, last.verdict)}"
    if len(series.points) == 1:
        opening = say("{metric}, one lesson on {day}: {now}.", metric=series.name, day=full_day(last.date), now=today)
    elif first.date == last.date:
        opening = say(
            "{metric}, {lessons} lessons on {day}: first {first}, now {now}.",
            metric=series.name,
            lessons=len(series.points),
            day=full_day(last.date),
            first=_amount(series, first.value),
            now=today,
        )
    else:
        opening = say(
            "{metric}, {lessons} lessons from {start} to {end}: first {first}, now {now}.",
            metric=series.name,
            lessons=len(series.points),
            start=full_day(first.date),
            end=full_day(last.date),
            first=_amount(series, first.value),
            now=today,
        )
    return f"{opening} {series.says}".strip()


def of_plans(plans: list[tuple[str, list[tuple[str, Finding]]]]) -> str:
    """The sentences for the view from above: each moment with its lines."""
    said = [
        say("{metric}: {judged}.", metric=say(title), judged=apart(f"{say(name)} {_judged(f)}" for name, f in lines))
        for title, lines in plans
    ]
    return " ".join([say("Seen from above, the target to the right."), *said])


def short_amount(of: Finding | Series, value: float, size: float, room: float) -> str:
    """A value beside its mark: `62° open`; a signed number where that, semibold in `size`, needs more than `room`."""
    said = _amount(of, value)
    return said if text_width(said, size, "semibold") <= room else amount(value, of.unit, of.decimals)


def limits_of(of: Finding | Series) -> list[float]:
    """The limits that the band has, lowest first; none without a band."""
    return [] if of.band is None else [limit for limit in (of.band.low, of.band.high) if limit is not None]


def limit_label(of: Finding | Series, limit: float, beside: float) -> str:
    """A limit of the range: a bare number, or with its word where `beside`, the value it is read with, has another."""
    shown = number(limit, of.decimals)
    if (point := decimal_sign()) in shown:
        shown = shown.rstrip("0").rstrip(point)
    degrees = "°" if of.unit == "deg" else ""
    if of.sign is None or not shown.strip(f"{MINUS}0.,٫"):
        return shown + degrees
    if (limit > 0) == (beside > 0):
        return shown.lstrip(MINUS) + degrees
    word = of.sign.plus if limit > 0 else of.sign.minus
    return f"{shown.lstrip(MINUS)}{degrees} {word}" if len(word) <= 8 else shown + degrees


def date_labels(series: Series) -> list[str]:
    """The date of each point, with its year where the lessons run over more than one."""
    years = {point.date.year for point in series.points}
    return [short_day(p.date) + (f" {p.date.year}" if len(years) > 1 else "") for p in series.points]


def _amount(of: Finding | Series, value: float) -> str:
    return amount(value, of.unit, of.decimals, of.sign)


def _judged(finding: Finding) -> str:
    return f"{_amount(finding, finding.value)}, {_against(finding, finding.verdict)}"


def _against(of: Finding | Series, verdict: Verdict) -> str:
    if of.band is None or not limits_of(of):
        return say("no range to compare with")
    span = limits(of.band.low, of.band.high, of.unit, of.decimals, of.sign)
    if of.band.context or verdict == "no range":
        return say("not judged, for comparison {range}", range=span)
    return say(_HELD_AGAINST[verdict], range=span)


def _between(finding: Finding) -> str:
    return limits(*finding.interval, finding.unit, finding.decimals, finding.sign)
