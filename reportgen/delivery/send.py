"""`reportgen send`: an academy -> mails that leave once, to the right person."""

import sqlite3
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from reportgen.delivery.calendar import week_calendar
from reportgen.delivery.choosing import Answers, Chosen, Held, answered, choose
from reportgen.delivery.journal import Entry, entries, note, open_journal, queue, read_entries
from reportgen.delivery.letter import Letter
from reportgen.delivery.mail import message_id, recap_mail, revision_of, sender_of, words_of
from reportgen.delivery.sending import USUAL_PACE, Became, Pace, Tell, send_all, write_all
from reportgen.delivery.server import Server
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import speaking
from reportgen.pipeline import reports_of
from reportgen.records.academy import Academy
from reportgen.records.report import LessonReport
from reportgen.sheets.academy_folder import TOUCH_EVERYBODY, AcademyFolder
from reportgen.sheets.readers import reader_of, spoken

Lock = Callable[[str, bytes], bytes]
"""Called with a student's id and a PDF; gives the PDF as it is sent."""
PageOf = Callable[[LessonReport, Academy], str | None]
Ask = Callable[[Entry], str]
"""Called with a mail that may have arrived; says `resend`, `arrived`, or anything else to leave it open."""


_WORDS: dict[Became, str] = {
    "sent": "sent",
    "written": "written into the outbox",
    "failed": "refused",
    "unknown": "in doubt",
    "queued": "left for the next run",
}


@dataclass(frozen=True)
class Wanted:
    """Which lessons: of all students or one; the latest of each, or all from the day `since` on; changed ones too."""

    student: str | None = None
    since: date | None = None
    correction: bool = False
    answers: Answers = field(default_factory=Answers)


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
        return not self.held and not any(self.became[name] for name in ("failed", "unknown", "queued"))


def would_send(
    folder: AcademyFolder, journal_file: Path, wanted: Wanted
) -> tuple[tuple[Chosen, ...], tuple[Held, ...]]:
    """What `send_mails` would send and hold back; nothing is written. Raises ReportgenError."""
    return _chosen(folder, answered(read_entries(journal_file), wanted.answers), wanted)


def send_mails(
    folder: AcademyFolder,
    journal_file: Path,
    to: Server | Path,
    wanted: Wanted,
    *,
    pace: Pace = USUAL_PACE,
    page_of: PageOf = lambda report, academy: None,
    lock: Lock = lambda student, pdf: pdf,
    ask: Ask = lambda doubt: "later",
    tell: Tell = lambda line: None,
) -> Outcome:
    """Send what is wanted to a mail server, or write it into the folder `to`; each lesson once for each revision.

    `page_of` gives the address of a lesson's page. Raises ReportgenError where nothing can be sent at all, OSError
    where the outbox cannot be written; what was not sent then is sent by the next run.
    """
    academy = _sound(folder)
    sender_of(academy)
    _outside(journal_file, folder, "--journal")
    if isinstance(to, Path):
        _outside(to, folder, "--to-outbox")
    with open_journal(journal_file) as journal:
        before = entries(journal)
        doubts = [e for e in before if e.state == "unknown" and wanted.student in (None, e.student)]
        open_doubts = [e for e in doubts if e.id not in wanted.answers.resend | wanted.answers.arrived]
        said = {entry.id: ask(entry) for entry in open_doubts}
        answers = Answers(
            wanted.answers.resend | {number for number, word in said.items() if word == "resend"},
            wanted.answers.arrived | {number for number, word in said.items() if word == "arrived"},
        )
        after = answered(before, answers)
        for entry in after:
            if entry.id in answers.resend | answers.arrived:
                note(journal, entry.id, entry.state, says=entry.says)
        chosen, held = _chosen(folder, after, wanted)
        journal.execute("BEGIN")
        with journal:
            queued = [(one, _queued(one, academy, journal)) for one in chosen]
        letters = _letters(queued, folder, academy, page_of, lock, tell)
        if isinstance(to, Path):
            became = write_all(letters, to, journal, tell)
        else:
            became = send_all(letters, to, journal, pace, tell)
        became["queued"] = sum(entry.state == "queued" for entry in entries(journal))
    return Outcome(became, held)


def _chosen(
    folder: AcademyFolder, known: Sequence[Entry], wanted: Wanted
) -> tuple[tuple[Chosen, ...], tuple[Held, ...]]:
    academy = _sound(folder)
    students = {
        name: student.student
        for name, student in folder.students.items()
        if student.student and not student.problems and student.lessons and wanted.student in (None, name)
    }
    reports = {
        name: reports_of(
            folder.students[name],
            academy,
            folder.library,
            folder.students,
            reader_of(student, academy, folder.root),
        )
        for name, student in sorted(students.items())
    }
    return choose(
        reports, students, known, wanted.since, wanted.correction, lambda code: speaking(spoken(code, folder.root))
    )


def _sound(folder: AcademyFolder) -> Academy:
    if folder.shared_problems or folder.academy is None:
        raise ReportgenError(TOUCH_EVERYBODY)
    return folder.academy


def _outside(place: Path, folder: AcademyFolder, option: str) -> None:
    if place.resolve().is_relative_to(folder.root.resolve()):
        raise ReportgenError(f"{place} lies in the academy, where nothing is ever written. Give another with {option}.")


def _queued(one: Chosen, academy: Academy, journal: sqlite3.Connection) -> int:
    report, revision = one.report, revision_of(one.report)
    return queue(
        journal,
        report.student,
        report.lesson,
        revision,
        message_id(revision, academy),
        one.to.addresses,
        report.model_dump_json(by_alias=True),
        one.corrects.id if one.corrects else None,
    )


def _letters(
    queued: Sequence[tuple[Chosen, int]],
    folder: AcademyFolder,
    academy: Academy,
    page_of: PageOf,
    lock: Lock,
    tell: Tell,
) -> Iterator[Letter]:
    """The mails, each made when it is its turn. One that cannot be made is told and left out."""
    from reportgen.delivery.pictures import inline_pictures
    from reportgen.pages.student_site import lesson_recap

    words = words_of(academy, folder.root)
    for one, number in queued:
        report = one.report
        try:
            with speaking(spoken(report.language, folder.root)):
                mail = recap_mail(
                    report,
                    academy,
                    words,
                    one.to,
                    lock(report.student, lesson_recap(report, academy, folder.root)),
                    inline_pictures(report),
                    calendar=week_calendar(report, academy),
                    page=page_of(report, academy),
                    correction=one.correction,
                    corrects=one.corrects.message_id if one.corrects else None,
                )
        except ReportgenError as error:
            tell(f"left out {number} {report.student} {report.lesson}: {error}")
            continue
        yield Letter(
            number,
            report.student,
            report.lesson,
            revision_of(report),
            sender_of(academy),
            one.to.addresses,
            mail.as_bytes(),
            utf8=bool(mail.policy.utf8),  # type: ignore[attr-defined]
        )
