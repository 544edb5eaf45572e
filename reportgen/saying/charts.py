"""What a chart says, in sentences and in short labels."""

from collections.abc import Sequence
from datetime import date

from reportgen.languages.conventions import decimal_sign
from reportgen.languages.speaking import later, say
from reportgen.records.content import SignWords
from reportgen.records.told import ToldFinding, ToldSeries
from reportgen.records.told_shots import ToldCount
from reportgen.records.words import Verdict
from reportgen.saying.wording import MINUS, amount, apart, day, full_day, limits, number, short_day

_HELD_AGAINST: dict[Verdict, str] = {
    "in range": later("in your range of {range}"),
    "above range": later("above your range of {range}"),
    "below range": later("below your range of {range}"),
    "too close to call": later("too close to call against your range of {range}"),
}

_LIES: dict[Verdict, str] = {
    "in range": later("{metric}, which is in your range"),
    "above range": later("{metric}, which is above your range"),
    "below range": later("{metric}, which is below your range"),
    "too close to call": later("{metric}, which is too close to call"),
    "not judged": later("{metric}, which is not judged"),
}

_LABELS = frozenset(
    (
        later("At the top"), later("At impact"), later("hips"), later("shoulders"), later("target"),
        later("notes"), later("your range"), later("for comparison"), later("before"), later("now"),
        later("ball"), later("stick along the target line"), later("stick square to it"), later("phone, face-on"),
        later("phone, down-the-line"), later("4 m or more"),
    )
)  # fmt: skip


def label_of(word: str) -> str:
    """A short label of a chart. Raises ValueError for a word that is none."""
    if word not in _LABELS:
        raise ValueError(f"no label of a chart is {word}")
    return say(word)


def of_the_stand() -> str:
    """The sentences for the drawing of phones and sticks."""
    return say(
        "Seen from above: one stick lies along the target line at the player’s toes. The other lies square to "
        "it, from the first towards the ball line. One phone looks square at the player, the other along the "
        "target line."
    )


def of_finding(finding: ToldFinding) -> str:
    """The sentences for one finding."""
    sentences = [
        say("{metric}: {judged}.", metric=finding.name, judged=_judged(finding, finding.sign_beside)),
        say("The true value lies from {interval}, 19 times in 20.", interval=_between(finding)),
    ]
    if finding.level.lessons > 1:
        sentences.append(say("This time alone {value}.", value=_amount(finding, finding.value)))
    return " ".join(sentences)


def of_count(count: ToldCount) -> str:
    """The sentences for one count; the dates before it are told where they are drawn."""
    said = [say("{count}: {said}.", count=count.name, said=count.says)]
    said += [say("On {day} it was {made} of {of}.", day=day(one.on), made=one.made, of=one.of) for one in count.earlier]
    return " ".join(said)


def of_series(series: ToldSeries) -> str:
    """The sentences for one metric over the lessons."""
    first, last = series.points[0], series.points[-1]
    today = f"{_amount(series, last.level.value)}, {_against(series, last.verdict, series.sign_beside)}"
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


def of_series_with_notes(series: ToldSeries) -> str:
    """The sentences for one metric over the lessons, and how many of these have the instructor's notes."""
    noted = sum(point.noted for point in series.points)
    if not noted:
        return of_series(series)
    notes = say("Lessons with notes: {noted} of {lessons}.", noted=noted, lessons=len(series.points))
    return f"{of_series(series)} {notes}"


def of_chain(cause: ToldFinding, effects: Sequence[ToldFinding]) -> str:
    """The sentence for a cause and what can follow from it."""
    first, *ends = [say(_LIES[finding.verdict], metric=finding.name) for finding in (cause, *effects)]
    return say("{cause}, can lead to {effects}.", cause=first, effects=apart(ends))


def of_plans(plans: list[tuple[str, list[tuple[str, ToldFinding]]]]) -> str:
    """The sentences for the view from above: each moment with its lines."""
    said = [
        say(
            "{metric}: {judged}.",
            metric=label_of(title),
            judged=apart(f"{label_of(name)} {_judged(f, f.sign)}" for name, f in lines),
        )
        for title, lines in plans
    ]
    return " ".join([say("Seen from above, the target to the right."), *said])


def limits_of(of: ToldFinding | ToldSeries) -> list[float]:
    """The limits that the band has, lowest first; none without a band."""
    return [] if of.band is None else [limit for limit in (of.band.low, of.band.high) if limit is not None]


def limit_label(of: ToldFinding | ToldSeries, limit: float, beside: float) -> str:
    """A limit of the range: a bare number, or where `beside`, the value it is read with, lies on the other side of
    nought, with its word, or with its sign where the word is too long."""
    shown = number(limit, of.decimals)
    if (point := decimal_sign()) in shown:
        shown = shown.rstrip("0").rstrip(point)
    degrees = "°" if of.unit == "deg" else ""
    if of.sign_beside is None or not shown.strip(f"{MINUS}0.,٫"):
        return shown + degrees
    if (limit > 0) == (beside > 0):
        return shown.lstrip(MINUS) + degrees
    word = of.sign_beside.plus if limit > 0 else of.sign_beside.minus
    if len(word) <= 9:
        return f"{shown.lstrip(MINUS)}{degrees} {word}".rstrip()
    return f"{'+' if limit > 0 else ''}{shown}{degrees}"


def date_labels(series: ToldSeries) -> list[str]:
    """The date of each point, with its year where the lessons run over more than one."""
    return day_labels([point.date for point in series.points])


def day_labels(days: Sequence[date]) -> list[str]:
    """Each day, with its year where they run over more than one."""
    years = {day.year for day in days}
    return [short_day(day) + (f" {day.year}" if len(years) > 1 else "") for day in days]


def _amount(of: ToldFinding | ToldSeries, value: float) -> str:
    return amount(value, of.unit, of.decimals, of.sign_beside)


def _judged(finding: ToldFinding, sign: SignWords | None) -> str:
    value = amount(finding.level.value, finding.unit, finding.decimals, sign)
    return f"{value}, {_against(finding, finding.verdict, sign)}"


def _against(of: ToldFinding | ToldSeries, verdict: Verdict, sign: SignWords | None) -> str:
    if of.band is None or not limits_of(of):
        return say("no range to compare with")
    span = limits(of.band.low, of.band.high, of.unit, of.decimals, sign)
    if of.band.context or verdict == "not judged":
        return say("not judged, for comparison {range}", range=span)
    return say(_HELD_AGAINST[verdict], range=span)


def _between(finding: ToldFinding) -> str:
    return limits(*finding.level.interval, finding.unit, finding.decimals, finding.sign_beside)
