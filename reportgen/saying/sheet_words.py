"""The words of a sheet as the desk shows them to choose from, in the language that is spoken."""

from collections.abc import Mapping
from typing import get_args

from reportgen.languages.speaking import later, say
from reportgen.records.units import UNITS
from reportgen.records.words import LESSON_KINDS, SITES, FeltWhen, How, PractisedKind
from reportgen.saying.wording import kind_name, slug_name, unit_mark, way_taken

_FELT: dict[FeltWhen, str] = {
    "before": later("before the lesson"),
    "during": later("during the lesson"),
    "after": later("after the lesson"),
    "next-morning": later("the next morning"),
}


def kinds() -> Mapping[str, str]:
    """What a lesson is about."""
    return {kind: kind_name(kind) or say("Full swing") for kind in LESSON_KINDS}


def ways() -> Mapping[str, str]:
    """How a value was taken."""
    return {how: way_taken(how, 1) for how in get_args(How)}


def units() -> Mapping[str, str]:
    """The units that a value can be in."""
    return {unit: unit_mark(unit).strip() or unit for unit in UNITS if unit}


def sites() -> Mapping[str, str]:
    """The places of the body."""
    return {site: slug_name(site) for site in SITES}


def felt() -> Mapping[str, str]:
    """When something hurt."""
    return {when: say(said) for when, said in _FELT.items()}


def practised() -> Mapping[str, str]:
    """Where somebody practised, or with what."""
    return {kind: slug_name(kind) for kind in get_args(PractisedKind)}
