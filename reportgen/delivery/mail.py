"""A judged lesson -> the mail about it: plain text and HTML with pictures inside, recap and calendar attached."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from email.errors import NonASCIILocalPartDefect
from email.message import EmailMessage
from email.parser import HeaderParser
from email.policy import SMTP, SMTPUTF8, strict
from typing import Any
from zoneinfo import ZoneInfo

from reportgen.delivery.headers import people_header, text_header
from reportgen.delivery.inline_charts import Inline
from reportgen.delivery.plain_text import flowed, wrapped
from reportgen.delivery.recipients import NoRecipientError, Recipients, address, domain_of, one_line
from reportgen.errors import ReportgenError
from reportgen.pages.plain import plain
from reportgen.pages.theme import environment
from reportgen.records.academy import Academy
from reportgen.records.told import ToldLesson
from reportgen.sheets.academy_folder import Home

LARGEST = 5_000_000
"""Bytes that a mail may have; many mailboxes take no more than 10 MB."""


class MailError(ReportgenError):
    """The mail cannot be made; the message says why."""


@dataclass(frozen=True)
class Words:
    """The academy that writes, and its theme's templates for mails, each to be filled with the values of one."""

    academy: Academy
    subject: Callable[[dict[str, Any]], str]
    plain: Callable[[dict[str, Any]], str]
    html: Callable[[dict[str, Any]], str]
    notice_subject: Callable[[dict[str, Any]], str]
    notice: Callable[[dict[str, Any]], str]


@dataclass(frozen=True)
class Enclosed:
    """What a mail about a lesson brings along: its recap, which is `locked` where a passphrase opens it, the pictures
    inside the text, and the practice week as a calendar."""

    pdf: bytes
    pictures: Mapping[str, Inline] = field(default_factory=dict)
    calendar: bytes | None = None
    locked: bool = False


@dataclass(frozen=True)
class Correction:
    """That a mail takes the place of the one with this Message-ID, and in one line what changed since."""

    message_id: str
    says: str | None


def words_of(home: Home) -> Words:
    """The words of the academy's theme."""
    pages = environment(home)
    pages.offer({"flowed": flowed})
    # Compiled templates are kept by their names, and some of these are compiled for pages too, where they escape.
    texts = pages.overlay(autoescape=False, bytecode_cache=None)
    return Words(
        home.academy,
        texts.get_template("mail-subject.txt").render,
        texts.get_template("mail.txt").render,
        pages.get_template("mail.html").render,
        texts.get_template("notice-subject.txt").render,
        texts.get_template("notice.txt").render,
    )


def sender_of(academy: Academy) -> str:
    """The instructor's address, from which mail comes and to which answers go. Raises MailError."""
    if academy.instructor.mail is None:
        raise MailError("The instructor has no address. Write instructor: {name: ..., mail: ...} into academy.yaml.")
    try:
        return address(academy.instructor.mail)
    except NoRecipientError as error:
        raise MailError(f"academy.yaml, instructor: {error}") from None


def message_id(revision: str, academy: Academy) -> str:
    """The name of the mail about a revision, the same each time it is made."""
    return f"<{revision[:40]}@{domain_of(sender_of(academy))}>"


def recap_mail(
    report: ToldLesson,
    words: Words,
    to: Recipients,
    enclosed: Enclosed,
    *,
    page: str | None = None,
    correction: Correction | None = None,
) -> EmailMessage:
    """The mail about one lesson; the same bytes each time.

    `page` is the address of the lesson's page. The last of the enclosed pictures are left out where the mail would grow
    past LARGEST. Raises MailError where it is too large even without pictures, or a name cannot be written into a
    header.
    """
    kept, corrects = dict(enclosed.pictures), correction.message_id if correction else None
    said = {"guardian": to.guardian, "page": page, "correction": correction and correction.says}
    while True:
        mail = _mail(report, words, to, replace(enclosed, pictures=kept), corrects, said)
        size = len(mail.as_bytes())
        if size <= LARGEST:
            break
        if not kept:
            raise MailError(
                f"the mail about {report.student}, {report.lesson}, has {size / 1e6:.1f} MB, more than 5 MB"
            )
        kept.popitem()
    _check_headers(mail, to)
    return mail


