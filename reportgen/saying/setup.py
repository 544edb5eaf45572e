"""What was observed at setup, in words: without a verdict, beside the last time."""

from collections.abc import Sequence

from reportgen.languages.speaking import say
from reportgen.records.setup import Observed, SetupFound, SetupKind
from reportgen.records.told import ToldSetup
from reportgen.records.units import convert
from reportgen.records.words import UnitSystem
from reportgen.saying.wording import amount, apart, club_name, day, mid_sentence
from reportgen.sheets.library import Library


def told_setup(found: SetupFound, lessons_club: str, library: Library, units: UnitSystem) -> ToldSetup:
    """An observation as its reader is told it; `library` is the reader's. The club is named where it is not the
    lesson's."""
    kind = library.setup[found.what]
    name = kind.name
    if found.club != lessons_club:
        name = say("{name}, {club}", name=name, club=club_name(found.club))
    last = None
    if found.before is not None and found.before_on is not None:
        last = say("last time, on {day}: {before}", day=day(found.before_on), before=_said(found.before, kind, units))
    return ToldSetup(
        **dict(found),
        name=name,
        says=_said(found, kind, units),
        means=kind.by_word[found.word].means if found.word else kind.explain,
        last=last,
    )


def setup_line(setup: Sequence[ToldSetup]) -> str | None:
    """All of it in one sentence, for outputs that have little room; None where nothing was observed."""
    if not setup:
        return None
    return say("At set-up: {observations}.", observations=apart(map(_in_a_row, setup)))


def _in_a_row(one: ToldSetup) -> str:
    """`grip strong (last time, on 5 March: neutral)`."""
    seen = say("{name} {observed}", name=mid_sentence(one.name), observed=one.says)
    return seen if one.last is None else say("{observed} ({last})", observed=seen, last=one.last)


def seen_shortly(one: ToldSetup) -> str:
    """`Grip: strong`."""
    return say("{name}: {observed}", name=one.name, observed=one.says)


def _said(observed: Observed, kind: SetupKind, units: UnitSystem) -> str:
    if observed.word is not None:
        return kind.by_word[observed.word].says
    value, decimals = observed.value or 0.0, kind.decimals
    unit: str = kind.unit or "1"
    if unit == "cm" and units == "imperial":
        value, unit, decimals = convert(value, "cm", "in"), "in", decimals + 1
    return amount(value, unit, decimals, kind.sign)
