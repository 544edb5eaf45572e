"""Who gets which mail: the judged lessons against the journal. Nothing is made or sent here."""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from reportgen.delivery.entry import Entry
from reportgen.delivery.recipients import NoRecipientError, Recipients, recipients
from reportgen.errors import ReportgenError
from reportgen.records.academy import Student
from reportgen.records.as_mailed import AsMailed
from reportgen.records.report import LessonReport, revision_of


@dataclass(frozen=True)
class Chosen:
    """A mail to send to those of its recipients who have not got it, at their `addresses`; `corrects` is the one whose
    place it takes, `correction` what changed since. There are no addresses where who was waited for is no recipient any
    more: then nothing goes, and nobody is waited for."""

    report: LessonReport
    to: Recipients
    addresses: tuple[str, ...]
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


@dataclass(frozen=True)
class Wanted:
    """Which lessons: of all students or one; the latest of each, or all from the day `since` on; changed ones too. `on`
    is the day of sending."""

    on: date
    student: str | None = None
    since: date | None = None
    correction: bool = False
    answers: Answers = field(default_factory=Answers)


def answered(entries: Sequence[Entry], answers: Answers, at: datetime) -> tuple[Entry, ...]:
    """The mails as they stand after a person's answers; one whose row is damaged and that is to be sent again is gone.
    Raises ReportgenError for a number that is none, or that cannot be answered so."""
    numbers = {entry.id: entry for entry in entries}
    for number in sorted(answers.resend | answers.arrived):
        if number not in numbers:
            raise ReportgenError(f"There is no mail {number} in the journal. Look at what --dry-run lists.")
        if number in answers.arrived and numbers[number].state not in ("unknown", "sending", "damaged"):
            raise ReportgenError(f"Mail {number} is {numbers[number].state}, so there is no doubt about it.")
    left = (e for e in entries if e.state != "damaged" or e.id not in answers.resend)
    return tuple(
        entry.again(at) if entry.id in answers.resend else entry.arrived(at) if entry.id in answers.arrived else entry
        for entry in left
    )


Changed = Callable[[AsMailed | None, LessonReport], str | None]
"""What a reader sees to be different since a mail, in one line; None where nothing is."""


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
    wanted: Wanted,
    *,
    changed: Changed,
    lessons: Container[tuple[str, str]] = (),
) -> tuple[tuple[Chosen, ...], tuple[Held, ...]]:
    """What to send of what is `wanted`, and what not. `reports` holds all judged lessons of each student, oldest first;
    a lesson whose mail was sent and that has not changed since, as `changed` tells it, is in neither. `lessons` are all
    there are, of students who are not asked about too."""
    found: list[Chosen | Held] = []
    damaged = [entry for entry in entries if entry.state == "damaged"]
    sound: dict[str, list[Entry]] = {}
    for entry in entries:
        if entry.state != "damaged":
            sound.setdefault(entry.student, []).append(entry)
    for name, judged in reports.items():
        own = sound.get(name, [])
        queued = [entry.lesson for entry in own if entry.state == "queued"]
        for report in wanted_lessons(judged, queued, wanted.since):
            about = [entry for entry in own if entry.lesson == report.lesson]
            in_doubt = [entry for entry in damaged if _may_be_about(report, entry, lessons)]
            try:
                to = recipients(students[name], name, wanted.on)
            except NoRecipientError as error:
                found.append(Held(name, report.lesson, str(error)))
            else:
                found += _decided(report, to, about, in_doubt, changed, correction=wanted.correction)
    return tuple(f for f in found if isinstance(f, Chosen)), tuple(f for f in found if isinstance(f, Held))


def _may_be_about(report: LessonReport, damaged: Entry, lessons: Container[tuple[str, str]]) -> bool:
    """Whether a damaged row may speak of a lesson: where it names one of the `lessons` that there are, of that alone;
    otherwise nobody knows."""
    named = (damaged.student, damaged.lesson)
    return named == (report.student, report.lesson) or named not in lessons


def _decided(
    report: LessonReport,
    to: Recipients,
    about: Sequence[Entry],
    in_doubt: Sequence[Entry],
    changed: Changed,
    *,
    correction: bool,
) -> Iterator[Chosen | Held]:
    """The one decision about a lesson, from the mails `about` it so far; nothing where all is done. A lesson that no
    mail is known of is held while a damaged row may speak of it."""

    def held(says: str) -> Held:
        return Held(report.student, report.lesson, says)

    revision = revision_of(report)
    same = next((entry for entry in about if entry.revision == revision), None)
    earlier = [e for e in about if e.revision != revision and e.reached]
    if same is None and earlier:
        line = changed(earlier[-1].facts, report)
        if line is None:
            return
        if not correction:
            yield held(f"it changed after its mail went. To send it again, use --correction. What changed: {line}")
        elif in_doubt:
            yield held(_damaged(in_doubt[0]))
        else:
            yield Chosen(report, to, to.addresses, earlier[-1], line)
    elif same is None and in_doubt:
        yield held(_damaged(in_doubt[0]))
    elif same is None:
        yield Chosen(report, to, to.addresses)
    elif same.state == "queued":
        before = next((e for e in about if e.id == same.corrects), None)
        waiting = same.with_each("queued")
        left = tuple(a for a in to.addresses if a in waiting or a not in same.addresses)
        yield Chosen(report, to, left, before, changed(before.facts, report) if before else None)
    elif same.state in ("unknown", "sending"):
        yield held(
            f"mail {same.id} may have arrived ({same.why or 'it is being sent'}). Ask, then use"
            f" --arrived {same.id} or --resend {same.id}."
        )
    elif same.missed or same.state == "failed":
        mended = tuple(address for address in to.addresses if address not in same.addresses) if same.addresses else ()
        if mended:
            yield Chosen(report, to, mended)
        elif same.missed.keys() & set(to.addresses) or same.state == "failed":
            what = "came back" if same.bounced else "was refused"
            yield held(f"mail {same.id} {what} ({same.why}). Mend the address, or use --resend {same.id}.")


def _damaged(entry: Entry) -> str:
    return (
        f"the journal's line about mail {entry.id} is damaged, and may be about this lesson. Ask whether it arrived,"
        f" then use --arrived {entry.id} or --resend {entry.id}."
    )
