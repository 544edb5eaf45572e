"""What was chosen -> letters: each mail is made when it is its turn."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from email.message import EmailMessage

from reportgen.delivery.choosing import Chosen
from reportgen.delivery.letter import Letter
from reportgen.delivery.mail import Correction, Enclosed, MailError, Words, notice_mail, recap_mail, sender_of, words_of
from reportgen.errors import MachineError, ReportgenError
from reportgen.failures import problem_of
from reportgen.languages.speaking import speaking
from reportgen.pages.calendar import week_calendar
from reportgen.records.academy import Academy, Student
from reportgen.records.mail import MailAs
from reportgen.records.report import LessonReport
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import reader_of
from reportgen.saying.telling import tell
from reportgen.sheets.academy_folder import SoundAcademy


@dataclass(frozen=True)
class Reading:
    """How students read what is published: the address of a lesson's page (from report and academy), that at which a
    student's pages begin (from id and academy), and `lock`, which encrypts a PDF for the student of an id and gives
    nothing where it is sent as it is."""

    page_of: Callable[[LessonReport, Academy], str | None] = lambda report, academy: None
    area_of: Callable[[str, Academy], str | None] = lambda student, academy: None
    lock: Callable[[str, bytes], bytes | None] = lambda student, pdf: None


def letters(
    queued: Iterable[tuple[Chosen, int]],
    students: Mapping[str, Student],
    home: SoundAcademy,
    on: date,
    reading: Reading,
    say: Callable[[str], None],
) -> Iterator[Letter]:
    """The mails with their numbers -> letters of the day `on` to the `students`, by id. One that cannot be made is told
    and left out."""
    words = words_of(home)
    for one, number in queued:
        report = one.report
        if not one.addresses:
            continue
        try:
            student = students[report.student]
            reader = reader_of(student, home)
            told = tell(report, home.library, reader)
            with speaking(reader.language):
                if goes_as(student, home.academy) == "notice":
                    mail = _notice(one, told, words, on, reading)
                else:
                    mail = _report(one, told, home, words, reading)
        except MachineError:
            raise
        except ReportgenError as error:
            say(f"left out {number} {report.student} {report.lesson}: {error}")
            continue
        except Exception as error:
            say(f"left out {number} {report.student} {report.lesson}: {problem_of(error, report.student, home)}")
            continue
        yield Letter(
            number,
            report.student,
            report.lesson,
            told.revision,
            sender_of(home.academy),
            one.addresses,
            mail.as_bytes(),
            utf8=bool(mail.policy.utf8),  # type: ignore[attr-defined]
        )


def goes_as(student: Student, academy: Academy) -> MailAs:
    """Whether a student's mails hold the report, or are notices: as student.yaml says, or academy.yaml."""
    return student.mail.as_ or academy.mail


def _notice(one: Chosen, report: ToldLesson, words: Words, on: date, reading: Reading) -> EmailMessage:
    area = reading.area_of(report.student, words.academy)
    if area is None:
        raise MailError("the notice has no address to give")
    corrects = one.corrects.message_id if one.corrects else None
    return notice_mail(report, words, one.to, area, on, corrects=corrects)


def _report(one: Chosen, report: ToldLesson, home: SoundAcademy, words: Words, reading: Reading) -> EmailMessage:
    from reportgen.delivery.inline_charts import inline_pictures
    from reportgen.pages.student_site import lesson_recap

    academy = home.academy
    recap = lesson_recap(report, home)
    locked = reading.lock(report.student, recap)
    enclosed = Enclosed(
        locked or recap, inline_pictures(report), week_calendar(report, academy), locked=locked is not None
    )
    correction = Correction(one.corrects.message_id, one.correction) if one.corrects else None
    return recap_mail(report, words, one.to, enclosed, page=reading.page_of(report, academy), correction=correction)
