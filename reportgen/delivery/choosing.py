"""Who gets which mail: the judged lessons against the journal. Nothing is made or sent here."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from datetime import date

from reportgen.delivery.changes import what_changed
from reportgen.delivery.journal import Entry
from reportgen.delivery.mail import revision_of
from reportgen.delivery.recipients import NoRecipientError, Recipients, recipients
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import say
from reportgen.records.academy import Student
from reportgen.records.report import LessonReport


@dataclass(frozen=True)
class Chosen:
    """A mail to send; `corrects` is the one whose place it takes, `correction` what changed since."""

    report: LessonReport
    to: Recipients
    corrects: Entry | None = None
    correction: str | None = None


@dataclass(frozen=True)
class Held:
    """A mail that is not sent, why, and how to mend it."""

    student: str
    lesson: str
    says: str


@dataclass(frozen=True)
class Answers:
    """What a person says of mails, by their numbers: to be sent again, or arrived."""

    resend: frozenset[int] = frozenset()
    arrived: frozenset[int] = frozenset()


def answered(entries: Sequence[Entry], answers: Answers) -> tuple[Entry, ...]:
    """The mails as they stand after a person's answers. Raises ReportgenError for a number that is none, or that cannot
    be answered so."""
    numbers = {entry.id: entry for entry in entries}
    for number in sorted(answers.resend | answers.arrived):
        if number not in numbers:
            raise ReportgenError(f"There is no mail {number} in the journal. Look at what --dry-run lists.")
        if number in answers.arrived and numbers[number].state not in ("unknown", "sending"):
            raise ReportgenError(f"Mail {number} is {numbers[number].state}, so there is no doubt about it.")
    return tuple(
        replace(entry, state="queued", bounces={})
        if entry.id in answers.resend
        else replace(entry, state="sent", says="said to have arrived")
        if entry.id in answers.arrived
        else entry
        for entry in entries
    )


Speak = Callable[[str], AbstractContextManager[None]]


def wanted_lessons(
    reports: Sequence[LessonReport], queued: Iterable[str], since: date | None
) -> tuple[LessonReport, ...]:
    """Of a student's lessons the latest, or all from the day `since` on, and those whose mails are still `queued`."""
    waiting = set(queued)
    return tuple(
        report
        for report in reports
        if report.lesson in waiting or (report is reports[-1] if since is None else report.date >= since)
    )


def choose(
    reports: Mapping[str, Sequence[LessonReport]],
    students: Mapping[str, Student],
    entries: Sequence[Entry],
    since: date | None = None,
    correction: bool = False,
    speak: Speak = lambda code: nullcontext(),
) -> tuple[tuple[Chosen, ...], tuple[Held, ...]]:
    """What to send and what not. `reports` holds all judged lessons of each student, oldest first; a lesson whose mail
    was sent and that has not changed since is in neither. Within `speak(code)` a report's language is spoken."""
    found: list[Chosen | Held] = []
    for name, judged in reports.items():
        own = [entry for entry in entries if entry.student == name]
        queued = [entry.lesson for entry in own if entry.state == "queued"]
        for report in wanted_lessons(judged, queued, since):
            about = [entry for entry in own if entry.lesson == report.lesson]
            try:
                to = recipients(students[name], report)
            except NoRecipientError as error:
                found.append(Held(name, report.lesson, str(error)))
            else:
                with speak(report.language):
                    found += _decided(report, to, about, correction)
    return tuple(f for f in found if isinstance(f, Chosen)), tuple(f for f in found if isinstance(f, Held))


def _decided(report: LessonReport, to: Recipients, about: Sequence[Entry], correction: bool) -> Iterator[Chosen | Held]:
    """The one decision about a lesson, from the mails `about` it so far; nothing where all is done."""

    def held(says: str) -> Held:
        return Held(report.student, report.lesson, says)

    revision = revision_of(report)
    same = next((entry for entry in about if entry.revision == revision), None)
    earlier = [e for e in about if e.revision != revision and e.state in ("sent", "unknown") and not e.bounced]
    if same is None and earlier:
        corrects = earlier[-1]
        changed = _since_then(corrects, report)
        if changed is None:
            return
        if correction:
            yield Chosen(report, to, corrects, changed)
        else:
            yield held(f"it changed after its mail went. To send it again, use --correction. What changed: {changed}")
    elif same is None or same.state == "queued":
        before = next((e for e in about if same and e.id == same.corrects), None)
        yield Chosen(report, to, before, _since_then(before, report) if before else None)
    elif same.state in ("unknown", "sending"):
        yield held(
            f"mail {same.id} may have arrived ({same.says or 'it is being sent'}). Ask, then use"
            f" --arrived {same.id} or --resend {same.id}."
        )
    elif same.state == "failed" or same.bounced:
        if same.addresses != to.addresses:
            yield Chosen(report, to)
        else:
            why = "; ".join(f"{address}: {says}" for address, says in same.bounces.items()) or same.says
            what = "came back" if same.bounced else "was refused"
            yield held(f"mail {same.id} {what} ({why}). Mend the address, or use --resend {same.id}.")


def _since_then(sent: Entry, now: LessonReport) -> str | None:
    """What changed since a mail; a general word where it was made from a report that this program cannot read."""
    try:
        before = LessonReport.model_validate_json(sent.report)
    except ValueError:
        return say("It was written anew.")
    return what_changed(before, now)
