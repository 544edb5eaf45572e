"""What the desk says of films: how they were taken, and how their clocks lie to each other."""

from collections.abc import Sequence
from typing import Any

from reportgen.desk.films import Film
from reportgen.films.pairs import OneClock
from reportgen.languages.speaking import say
from reportgen.records.films import Lag
from reportgen.records.words import View
from reportgen.saying.wording import number, view_name


def _view_of(view: View | None) -> dict[str, str] | None:
    """A view, with its name."""
    return None if view is None else {"id": view, "name": view_name(view)}


def rate_words(rate: float) -> str:
    """`120 pictures a second`, with the decimals that it has."""
    decimals = len(f"{rate:g}".partition(".")[2])
    return say("{rate} pictures a second", rate=number(rate, decimals))


def factor_words(factors: Sequence[float], played: float) -> list[list[Any]]:
    """By how much a film may be stretched, each with how it was taken then; it is `played` at so many a second."""
    return [[factor, rate_words(round(factor * played))] for factor in factors]


def clock_words(lag: Lag, clock: OneClock | None) -> dict[str, Any]:
    """How two films lie to each other: what is so, or what a person is asked with the answers that there are."""
    if clock is not None:
        told = {
            "sound": say("The sound of the hit in both tells it."),
            "pictures": say("The movement of the body in both tells it."),
            "hand": say("Your pictures of impact tell it."),
        }
        return {"says": f"{_later(clock.seconds)} {told[clock.by]}", "ways": []}
    offered: list[list[str]] = []
    if lag.by_sound is not None:
        offered.append(["sound", say("the sound of the hit ({ms} ms)", ms=_ms(lag.by_sound))])
    if lag.by_pictures is not None:
        offered.append(["pictures", say("the movement of the body ({ms} ms)", ms=_ms(lag.by_pictures))])
    asks = (
        say("Sound and pictures disagree about when each film began. Which is right?")
        if len(offered) > 1
        else say("Nothing tells when each film began. Choose impact in both films.")
    )
    return {"says": asks, "ways": [*offered, ["hand", say("my two pictures of impact")]]}


def _later(seconds: float) -> str:
    if _ms(seconds) == 0:
        return say("Both films began at the same time.")
    if seconds > 0:
        return say("The down-the-line film began {ms} ms after the face-on one.", ms=_ms(seconds))
    return say("The down-the-line film began {ms} ms before the face-on one.", ms=-_ms(seconds))


def _ms(seconds: float) -> int:
    return round(1000 * seconds)


def film_shown(film: Film) -> dict[str, Any]:
    """A film as a page lists it."""
    return {
        "number": film.number,
        "name": film.note.name,
        "view": _view_of(film.note.view),
        "done": film.progress.done,
        "reading": film.progress.running,
        "wrong": film.progress.wrong,
        "kept": film.note.kept,
    }
