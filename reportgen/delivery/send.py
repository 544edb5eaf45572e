"""`reportgen send`: an academy -> mails that leave once, to the right person."""

import sqlite3
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from reportgen.delivery.changes import as_mailed
from reportgen.delivery.choosing import Answers, Chosen, Held, Wanted, answered, choose
from reportgen.delivery.entry import Entry
from reportgen.delivery.journal import open_journal, read_entries
from reportgen.delivery.letter import Letter
from reportgen.delivery.mail import message_id, sender_of
from reportgen.delivery.making import Reading, letters
from reportgen.delivery.rows import MailToSend, entries, let_go, put, queue, take_out
from reportgen.delivery.sending import Became, ByServer, Tell, send_all, write_all
from reportgen.errors import ReportgenError
from reportgen.failures import problem_of
from reportgen.pipeline import reports_of
from reportgen.records.academy import Academy, Student
from reportgen.records.as_mailed import AsMailed
from reportgen.records.report import LessonReport, revision_of
from reportgen.saying.mail import what_changed
from reportgen.saying.readers import reader_of
from reportgen.sheets.academy_folder import AcademyFolder, sound

NOWHERE = Reading()
"""Nothing is published, or nobody knows where."""
Ask = Callable[[Entry], str]
"""Called with a mail that may have arrived; says `resend`, `arrived`, or anything else to leave it open."""


_WORDS: dict[Became, str] = {
    "sent": "sent",
    "written": "written into the outbox",
    "partly": "sent to some of those who should get it",
    "failed": "refused",
    "unknown": "in doubt",
    "queued": "left for the next run",
}


@dataclass(frozen=True)
class Person:
    """Who sends: is asked about mails that may have arrived, and told in lines what becomes of each."""

    ask: Ask = lambda doubt: "later"
    tell: Tell = lambda line: None


NOBODY = Person()


@dataclass(frozen=True)
class Outcome:
    """How many mails became what, and which were not sent and why."""

    became: Counter[Became]
    held: tuple[Held, ...]

    @property
    def says(self) -> str:
        """`2 sent, 1 refused.`"""
        said = [f"{count} {_WORDS[name]}" for name, count in self.became.items() if count]
        return f"{', '.join(said)}." if said else "Nothing to send."

    @property
    def well(self) -> bool:
        """All went that was to go."""
        return not self.held and not any(self.became[name] for name in ("partly", "failed", "unknown", "queued"))


def would_send(
    folder: AcademyFolder, journal_file: Path, wanted: Wanted
) -> tuple[tuple[Chosen, ...], tuple[Held, ...]]:
    """What `send_mails` would send and hold back; nothing is written. Raises ReportgenError."""
    return _chosen(folder, answered(read_entries(journal_file), wanted.answers, datetime.now(UTC)), wanted)


def would_be_sent(
    folder: AcademyFolder, journal_file: Path, wanted: Wanted, reading: Reading, tell: Tell
) -> Iterator[Letter]:
    """The letters that `send_mails` would send, without a number; nothing is written. `tell` is called with a line for
    each that cannot be made. Raises ReportgenError."""
    chosen, _ = would_send(folder, journal_file, wanted)
    return letters(((one, 0) for one in chosen), _students(folder), sound(folder), wanted.on, reading, tell)


def send_mails(
    folder: AcademyFolder,
    journal_file: Path,
    to: ByServer | Path,
    wanted: Wanted,
    *,
    reading: Reading = NOWHERE,
    person: Person = NOBODY,
) -> Outcome:
    """Send what is wanted to a mail server, or write it into the folder `to`; each lesson once for each revision.

    Raises ReportgenError where nothing can be sent at all, OSError where the outbox cannot be written; what was not
    sent then is sent by the next run.
    """
    home, tell = sound(folder), person.tell
    sender_of(home.academy)
    _outside(journal_file, folder, "--journal")
    if isinstance(to, Path):
        _outside(to, folder, "--to-outbox")
    with open_journal(journal_file) as journal:
        let_go(journal, wanted.on, home.academy.keep_days)
        known = _after_answers(journal, folder, wanted, person)
        chosen, held = _chosen(folder, known, wanted)
        if not isinstance(to, Path):
            for entry in _in_the_outbox(known, folder, wanted):
                about = f"{entry.id} {entry.student} {entry.lesson}"
                tell(f"in the outbox already {about}. To send it by the server too, use --resend {entry.id}")
        journal.execute("BEGIN")
        with journal:
            queued = [(one, _queued(one, home.academy, journal)) for one in chosen]
        made = letters(queued, _students(folder), home, wanted.on, reading, tell)
        if isinstance(to, Path):
            became = write_all(made, to, journal, tell)
        else:
            became = send_all(made, to.server, journal, to.pace, tell)
        became["queued"] = sum(entry.state == "queued" for entry in entries(journal))
    return Outcome(became, held)


