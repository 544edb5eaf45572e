"""What a chart says, in sentences and in short labels."""

from reportgen.drawing.style import text_width
from reportgen.records.report import Finding, Series
from reportgen.records.wording import MINUS, amount, full_day, limits, number, short_day
from reportgen.records.words import Verdict

_HELD_AGAINST: dict[Verdict, str] = {
    "in range": "in your range of",
    "above range": "above your range of",
    "below range": "below your range of",
    "too close to call": "too close to call against your range of",
}


def of_finding(finding: Finding) -> str:
    """The sentences for one finding."""
    sentences = [
        f"{finding.name}: {_judged(finding)}.",
        f"The true value lies from {_between(finding)}, 19 times in 20.",
    ]
    if finding.change is not None:
        before = _amount(finding, finding.change.before)
        sentences.append(f"Last time {before}: {finding.change.says}.")
    return " ".join(sentences)


def of_series(series: Series) -> str:
    """The sentences for one metric over the lessons."""
    first, last = series.points[0], series.points[-1]
    today = f"{_amount(series, last.value)}, {_against(series, last.verdict)}"
    if len(series.points) == 1:
        opening = f"{series.name}, one lesson on {full_day(last.date)}: {today}."
    else:
        days = (
            f"from {full_day(first.date)} to {full_day(last.date)}"
            if first.date != last.date
            else f"on {full_day(last.date)}"
        )
        opening = (
            f"{series.name}, {len(series.points)} lessons {days}: first {_amount(series, first.value)}, now {today}."
        )
    return f"{opening} {series.says}".strip()


def of_plans(plans: list[tuple[str, list[tuple[str, Finding]]]]) -> str:
    """The sentences for the view from above: each moment with its lines."""
    said = [
        f"{title}: " + "; ".join(f"{name} {_judged(finding)}" for name, finding in lines) + "."
        for title, lines in plans
    ]
    return " ".join(["Seen from above, the target to the right.", *said])


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
    if "." in shown:
        shown = shown.rstrip("0").rstrip(".")
    degrees = "°" if of.unit == "deg" else ""
    if of.sign is None or float(shown.replace(MINUS, "-")) == 0:
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
        return "no range to compare with"
    span = limits(of.band.low, of.band.high, of.unit, of.decimals, of.sign)
    if of.band.context or verdict == "no range":
        return f"not judged, for comparison {span}"
    return f"{_HELD_AGAINST[verdict]} {span}"


def _between(finding: Finding) -> str:
    return limits(*finding.interval, finding.unit, finding.decimals, finding.sign)