def notice_mail(
    report: ToldLesson,
    words: Words,
    to: Recipients,
    page: str,
    on: date,
    *,
    corrects: str | None = None,
) -> EmailMessage:
    """A mail on the day `on` that there is something to read at the address `page`, and nothing of what it is, whose it
    is or of which day; the same bytes each time that day.

    `corrects` is the Message-ID of an earlier one, where what there is to read has changed since. Raises MailError.
    """
    values = {"name": to.guardian or report.person.first_name, "page": page, "changed": corrects is not None}
    mail = _addressed(words.academy, to, words.notice_subject(values), on, report.revision, corrects)
    mail.set_content(wrapped(words.notice(values)), cte="quoted-printable")
    mail["Content-Language"] = report.language.replace("_", "-")
    _check_headers(mail, to)
    return mail


def _mail(
    report: ToldLesson,
    words: Words,
    to: Recipients,
    enclosed: Enclosed,
    corrects: str | None,
    said: Mapping[str, Any],
) -> EmailMessage:
    revision, sender = report.revision, sender_of(words.academy)
    pictures, calendar = enclosed.pictures, enclosed.calendar
    cids = {name: f"{name}.{revision[:12]}@{domain_of(sender)}" for name in pictures}
    shown = {name: {"alt": picture.alt, "width": picture.width} for name, picture in pictures.items()}
    inside = {"pictures": shown, "cids": cids, "calendar": calendar is not None, "locked": enclosed.locked}
    values = plain({"report": report, **inside, **said})
    mail = _addressed(words.academy, to, words.subject(values), report.date, revision, corrects)
    mail.set_content(wrapped(words.plain(values)), cte="quoted-printable")
    mail.add_alternative(words.html(values), subtype="html", cte="quoted-printable")
    page_part = mail.get_payload()[1]  # type: ignore[index]
    for name, picture in pictures.items():
        page_part.add_related(  # type: ignore[union-attr]
            picture.png, "image", "png", cid=f"<{cids[name]}>", disposition="inline", filename=f"{name}.png"
        )
    mail.add_attachment(enclosed.pdf, "application", "pdf", filename=f"recap-{report.lesson}.pdf")
    if calendar is not None:
        week = f"{'practice' if report.practice else 'next-lesson'}-{report.lesson}.ics"
        mail.add_attachment(calendar, "text", "calendar", filename=week, params={"charset": "utf-8"})
    mail["Content-Language"] = report.language.replace("_", "-")
    for number, part in enumerate(part for part in mail.walk() if part.is_multipart()):
        part.set_boundary(f"=_{revision[:24]}_{number}")  # "=_" stands in no body that is encoded for transport
    return mail


def _addressed(
    academy: Academy, to: Recipients, subject: str, on: date, revision: str, corrects: str | None
) -> EmailMessage:
    """A mail with its headers, dated noon of a day at the academy, and nothing in it yet."""
    sender, teacher = sender_of(academy), one_line(academy.instructor.name)
    mail = EmailMessage(policy=_policy(sender, *to.addresses))
    mail["From"] = people_header("From", [(f"{teacher}, {one_line(academy.name)}", sender)])
    mail["To"] = people_header("To", [(to.name, each) for each in to.addresses])
    mail["Reply-To"] = people_header("Reply-To", [(teacher, sender)])
    mail["Subject"] = text_header("Subject", one_line(subject))
    mail["Date"] = datetime.combine(on, time(12), ZoneInfo(academy.timezone))
    mail["Message-ID"] = message_id(revision, academy)
    if corrects is not None:
        mail["In-Reply-To"] = corrects
        mail["References"] = corrects
    return mail


def _policy(*addresses: str) -> Any:
    """Plain ASCII headers, and UTF-8 ones (RFC 6532) only where an address cannot be written otherwise."""
    return SMTP.clone(cte_type="7bit") if all(map(str.isascii, addresses)) else SMTPUTF8.clone(cte_type="7bit")


def _check_headers(mail: EmailMessage, to: Recipients) -> None:
    """Read the headers back as a mail server will: what they name must be exactly whom we mean."""
    read: Any = HeaderParser(policy=strict).parsestr(mail.as_bytes().decode())
    named = tuple(each.addr_spec for each in read["To"].addresses)
    defects = {type(defect) for name in read for defect in read[name].defects} - {NonASCIILocalPartDefect}
    if named != to.addresses or read.keys() != mail.keys() or defects:
        raise MailError(f"the name {to.name!r} cannot be written into a mail. Write it more simply.")
