"""How values, ranges, verdicts and dates read in a sentence: the one place that turns numbers into words."""

import re
from collections.abc import Iterable
from datetime import date, time
from functools import reduce

from reportgen.languages.conventions import decimal_sign, words_in_a_row, written_day, written_time
from reportgen.languages.speaking import language_now, later, say, say_as
from reportgen.records.amounts import Dose
from reportgen.records.content import Metric, SignWords
from reportgen.records.told import ToldSign
from reportgen.records.words import How, LessonKind, Moment, Stage, Verdict, View

MINUS = "−"
_CAPITAL_NOUNS = frozenset({"de", "lb"})
SHAPES: dict[Verdict, str] = {
    "in range": "●",
    "above range": "▲",
    "below range": "▼",
    "too close to call": "◇",
    "not judged": "·",
}
"""A verdict is never colour alone: this shape goes with its word."""

_MOMENTS: dict[Moment, str] = {
    "setup": later("Set-up"),
    "takeaway": later("Takeaway"),
    "top": later("Top"),
    "transition": later("Transition"),
    "delivery": later("Delivery"),
    "impact": later("Impact"),
    "finish": later("Finish"),
    "whole-swing": later("Whole swing"),
    "whole-stroke": later("Whole stroke"),
    "flight": later("Ball flight"),
}

_KINDS: dict[LessonKind, str] = {
    "short-game": later("Short game"),
    "putting": later("Putting"),
    "on-the-course": later("On the course"),
}

_VERDICTS: dict[Verdict, str] = {
    "in range": later("in range"),
    "above range": later("above range"),
    "below range": later("below range"),
    "too close to call": later("too close to call"),
    "not judged": later("not judged"),
}

_LIKELIHOODS: dict[str, str] = {
    "virtually certain": later("virtually certain"),
    "extremely likely": later("extremely likely"),
    "very likely": later("very likely"),
    "likely": later("likely"),
    "more likely than not": later("more likely than not"),
    "about as likely as not": later("about as likely as not"),
    "unlikely": later("unlikely"),
    "very unlikely": later("very unlikely"),
    "extremely unlikely": later("extremely unlikely"),
    "exceptionally unlikely": later("exceptionally unlikely"),
}

_VIEWS: dict[View, str] = {"face-on": later("face-on"), "down-the-line": later("down-the-line")}

_WAYS = {
    ("by-eye", 1): later("by eye"),
    ("by-eye", 2): later("by eye"),
    ("still", 1): later("from one picture"),
    ("still", 2): later("from two pictures"),
    ("sensor", 1): later("by a sensor"),
    ("sensor", 2): later("by a sensor"),
}


def moment_name(moment: Moment) -> str:
    """`Whole swing`."""
    return say(_MOMENTS[moment])


def kind_name(kind: LessonKind) -> str | None:
    """`Putting`; None for a lesson of the full swing, of which it need not be said."""
    return say(_KINDS[kind]) if kind in _KINDS else None


def verdict_name(verdict: Verdict) -> str:
    """`too close to call`."""
    return say(_VERDICTS[verdict])


def likelihood_name(likelihood: str) -> str:
    """`very likely`; the languages of the IPCC have their own official words for its scale."""
    return say(_LIKELIHOODS[likelihood])


def way_taken(how: How, views: int) -> str:
    """How a value was taken: `from two pictures`."""
    return say(_WAYS[how, views])


def view_name(view: View) -> str:
    """`down-the-line`, as it stands before a noun."""
    return say(_VIEWS[view])


def mid_sentence(text: str) -> str:
    """A text that begins with a capital as it goes on within a sentence; German keeps the capitals of its nouns."""
    return text if language_now().code in _CAPITAL_NOUNS else text[:1].lower() + text[1:]


def number(value: float, decimals: int) -> str:
    """`value` with that many decimals, a true minus sign, and never a negative zero."""
    text = f"{value:.{decimals}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", MINUS).replace(".", decimal_sign())


def decimals_apart(decimals: int, *values: float) -> int:
    """How many decimals numbers are shown with that stand against each other in one sentence: `decimals`, or as many
    more, at most three, as show no two of them alike that differ. What differs by less is alike to any reader."""
    differ = len({round(value, decimals + 3) for value in values})
    return next(d for d in range(decimals, decimals + 4) if len({number(value, d) for value in values}) >= differ)


def unit_mark(unit: str) -> str:
    """What stands behind a number: `°` without a space, other units after a no-break space, nothing for a ratio."""
    if unit == "deg":
        return "°"
    return "" if unit == "1" else f"\u00a0{unit_name(unit)}"


def unit_name(unit: str) -> str:
    """The sign of a unit of length, speed or mass; the imperial ones differ from language to language."""
    return say_as("unit", unit)


def amount(value: float, unit: str, decimals: int, sign: SignWords | None = None) -> str:
    """A value as it is said: `62° open`, `2.1 cm`, `−0.4 cm`. With sign words the number carries no sign."""
    shown = number(value, decimals)
    if sign is None:
        return shown + unit_mark(unit)
    word = sign.minus if shown.startswith(MINUS) else sign.plus
    text = shown.lstrip(MINUS) + unit_mark(unit)
    return text if not shown.strip(f"{MINUS}0.,٫") else f"{text} {word}".rstrip()


