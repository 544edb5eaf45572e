"""What could not be said, and what would make it possible, in words."""

from collections.abc import Sequence

from reportgen.languages.speaking import later, say
from reportgen.records.needs import Need
from reportgen.records.report import Missing
from reportgen.records.told import ToldMissing
from reportgen.records.words import Activity, Mark
from reportgen.saying.wording import day, listed, mid_sentence, moment_name, slug_name, view_name
from reportgen.sheets.library import Library


def told_missing(missing: Missing, library: Library) -> ToldMissing:
    """A gap in words; `library` is the reader's."""
    name = library.metrics[missing.metric].name if missing.metric else None
    return ToldMissing(**dict(missing), name=name, says=_says(missing, name, library))


def _says(missing: Missing, name: str | None, library: Library) -> str:
    if missing.kind == "left out":
        return _left_out(missing, library.drills[missing.drill or ""].title)
    needs = _needs(missing.needs)
    if missing.kind == "needs":
        return needs
    if missing.last is None:
        return say("Nothing was measured in this lesson.")
    lost = say("{metric}: not measured this time, last on {day}.", metric=name, day=day(missing.last))
    return f"{lost} {needs}".rstrip()


def _left_out(missing: Missing, title: str) -> str:
    sites = listed([slug_name(site) for site in missing.sites])
    if not missing.activities:
        return say("{drill} is left out for now: it works hard on your {sites}.", drill=title, sites=sites)
    whole: tuple[Activity, ...] = ("swings",) if "swings" in missing.activities else missing.activities
    why = [say(_DONE[activity]) for activity in whole]
    if sites:
        why.append(say("it works hard on your {sites}", sites=sites))
    return say("{drill} is left out for now: {why}.", drill=title, why=listed(why))


def _needs(needs: Sequence[Need]) -> str:
    if not needs:
        return ""
    if needs[0].what == "sound marks":
        return say("These marks do not fit together, so there is no value. Check them on every picture of this moment.")
    if needs[0].what == "one moment" and needs[0].checkpoint is not None:
        return say(
            "The two pictures ({checkpoint}) are not of one moment: the wrists are not equally high above the "
            "hips. Take both from the same moment of the videos, or mark wrists and hips again.",
            checkpoint=mid_sentence(moment_name(needs[0].checkpoint)),
        )
    if needs[0].what == "one camera":
        views = listed([view_name(need.view) for need in needs if need.view])
        parts = [
            say("{views} pictures of one swing and of one size, from a camera that stays where it is", views=views)
        ]
    else:
        parts = [_part(need) for need in needs]
    return say("Needs {parts}.", parts=listed(parts))


def _part(need: Need) -> str:
    if need.view is None or need.checkpoint is None:
        raise ValueError(f"{need.what} is of a view and a checkpoint")
    where = {"view": view_name(need.view), "checkpoint": mid_sentence(moment_name(need.checkpoint))}
    if need.what == "marks":
        return say("{marks} marked on the {view} picture ({checkpoint})", marks=_words(need.marks), **where)
    if need.what == "scale":
        return say("a scale on the {view} picture ({checkpoint})", **where)
    return say("a {view} picture ({checkpoint}) with {marks} marked", marks=_words(need.marks), **where)


def _words(marks: Sequence[Mark]) -> str:
    return listed([slug_name(mark) for mark in marks])


_DONE: dict[Activity, str] = {
    "balls": later("a ball is hit"),
    "ground": later("the club meets the ground"),
    "full-swings": later("your hands go higher than your hips"),
    "fast-swings": later("the swings are fast"),
    "driver": later("it takes the driver"),
    "swings": later("a club is swung"),
}
