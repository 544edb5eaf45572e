"""The desk in the instructor's words."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from reportgen.languages.speaking import later, say, speaking
from reportgen.planning.desk import DeskEntry, OnDesk, WaitsFor, with_cautions
from reportgen.records.mailed import Mailed
from reportgen.records.report import DeskRemark
from reportgen.records.returning import next_step
from reportgen.records.taken_down import TakenDown
from reportgen.records.told import ToldCaution
from reportgen.saying.causes import ball_headline
from reportgen.saying.cautions import told_caution
from reportgen.saying.readers import Reader, library_for
from reportgen.saying.returning import step_name
from reportgen.saying.wording import day, dose_said, listed, slug_name, stage_name, verdict_name
from reportgen.sheets.library import Library

_WAITS_FOR: dict[WaitsFor, str] = {
    "guardian's mail": later("a guardian’s mail address"),
    "mail": later("a mail address"),
    "leave": later("permission to show pictures"),
}
_DOWN = {
    "gone": later("The pictures show {player}, who is no longer in the academy."),
    "not known": later("The student.yaml of {player} does not say clearly whether pictures may be shown."),
    "no leave": later("The permission of {player} to show pictures is not on file."),
    "taken back": later("The permission of {player} to show pictures was taken back."),
    "to come": later("The permission of {player} to show pictures is given on a day still to come."),
}


@dataclass(frozen=True)
class ToldEntry:
    """One student's line: what of the ball comes first, what they work on, or else which drills they have, with what
    only the instructor should know;
    why the pages were taken away; what is waited for."""

    id: str
    name: str
    page: str | None
    lessons: int
    stage: str | None
    last: date | None
    due: date | None
    overdue: int
    stopped: bool
    problems: int
    working_on: tuple[str, ...]
    down: str | None
    mailed: Mailed | None
    unsent: bool
    waits_for: tuple[str, ...]


@dataclass(frozen=True)
class ToldCautions:
    """The cautions of a student's latest lesson that are not said to everybody."""

    name: str
    on: date | None
    cautions: tuple[ToldCaution, ...]


def told_entries(entries: Iterable[DeskEntry], library: Library, reader: Reader) -> tuple[ToldEntry, ...]:
    """The lines of the desk, as the instructor reads them."""
    entries = tuple(entries)
    names = {entry.on_desk.id: entry.on_desk.name for entry in entries}
    with speaking(reader.language):
        return tuple(_entry(entry, names, library_for(reader, library)) for entry in entries)


def told_cautions(students: Iterable[OnDesk], library: Library, reader: Reader) -> tuple[ToldCautions, ...]:
    """The cautions of those who have some, stops first, as the instructor reads them."""
    theirs = library_for(reader, library)
    return tuple(
        ToldCautions(one.name, one.last, tuple(told_caution(caution, theirs) for caution in one.cautions))
        for one in with_cautions(students)
    )


def _entry(entry: DeskEntry, names: Mapping[str, str], library: Library) -> ToldEntry:
    one = entry.on_desk
    return ToldEntry(
        id=one.id,
        name=one.name,
        page=entry.page,
        lessons=one.lessons,
        stage=stage_name(entry.stage) if entry.stage else None,
        last=one.last,
        due=entry.due,
        overdue=entry.overdue,
        stopped=one.stopped,
        problems=one.problems,
        working_on=_working_on(one, library),
        down=_why_down(entry.down, names) if entry.down else None,
        mailed=entry.mailed,
        unsent=entry.unsent,
        waits_for=tuple(say(_WAITS_FOR[what]) for what in entry.waits_for),
    )


def _working_on(one: OnDesk, library: Library) -> tuple[str, ...]:
    chosen = [ball_headline(one.ball_first, one.curves)] if one.ball_first else []
    for priority in one.priorities:
        metric = library.metrics[priority.metric]
        side = {"below": metric.below, "above": metric.above, None: None}[priority.direction]
        chosen.append(side.work_on if side else metric.name)
    chosen = chosen or [library.drills[drill].title for drill in one.drills]
    return (*chosen, *(_remark(remark, library) for remark in one.remarks))


def _remark(remark: DeskRemark, library: Library) -> str:
    if remark.code == "other priorities":
        if not remark.metrics:
            return say("By the numbers there would be no priority: nothing is clearly out of range.")
        said = listed([f"{library.metrics[of.metric].short} ({verdict_name(of.verdict)})" for of in remark.metrics])
        return say("By the numbers the priorities would be {priorities}.", priorities=said)
    if remark.code == "set aside":
        said = listed([f"{library.metrics[of.metric].short} ({verdict_name(of.verdict)})" for of in remark.metrics])
        return say("Set aside by the sheet, and so no task: {metrics}.", metrics=said)
    if remark.code == "goal over":
        return say("The day of the goal has passed, so no page shows it. Write the next one into student.yaml.")
    if remark.code == "not asked" and remark.since:
        return say(
            "Not asked since {day}: {places}. What it held stays held until you write how it feels now.",
            day=day(remark.since),
            places=listed([slug_name(site) for site in remark.sites]),
        )
    if remark.code == "rest without a score" and remark.since:
        return say(
            "The log has a day of rest with a note ({day}). If something was sore, add comfort: with a score.",
            day=day(remark.since),
        )
    if remark.code == "returning" and remark.step and remark.since:
        return say(
            "Cleared on {day}, back in steps: {step}. If it went well, write return_step: {next} into the next sheet.",
            day=day(remark.since),
            step=step_name(remark.step, library),
            next=next_step(remark.step),
        )
    if remark.drill is None or remark.dose is None or remark.cut_to is None:
        raise ValueError(f"a remark on a {remark.code} names the drill and both doses")
    words = {
        "drill": library.drills[remark.drill].title,
        "dose": dose_said(remark.dose),
        "less": dose_said(remark.cut_to),
    }
    if remark.code == "no room":
        return say("{drill}: a day of this week has no room for {dose}. The page says {less}.", **words)
    if remark.code == "too fast":
        return say("{drill}: {dose} is too fast beside today’s cautions. The page says {less}.", **words)
    return say(
        "{drill}: {dose} is more than the {count} swings a day of this student. The page says {less}.",
        count=remark.swings_a_day,
        **words,
    )


def _why_down(down: TakenDown, names: Mapping[str, str]) -> str:
    whose = names.get(down.whose, down.whose)
    if down.why in _DOWN:
        return say(_DOWN[down.why], player=whose)
    return say("The pictures show {player}, and the two no longer share their pictures.", player=whose)
