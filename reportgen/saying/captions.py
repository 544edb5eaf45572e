"""What stands below a picture, what it shows for those who do not see it, and why it is not shown."""

from collections.abc import Sequence

from reportgen.languages.speaking import later, say
from reportgen.records.pictures import DrawnStill, Picture, Stroke, Withheld
from reportgen.records.report import Person
from reportgen.records.told import ToldPicture, ToldStill
from reportgen.records.told_swings import ToldStroke
from reportgen.records.units import convert
from reportgen.records.words import View
from reportgen.saying.wording import amount, day, mid_sentence, moment_name
from reportgen.sheets.library import Library

VIEWS: dict[View, str] = {"face-on": later("face-on"), "down-the-line": later("down the line")}

WITHHELD: dict[Withheld, str] = {
    "taken back": later("The permission to show pictures was taken back."),
    "no leave of a guardian": later(
        "Pictures of players under 18 are shown only with a guardian’s permission, and none is on file."
    ),
    "no leave": later("Pictures are shown only with your permission, and none is on file."),
    "no leave of another": later("The permission of the player in this picture is not on file."),
}


def told_picture(picture: Picture, person: Person, library: Library) -> ToldPicture:
    """A picture in words; `person` is whose lesson it is, `library` the reader's."""
    moment, view = moment_name(picture.checkpoint), say(VIEWS[picture.view])
    where = {"moment": mid_sentence(moment), "view": view}
    now = say("{player} at {moment}, seen {view}.", player=person.first_name, **where)
    when = say("On {day}", day=day(picture.beside_on)) if picture.beside_on else say("Learning alongside")
    words = {
        "still": picture.still and _still(picture.still, picture.still.caption or f"{moment}, {view}", now, library),
        "beside": picture.beside
        and _still(picture.beside, when, say("{when}: {moment}, seen {view}.", when=when, **where), library),
        "withheld_says": picture.withheld and say(WITHHELD[picture.withheld]),
    }
    return ToldPicture(**{**dict(picture), **words})


def _still(still: DrawnStill, caption: str, seen: str, library: Library) -> ToldStill:
    strokes = tuple(ToldStroke(**dict(stroke), says=stroke_value(stroke, library)) for stroke in still.strokes)
    alt = with_values(seen, [stroke.says for stroke in strokes if stroke.says])
    return ToldStill(**{**dict(still), "strokes": strokes, "caption": caption, "alt": alt})


def stroke_value(stroke: Stroke, library: Library) -> str | None:
    """The value that belongs to a line."""
    if stroke.metric is None or stroke.value is None or stroke.unit is None:
        return None
    metric = library.metrics[stroke.metric]
    return amount(convert(stroke.value, stroke.unit, metric.unit), metric.unit, metric.decimals, metric.sign)


def with_values(seen: str, values: Sequence[str]) -> str:
    """What a picture shows, and the values on it."""
    return f"{seen} " + say("Marked on it: {values}.", values=", ".join(values)) if values else seen
