"""Cautions as their rules say them, and where each stands in what a student is given."""

from collections.abc import Iterator, Sequence

from reportgen.languages.speaking import say
from reportgen.records.report import Caution
from reportgen.records.told import CautionPlace, ToldCaution
from reportgen.saying.wording import day
from reportgen.sheets.library import Library


def told_caution(caution: Caution, library: Library) -> ToldCaution:
    """The caution as its rule says it, with the day that raised it where it stands; `library` is the reader's."""
    rule = library.rules[caution.rule]
    text = rule.student
    if caution.raised_on and caution.level != "stop":
        since = say("This is from {day}. Tell your teacher how it feels now.", day=day(caution.raised_on))
        text = f"{text} {since}"
    words = {
        "text": text,
        "label": rule.label or text.partition(". ")[0],
        "about": caution.sites or rule.holds,
        "concern": rule.concern,
    }
    return ToldCaution(**dict(caution), **words, instructor=rule.instructor, source=rule.source)


def cautions_in_place(cautions: Sequence[Caution], library: Library, *, stopped: bool) -> tuple[ToldCaution, ...]:
    """The cautions of a lesson, each with its place; the gravest come first, as they are given.

    After a stop, what is for a doctor at once stands with it, and the others in full. Otherwise at most two stand in
    full before the drills: the gravest, and a second one that holds something back at another place.
    """
    told = [told_caution(caution, library) for caution in cautions]
    places = _after_a_stop(told) if stopped else _before_the_drills(told)
    return tuple(one.model_copy(update={"place": place}) for one, place in zip(told, places, strict=True))


def _after_a_stop(told: Sequence[ToldCaution]) -> Iterator[CautionPlace]:
    for one in told:
        if one.level == "stop" or one.concern == "emergency":
            yield "stop"
        else:
            yield "everybody" if one.usual else "full"


def _before_the_drills(told: Sequence[ToldCaution]) -> Iterator[CautionPlace]:
    today = [one for one in told if not one.usual]
    full = today[:1]
    full += [one for one in today[1:2] if one.level != "note" and (not one.about or one.about != full[0].about)]
    for one in told:
        if one.usual:
            yield "everybody"
        else:
            yield "full" if one in full else "folded"