def _after_answers(
    journal: sqlite3.Connection, folder: AcademyFolder, wanted: Wanted, person: Person
) -> tuple[Entry, ...]:
    """The mails as they stand after what a person says of those in doubt, which the journal keeps."""
    before, given = entries(journal), wanted.answers
    for entry in before:
        if entry.state == "damaged" and entry.id not in given.resend | given.arrived:
            person.tell(f"damaged {entry.id}: the journal's line about this mail cannot be trusted")
    doubts = [e for e in before if e.state == "unknown" and wanted.student in (None, e.student)]
    said = {entry.id: person.ask(entry) for entry in doubts if entry.id not in given.resend | given.arrived}
    answers = Answers(
        given.resend | {number for number, word in said.items() if word == "resend"},
        given.arrived | {number for number, word in said.items() if word == "arrived"},
    )
    lessons = _lessons(folder)
    for entry in before:
        if entry.state == "damaged" and entry.id in answers.arrived and (entry.student, entry.lesson) not in lessons:
            raise ReportgenError(
                f"The journal's line about mail {entry.id} no longer says which lesson it was about. Use --resend "
                f"{entry.id} when you know who has what, or put back a copy of the journal."
            )
    after = answered(before, answers, datetime.now(UTC))
    for gone in {entry.id for entry in before} - {entry.id for entry in after}:
        take_out(journal, gone)
    for entry in after:
        if entry.id in answers.resend | answers.arrived:
            put(journal, entry)
    return after


def _in_the_outbox(known: Sequence[Entry], folder: AcademyFolder, wanted: Wanted) -> Iterator[Entry]:
    """The mails about what is wanted that were written into an outbox: they count as sent, and no server gets them."""
    for name, student in folder.students.items():
        if not student.lessons or wanted.student not in (None, name):
            continue
        since = str(wanted.since) if wanted.since else student.lessons[-1].name
        for entry in known:
            if entry.student == name and entry.lesson >= since and entry.state == "sent" and entry.via == "outbox":
                yield entry


def _students(folder: AcademyFolder) -> dict[str, Student]:
    return {name: one.student for name, one in folder.students.items() if one.student}


def _lessons(folder: AcademyFolder) -> set[tuple[str, str]]:
    """Every lesson that there is, by student and name."""
    return {(name, lesson.name) for name, student in folder.students.items() for lesson in student.lessons}


def _chosen(
    folder: AcademyFolder, known: Sequence[Entry], wanted: Wanted
) -> tuple[tuple[Chosen, ...], tuple[Held, ...]]:
    home = sound(folder)
    students = {
        name: student.student
        for name, student in sorted(folder.students.items())
        if student.student and not student.problems and student.lessons and wanted.student in (None, name)
    }
    reports, broken = {}, []
    for name in students:
        try:
            reports[name] = reports_of(folder.students[name], home, folder.students)
        except Exception as error:
            broken.append(Held(name, folder.students[name].lessons[-1].name, str(problem_of(error, name, home))))

    def changed(before: AsMailed | None, report: LessonReport) -> str | None:
        reader = reader_of(students[report.student], home)
        return what_changed(before, as_mailed(report), home.library, reader)

    chosen, held = choose(
        reports,
        students,
        known,
        wanted,
        changed=changed,
        lessons=_lessons(folder),
    )
    return chosen, (*broken, *held)


def _outside(place: Path, folder: AcademyFolder, option: str) -> None:
    if place.resolve().is_relative_to(folder.root.resolve()):
        raise ReportgenError(f"{place} lies in the academy, where nothing is ever written. Give another with {option}.")


def _queued(one: Chosen, academy: Academy, journal: sqlite3.Connection) -> int:
    report, revision = one.report, revision_of(one.report)
    mail = MailToSend(
        report.student,
        report.lesson,
        revision,
        message_id(revision, academy),
        one.addresses,
        facts=as_mailed(report),
        corrects=one.corrects.id if one.corrects else None,
        others=one.to.addresses,
    )
    return queue(journal, mail)