def sign_beside(metric: Metric) -> ToldSign | None:
    """The words of a metric's sign for a value beside its name, which says none of them twice: `Hips open: 57°`, and
    `Hips open: 5° closed`. A word stays unless both names have it."""
    if metric.sign is None:
        return None
    names = [" ".join(["", *re.findall(r"\w+", name.casefold()), ""]) for name in (metric.name, metric.short)]
    left = {side: "" if all(f" {word} ".casefold() in name for name in names) else word for side, word in metric.sign}
    return ToldSign(**left)


def limits(low: float | None, high: float | None, unit: str, decimals: int, sign: SignWords | None = None) -> str:
    """A range as it is said: `35° to 55° open`, `up to 4 cm`, `23° or more`, `at most 5° closed`."""
    if low is None and high is None:
        raise ValueError("a range has at least one limit")
    decimals = max(decimals_used(low, decimals), decimals_used(high, decimals))
    if low is None or high is None:
        return _one_sided(low, high, unit, decimals, sign)
    if sign is None:
        first = number(low, decimals) + ("°" if unit == "deg" else "")
        return say("{low} to {high}", low=first, high=amount(high, unit, decimals))
    same_side = (low >= 0) == (high >= 0)
    first = amount(low, unit, decimals, None if same_side else sign)
    if same_side:
        first = first.lstrip(MINUS).removesuffix("" if unit == "deg" else unit_mark(unit))
    return say("{low} to {high}", low=first, high=amount(high, unit, decimals, sign))


def _one_sided(low: float | None, high: float | None, unit: str, decimals: int, sign: SignWords | None) -> str:
    limit = (low if high is None else high) or 0.0
    said = amount(limit, unit, decimals, sign)
    if sign is not None and limit < 0:  # said with the minus word, more of it is further down
        return say("{limit} or more", limit=said) if low is None else say("at most {limit}", limit=said)
    return say("up to {limit}", limit=said) if low is None else say("{limit} or more", limit=said)


def decimals_used(limit: float | None, at_most: int) -> int:
    """The fewest decimals that show `limit` as it stands, so that 0 to 4 cm does not read 0.0 to 4.0 cm."""
    if limit is None:
        return 0
    return next((d for d in range(at_most) if round(limit, d) == round(limit, at_most)), at_most)


def size(value: float, unit: str, decimals: int) -> str:
    """The size of a change, without a sign: `17°`, `1.2 cm`."""
    return number(abs(value), decimals) + unit_mark(unit)


def day(of: date) -> str:
    """`5 March`."""
    return written_day(of, "MMMMd")


def full_day(of: date) -> str:
    """`5 March 2026`."""
    return written_day(of, "long")


def past_day(of: date, today: date) -> str:
    """`5 August` in the same year, `5 August 2025` in another."""
    return day(of) if of.year == today.year else full_day(of)


def weekday(of: date) -> str:
    """`Thursday`."""
    return written_day(of, "cccc")


def short_day(of: date) -> str:
    """`5 Mar`, for chart axes."""
    return written_day(of, "MMMd")


def clock_time(of: str) -> str:
    """`17:30`, as the language writes it."""
    return written_time(time.fromisoformat(of))


def listed(words: list[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return words_in_a_row(tuple(words))


def stage_name(stage: Stage) -> str:
    """The word for one person of this stage of life, never that for a group of them."""
    return {
        "junior": say_as("one person", "junior"),
        "adult": say_as("one person", "adult"),
        "senior": say_as("one person", "senior"),
    }[stage]


def needed_name(slug: str) -> str:
    """What a drill needs, as a reader fetches it: `a wall`. A thing of an academy's own is read with spaces."""
    return say(_NEEDED[slug]) if slug in _NEEDED else slug_name(slug)


def dose_said(dose: Dose) -> str:
    """`3 × 10 slow`, `5 min`."""
    if dose.minutes is not None:
        return say("{minutes} min", minutes=dose.minutes)
    swings = f"{dose.sets} × {dose.reps}"
    return swings if dose.pace is None else f"{swings} {say(_PACES[dose.pace])}"


def apart(parts: Iterable[str]) -> str:
    """`a; b; c`, with the space before the sign where the language has one."""
    return reduce(lambda before, after: say("{before}; {after}", before=before, after=after), parts)


def slug_name(slug: str) -> str:
    """A name of sheets as it is read: `low-back` as `low back`."""
    return say(slug.replace("-", " "))


def club_name(club: str) -> str:
    """`7-iron` as it is, `sand-wedge` as `sand wedge`, `no-club` as `no club`."""
    number, _, family = club.partition("-")
    numbered = f"{{number}}-{family}"
    return say(numbered, number=number) if numbered in _NUMBERED and number.isdigit() else slug_name(club)


_NEEDED: dict[str, str] = {
    "alignment-stick": later("an alignment stick"),
    "ball": later("a ball"),
    "chair": later("a chair"),
    "club": later("a club"),
    "coin": later("a coin"),
    "mirror": later("a mirror"),
    "paper": later("a sheet of paper"),
    "putter": later("a putter"),
    "tee": later("a tee"),
    "towel": later("a towel"),
    "two-scales": later("two bathroom scales"),
    "wall": later("a wall"),
}
_PACES = {"slow": later("slow"), "easy": later("easy"), "full": later("full")}
_NUMBERED = (later("{number}-iron"), later("{number}-wood"), later("{number}-hybrid"))
_NAMED = (
    later("driver"), later("putter"), later("no club"),
    later("pitching wedge"), later("gap wedge"), later("sand wedge"), later("lob wedge"),
)  # fmt: skip
